"""Reports for people: nothing that a caller wrote is markup, and no page asks for anything from outside."""

import json
import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from nailplate.catalog import Catalog, catalog
from nailplate.render import html, markdown
from nailplate.review import Report, check
from nailplate.wire import read_plan

EVIL = '<script>alert(1)</script> `x` [y](http://z) | "q"'


@pytest.fixture
def report() -> Report:
    circuit = {"label": EVIL, "breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}
    plan = {"plan_format": 1, "name": EVIL, "basis": {"edition": "2023", "jurisdiction": EVIL}, "circuits": {"c": circuit}}
    return check(read_plan(json.dumps(plan).encode()), catalog())


def test_html_escapes_what_a_caller_wrote_and_asks_for_nothing(report: Report) -> None:
    page = html(report)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"""(src|href|url\()\s*=?\s*["']?https?:""", page)


def test_markdown_escapes_what_a_caller_wrote(report: Report) -> None:
    text = markdown(report)
    assert "<script>" not in text
    assert "[y](http" not in text


@pytest.mark.parametrize("write", [markdown, html])
def test_a_report_says_figure_limit_section_and_what_was_not_checked(write: Callable[[Report], str]) -> None:
    circuit = {"breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}
    plan = {"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "circuits": {"c": circuit}}
    ours = catalog().packs[0]
    alone = Catalog((replace(ours, rules=tuple(each for each in ours.rules if each.id == "conductor-protection")),))
    text = write(check(read_plan(json.dumps(plan).encode()), alone))
    for words in (
        "measured 30 A, limit 15 A",
        "NEC 2023 240.4",
        "What was not checked",
        "the service or feeder and its load",
        "Cautions",
    ):
        assert words in text


# 314.16(B): three 12-2 cables and a receptacle, six conductors at 2.25, one allowance for grounds, two for the yoke.
@pytest.mark.parametrize(("volume", "outcome"), [("18 in3", "violation"), ("21 in3", "undetermined")])
@pytest.mark.parametrize("write", [markdown, html])
def test_the_count_behind_a_figure_is_written_line_by_line(write: Callable[[Report], str], volume: str, outcome: str) -> None:
    cable = {"size": "12 AWG", "insulated": 2, "grounding": "12 AWG", "circuit": "c", "ends": [{"box": "b"}, {"panel": "p"}]}
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "panels": {"p": {"kind": "subpanel"}},
        "circuits": {"c": {}},
        "boxes": {"b": {"volume": volume}},
        "devices": {"r": {"kind": "receptacle", "box": "b", "circuit": "c", "label": "Counter"}},
        "cables": {"x": cable, "y": cable, "z": cable},
    }
    report = check(read_plan(json.dumps(plan).encode()), catalog())
    [found] = [each for each in report.findings if each.rule == "box-volume"]
    assert found.outcome == outcome
    assert sum(line.subtotal.value for line in found.lines) == 20.25
    text = re.sub(r"\\|&#x27;|'", "", write(report))
    for words in (
        "2 × 2.25 in³ = 4.5 in³: conductors of y, 12 AWG, 314.16(B)(1)",
        "1 × 2.25 in³ = 2.25 in³: equipment grounding conductors, 12 AWG, 314.16(B)(5)",
        "2 × 2.25 in³ = 4.5 in³: yoke of Counter, 12 AWG, 314.16(B)(4)",
    ):
        assert words in text


def house(**more: object) -> Report:
    rooms = {
        "all": {"level": "main", "uses": ["living"], "label": EVIL},
        "loft": {"level": "up", "uses": ["loft_sleeping"], "label": "Sleeping loft"},
    }
    plan = {
        "plan_format": 1,
        "name": "house",
        "basis": {"edition": "2017", "regime": "dwelling", "floor_area": "1500 ft2"},
        "levels": {"main": {"kind": "storey"}, "up": {"kind": "loft"}},
        "rooms": rooms,
        "appliances": {
            "range": {"kind": "range", "power": "12 kW", "volts": 240, "fuel": "none"},
            "dryer": {"kind": "clothes_dryer", "power": "5.5 kW", "volts": 240, "fuel": "none", "label": EVIL},
        },
        **more,
    }
    return check(read_plan(json.dumps(plan).encode()), catalog())


# NEC Annex D, example D1(a): 18600 VA, 77.5 A, a neutral of 14550 VA and 60.6 A, a service of 100 A
@pytest.mark.parametrize("write", [markdown, html])
def test_the_load_summary_tells_figures_area_and_method(write: Callable[[Report], str]) -> None:
    text = re.sub(r"\\|&#x27;|'", "", write(house()))
    for words in (
        "By the standard method, the default here: 18600 VA, 77.5 A on each leg; neutral 14550 VA, 60.6 A; next standard service "
        "100 A.",
        "By the optional method, only for conductors of at least 100 A",
        "floor area 1500 ft², as the plan states it, for",
        "Sleeping loft (loft)",
        "before demand, general lighting and receptacles: 4500 VA",
        "cooking: 8000 VA, Table 220.55",
        "no rule for lofts",
    ):
        assert words in text
    assert not re.search(r"(?<!\\)<script", write(house()))
    assert "[y](http" not in markdown(house())


@pytest.mark.parametrize("write", [markdown, html])
def test_a_load_that_is_not_known_is_told_with_what_is_missing(write: Callable[[Report], str]) -> None:
    many = {f"heater{number}": {"kind": "water_heater", "fastened": True} for number in range(12)}
    text = write(house(appliances=many)).replace("\\", "")
    assert "The load was not worked out. Facts are missing." in text
    assert "would be settled by /appliances/heater0/fuel, /appliances/heater1/fuel" in text
    assert "and 2 more" in text


@pytest.mark.parametrize("write", [markdown, html])
def test_a_cord_is_told_leg_by_leg(write: Callable[[Report], str]) -> None:
    cord = {"kind": "cord_inlet", "voltage": "120/240", "rating": 50, "label": "Inlet"}
    circuit = {"panel": "p", "voltage": 120, "breaker": {"rating": 20}, "legs": ["A"], "purpose": "general"}
    report = house(
        basis={"edition": "2023", "regime": "park_trailer", "floor_area": "200 ft2"},
        supplies={"c": cord},
        panels={"p": {"kind": "load_center", "supply": "c", "label": "Panel"}},
        circuits={str(number): circuit for number in range(6)},
        appliances={},
    )
    text = write(report)
    for words in ("Inlet: leg A 2.5 A, leg B 2.5 A; 552.47 requires 50 A", "Panel: leg A 60 A, leg B 0 A"):
        assert words in text


BEDROOMS = {
    "plan_format": 1,
    "name": "p",
    "basis": {"edition": "2023", "regime": "park_trailer", "on_wheels": True},
    "boxes": {name: {"label": EVIL} for name in "abc"},
}


@pytest.mark.parametrize("write", [markdown, html])
def test_what_one_rule_cannot_decide_in_many_places_is_told_once(write: Callable[[Report], str]) -> None:
    report = check(read_plan(json.dumps(BEDROOMS).encode()), catalog())
    text = write(report)
    assert sum(each.rule == "box-accessible" for each in report.findings) == 3
    assert text.count("undetermined at 3 places: box-accessible") == 1
    assert not re.search(r"(?<!\\)<script", text)
    numbered = re.findall(r"(?:### |<h3>)(\d+)(?: to (\d+))?\.", text)
    counted = sum(int(last or first) - int(first) + 1 for first, last in numbered)
    assert counted == len(report.findings)


def two_runs(**breaker: object) -> Report:
    """Six kitchen receptacles, turn by turn on two circuits whose breakers give no protection from ground faults."""
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023", "regime": "dwelling"},
        "stage": "circuits",
        "levels": {"main": {"kind": "storey"}},
        "rooms": {"k": {"level": "main", "outline": [[0, 0], [144, 0], [144, 144], [0, 144]], "uses": ["kitchen"]}},
        "panels": {"p": {"kind": "service"}},
        "circuits": {
            name: {"panel": "p", "voltage": 120, "breaker": {"rating": 20, "poles": 1, "protects": "none", **breaker}}
            for name in "ab"
        },
        "devices": {
            f"r{number}": {
                "kind": "receptacle",
                "at": {"room": "k", "point": [12 * number + 12, 6], "height": 44},
                "circuit": "ab"[number % 2],
                "gfci": False,
                "fed_from": "circuit",
                "rating": 20,
                "voltage": 125,
                "contacts": 2,
            }
            for number in range(6)
        },
    }
    return check(read_plan(json.dumps(plan).encode()), catalog())


@pytest.mark.parametrize("write", [markdown, html])
def test_what_one_act_puts_right_in_several_places_is_told_once(write: Callable[[Report], str]) -> None:
    report = two_runs()
    found = [each for each in report.findings if each.rule == "gfci-locations"]
    text = write(report)
    assert [each.outcome for each in found] == ["violation"] * 6
    assert text.count("violation at 3 places: gfci-locations") == 2
    for each in found:
        assert each.remedies
        assert text.count(f"{each.where.pointer}`: " if write is markdown else f"<li>{each.where.pointer}: ") >= 1
    for circuit in ("&#x27;a&#x27;", "&#x27;b&#x27;") if write is html else ("'a'", "'b'"):
        assert text.count(f"Protect circuit {circuit} with a GFCI breaker") == 1
    numbered = re.findall(r"(?:### |<h3>)(\d+)(?: to (\d+))?\.", text)
    assert sum(int(last or first) - int(first) + 1 for first, last in numbered) == len(report.findings)


@pytest.mark.parametrize("write", [markdown, html])
def test_findings_that_no_one_act_puts_right_stand_alone(write: Callable[[Report], str]) -> None:
    text = write(two_runs(protects="gfci"))
    assert "gfci-locations" in text
    assert "violation at" not in text


@pytest.mark.parametrize("write", [markdown, html])
def test_facts_that_several_findings_wait_for_are_named_first(write: Callable[[Report], str]) -> None:
    text = write(check(read_plan(json.dumps(BEDROOMS).encode()), catalog())).replace("`", "")
    assert re.search(r"/boxes/a/at: \d+ findings wait for it", text)


@pytest.mark.parametrize("write", [markdown, html])
def test_silent_rules_and_rules_for_dwellings_are_named_once_and_in_words(write: Callable[[Report], str]) -> None:
    text = write(check(read_plan(json.dumps(BEDROOMS).encode()), catalog()))
    assert "checked as a park trailer" in text
    assert text.count("it speaks of dwelling units, and the plan says that this is a park trailer (NEC Article 552)") == 1
    assert "nothing is drawn that concerns these rules: " in text
    assert "park_trailer" not in text.replace("\\", "")


@pytest.mark.parametrize("write", [markdown, html])
def test_a_supply_of_one_leg_is_told_with_all_of_the_load_on_it(write: Callable[[Report], str]) -> None:
    inverter = {"kind": "inverter", "voltage": "120", "label": "Inverter"}
    report = house(
        supplies={"i": inverter}, appliances={}, basis={"edition": "2023", "regime": "dwelling", "floor_area": "320 ft2"}
    )
    # (320 x 3 + 4500 = 5460; 3000 + 0.35 x 2460 = 3861 VA) / 120 V
    assert "Inverter gives 120 V on one leg, which carries all of it: 32.2 A" in write(report)


@pytest.mark.parametrize(("rating", "verdict"), [(15, "suffices"), (6, "does not suffice")])
@pytest.mark.parametrize("write", [markdown, html])
def test_a_permanent_feeder_of_a_park_trailer_is_told_by_its_legs(
    write: Callable[[Report], str], rating: int, verdict: str
) -> None:
    circuit = {"panel": "p", "voltage": 120, "breaker": {"rating": 20}, "legs": ["A"], "purpose": "small_appliance"}
    text = write(
        house(
            basis={"edition": "2023", "regime": "park_trailer", "floor_area": "200 ft2"},
            supplies={"f": {"kind": "feeder", "voltage": "120/240", "rating": rating, "label": "Feeder"}},
            panels={"p": {"kind": "load_center", "supply": "f", "label": "Panel"}},
            circuits={str(number): circuit for number in range(2)},
            appliances={},
        )
    )
    # (200 x 3 + 3000 = 3600; 3000 + 0.35 x 600 = 3210 VA) / 240 V = 13.375 A
    assert "Feeder: leg A 13.4 A, leg B 13.4 A; 215.2(A) requires 15 A" in text
    assert f"the supply drawn {verdict}" in text
