"""What lies around a cable: conductors of its bundle by edition and reading, and the air along it."""

import json
from typing import Any

import pytest

from nailplate.codes import edition
from nailplate.survey import Survey
from nailplate.survey.wiring.cable_runs import HOTTEST_ATTIC, STANDARD_AMBIENT, Stretch, stretches
from nailplate.units import Celsius
from nailplate.wire import read_plan

ENDS = [{"panel": "p"}, {"panel": "q"}]
BUNDLE = {"how": "along_member", "bundle": "bay", "sealed": False, "insulation_contact": False, "bundled_length": 6}


def cable(segment: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    facts = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "circuit": "c", "ends": ENDS, **more}
    return {**facts, "route": [segment]} if segment else facts


def first(*cables: dict[str, Any], year: str = "2023", circuit: dict[str, Any] | None = None, **maps: Any) -> Stretch:
    """The one stretch of the first cable."""
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": year},
        "panels": {"p": {"kind": "subpanel"}, "q": {"kind": "subpanel"}},
        "circuits": {"c": circuit or {}, "d": {}},
        "cables": {f"k{number}": each for number, each in enumerate(cables)},
        **maps,
    }
    survey = Survey(read_plan(json.dumps(plan).encode()))
    [stretch] = stretches(survey, survey.plan.cables["k0"], survey.plan.circuits["c"], edition(year))
    return stretch


def bundled(number: int, year: str = "2023", **facts: Any) -> Stretch:
    length = facts.pop("length", 1200)
    return first(*[cable({**BUNDLE, **facts}, length=length)] * number, year=year)


# More than two cables, https://forums.mikeholt.com/threads/where-to-find-nm-kcmils.32893
@pytest.mark.parametrize(("number", "carrying"), [(1, 2), (2, 2), (3, 6), (5, 10)])
@pytest.mark.parametrize("condition", ["sealed", "insulation_contact"])
def test_more_than_two_cables_in_insulation_or_a_sealed_hole_count_together(number: int, carrying: int, condition: str) -> None:
    facts: dict[str, Any] = {condition: True}
    assert bundled(number, **facts).strict == (carrying, carrying)


# Over 24 in, https://forums.mikeholt.com/threads/where-to-find-nm-kcmils.32893
@pytest.mark.parametrize(("length", "carrying"), [(24, 2), (24.5, 4)])
def test_two_cables_side_by_side_for_more_than_24_inches_count_together(length: float, carrying: int) -> None:
    assert bundled(2, bundled_length=length, length=100).strict == (carrying, carrying)


@pytest.mark.parametrize(("year", "carrying"), [("2017", 2), ("2020", 2), ("2023", 6), ("2026", 6)])
def test_short_stretch_in_insulation_is_left_as_it_is_before_2023_only(year: str, carrying: int) -> None:
    stretch = bundled(3, year, insulation_contact=True, bundled_length=100, length=1100)
    assert stretch.strict == (carrying, carrying)


@pytest.mark.parametrize("year", ["2017", "2020", "2023", "2026"])
def test_short_stretch_in_a_sealed_hole_counts_in_every_edition(year: str) -> None:
    assert bundled(3, year, sealed=True, bundled_length=2, length=1100).strict == (6, 6)


@pytest.mark.parametrize(("stretch", "run", "carrying"), [(100, 1100, 2), (100, 1099, 6), (120, 1320, 2), (121, 4000, 6)])
def test_stretch_is_short_up_to_ten_feet_and_a_tenth_of_the_rest(stretch: float, run: float, carrying: int) -> None:
    assert bundled(3, bundled_length=stretch, length=run).strict == (carrying, carrying)


def test_literal_reading_holds_a_stretch_against_the_whole_circuit() -> None:
    stretch = bundled(3, bundled_length=100, length=500)
    assert (stretch.strict, stretch.literal) == ((6, 6), (2, 2))


def test_what_is_not_said_of_a_bundle_makes_a_span() -> None:
    stretch = first(*[cable({"how": "bored", "bundle": "bay"})] * 3)
    assert stretch.strict == (2, 6)
    assert [str(each).removeprefix("/cables/k0/") for each in stretch.open] == [
        "route/0/sealed",
        "route/0/insulation_contact",
        "route/0/bundled_length",
        "length",
    ]


def test_limited_energy_cables_do_not_count() -> None:
    assert first(cable({**BUNDLE, "sealed": True}), *[cable({**BUNDLE, "sealed": True}, low_voltage=True)] * 4).strict == (2, 2)


@pytest.mark.parametrize(
    ("more", "circuit", "supply", "strict", "literal"),
    [
        pytest.param({"insulated": 2}, {}, "120/240", 2, 2, id="two wires"),
        pytest.param({"insulated": 3, "second_circuit": "d"}, {}, "120/240", 2, 2, id="neutral of a multiwire circuit"),
        pytest.param({"insulated": 3, "second_circuit": "d"}, {}, "120/208", 3, 3, id="two legs of three phases"),
        pytest.param({"insulated": 3}, {"voltage": 240}, "120/240", 2, 2, id="neutral of a range or dryer"),
        pytest.param({"insulated": 3}, {"voltage": 120}, "120/240", 3, 2, id="travelers"),
        pytest.param({"insulated": 4, "second_circuit": "d"}, {}, "120/240", 4, 4, id="two circuits with two neutrals"),
    ],
)
def test_conductors_that_carry_current(
    more: dict[str, Any], circuit: dict[str, Any], supply: str, strict: int, literal: int
) -> None:
    # 310.15(E): https://www.electriciantalk.com/threads/derating-nm-cable.296664/page-2
    stretch = first(
        cable({"how": "bored", "bundle": "none"}, **more),
        circuit=circuit,
        supplies={"s": {"kind": "service", "voltage": supply}},
    )
    assert (stretch.strict, stretch.literal) == ((strict, strict), (literal, literal))


def test_air_is_the_segments_then_the_circuits_then_the_tables() -> None:
    plain = {"how": "bored", "bundle": "none"}
    warm = {"conductor": {"ambient": "45 degC"}}
    assert first(cable({**plain, "ambient": "50 degC"}), circuit=warm).ambient == (Celsius(50), Celsius(50))
    assert first(cable(plain), circuit=warm).ambient == (Celsius(45), Celsius(45))
    assert first(cable(plain)).ambient == (STANDARD_AMBIENT, STANDARD_AMBIENT)


def test_attic_whose_air_is_not_said_may_be_hot() -> None:
    attic = first(cable({"how": "attic", "bundle": "none"}))
    above = first(cable({"how": "bored", "bundle": "none", "level": "top"}), levels={"top": {"kind": "attic"}})
    assert attic.ambient == above.ambient == (STANDARD_AMBIENT, HOTTEST_ATTIC)
    assert [str(each) for each in attic.open] == ["/cables/k0/route/0/ambient"]


def test_cable_without_a_route_lies_alone_as_far_as_is_known() -> None:
    stretch = first(cable())
    assert (stretch.strict, stretch.in_insulation) == ((2, 2), (False, True))
    assert [str(each) for each in stretch.open] == ["/cables/k0/route"]
