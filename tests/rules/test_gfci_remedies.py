"""The device that a finding offers first covers every outlet of the circuit that lacks protection, and says what else it covers."""

from typing import Any

from houses import house as whole_house
from nailplate.rulekit import Remedy, Violation
from rules.judging import answers, loaded, packs, patched


def house(breaker: str = "none", joins: tuple[tuple[str, str], ...] = (), **devices: dict[str, Any]) -> dict[str, Any]:
    """Receptacles in boxes of their own id, all in a bath but ``den``; ``p`` is the panel."""
    rooms = {"bath": {"level": "main", "uses": ["bathroom"]}, "study": {"level": "main", "uses": ["den"]}}
    place = {name: {"room": "study" if name == "den" else "bath", "point": [10, 2], "height": 16} for name in devices}
    ends = [[{"panel": end} if end == "p" else {"box": end} for end in pair] for pair in joins]
    plain = {"kind": "receptacle", "circuit": "c", "rating": 20, "voltage": 125, "gfci": False}
    return {
        "plan_format": 1,
        "name": "run",
        "basis": {"edition": "2023"},
        "levels": {"main": {"kind": "storey"}},
        "rooms": rooms,
        "panels": {"p": {"kind": "service"}},
        "circuits": {"c": {"panel": "p", "voltage": 120, "breaker": {"rating": 20, "protects": breaker}}},
        "boxes": {name: {"at": place[name]} for name in devices},
        "devices": {name: {**plain, "box": name, **facts} for name, facts in devices.items()},
        "cables": {str(number): {"circuit": "c", "ends": both} for number, both in enumerate(ends)},
    }


def lacking(plan: dict[str, Any]) -> dict[str, Violation]:
    found = answers(packs().rules["gfci-locations"], loaded(plan))
    return {at.removeprefix("/devices/"): outcome for at, outcome in found if isinstance(outcome, Violation)}


def first(plan: dict[str, Any], device: str) -> Remedy:
    return lacking(plan)[device].remedies[0]


RUN = (("p", "one"), ("one", "two"), ("two", "three"))


def test_first_receptacle_of_a_run_as_a_gfci_covers_the_rest() -> None:
    plan = house("afci", RUN, one={}, two={}, three={})
    assert set(lacking(plan)) == {"one", "two", "three"}
    for device in ("one", "two", "three"):
        offered = first(plan, device)
        assert offered.words == "Make 'one' a GFCI receptacle and feed 'two' and 'three' from its LOAD side."
        assert lacking(patched(plan, offered.patch)) == {}


def test_receptacle_where_two_branches_part_covers_both_and_tells_what_else() -> None:
    plan = house("none", (("p", "den"), ("den", "one"), ("den", "two")), den={}, one={}, two={})
    offered = first(plan, "two")
    assert offered.words == "Make 'den' a GFCI receptacle and feed 'one' and 'two' from its LOAD side."
    assert lacking(patched(plan, offered.patch)) == {}
    on_the_way = house("none", (("p", "one"), ("one", "den"), ("den", "two")), one={}, den={}, two={})
    assert first(on_the_way, "two").words.endswith("What hangs on the same run is then covered too: 'den'.")


def test_branches_that_part_at_the_panel_want_a_breaker_first() -> None:
    plan = house("afci", (("p", "one"), ("p", "two")), one={}, two={})
    offered = first(plan, "one")
    assert offered.words == "Protect circuit 'c' with a dual-function (AFCI and GFCI) breaker. It would also cover 'two'."
    assert lacking(patched(plan, offered.patch)) == {}


def test_gfci_that_stands_on_the_way_already_is_used() -> None:
    plan = house("none", RUN, one={"gfci": True}, two={"fed_from": "circuit"}, three={"fed_from": "circuit"})
    offered = first(plan, "three")
    assert offered.words == "Feed 'two' and 'three' from the LOAD side of 'one', which is a GFCI."
    assert lacking(patched(plan, offered.patch)) == {}


def test_nobody_is_told_to_put_a_gfci_where_it_cannot_be_reached_or_on_a_shared_neutral() -> None:
    hidden = house("none", RUN, one={"readily_accessible": False}, two={}, three={})
    words = [each.words for each in lacking(hidden)["one"].remedies]
    assert not any("GFCI receptacle here" in each for each in words)
    shared = house("none", RUN, one={}, two={}, three={})
    shared["circuits"] |= {"d": {"multiwire": {"partner": "c"}}}
    shared["circuits"]["c"]["multiwire"] = {"partner": "d"}
    offered = lacking(shared)["three"].remedies
    assert offered[0].words.startswith("Protect circuit 'c' with a two-pole GFCI breaker.")
    assert not any("LOAD side" in each.words and each.patch for each in offered)


def test_bench_receptacle_of_the_family_house_goes_back_to_the_bay() -> None:
    plan = whole_house("tamarack-osprey")
    bench = plan["devices"]["bench-receptacle"]
    del bench["feed_through_source"]
    bench["fed_from"] = "circuit"
    offered = first(plan, "bench-receptacle")
    assert "from the LOAD side of 'Garage, vehicle bay', which is a GFCI" in offered.words
    assert lacking(patched(plan, offered.patch)) == {}
