"""What enters a box, at the least and at the most that the plan can mean, and the facts that would tell."""

import json
from typing import Any

import pytest

from nailplate.calc.box_fill import FixtureWires, GroundingConductors, Run, SupportFitting, Yoke, counted_volume
from nailplate.codes import edition
from nailplate.plan import UnknownFact
from nailplate.survey import Survey
from nailplate.survey.boxes import Found, contents_of
from nailplate.wire import read_plan

EDITIONS = ("2017", "2020", "2023", "2026")
SWITCH = {"kind": "switch", "circuit": "c"}
LUMINAIRE = {"kind": "luminaire", "circuit": "c"}
HOME = [{"box": "b"}, {"panel": "p"}]


def nm(size: str = "14 AWG", circuit: str | None = "c", **more: Any) -> dict[str, Any]:
    """A cable of two conductors and a grounding conductor that ends in the box."""
    facts = {"size": size, "insulated": 2, "grounding": size, "ends": HOME, **more}
    return {**facts, "circuit": circuit} if circuit else facts


def passing(**more: Any) -> dict[str, Any]:
    return nm(ends=[{"panel": "p"}, {"panel": "q"}], passes=[{"box": "b", **more}])


def found(cables: list[dict[str, Any]], *devices: dict[str, Any], year: str = "2023", **box: Any) -> Found:
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": year},
        "panels": {"p": {"kind": "subpanel"}, "q": {"kind": "subpanel"}},
        "circuits": {"c": {}, "d": {}},
        "appliances": {"m": {"kind": "other"}},
        "boxes": {"b": box},
        "cables": {f"k{number}": cable for number, cable in enumerate(cables)},
        "devices": {f"d{number}": {"box": "b", **device} for number, device in enumerate(devices)},
    }
    survey = Survey(read_plan(json.dumps(plan).encode()))
    return contents_of(survey, survey.plan.boxes["b"], edition(year))


def without(part: dict[str, Any], name: str) -> dict[str, Any]:
    return {key: value for key, value in part.items() if key != name}


def open_facts(contents: Found) -> list[str]:
    return [str(pointer) for pointer in contents.open]


@pytest.mark.parametrize("year", EDITIONS)
def test_nothing_is_open_where_everything_is_said(year: str) -> None:
    contents = found([nm(), nm("12 AWG", "d")], SWITCH, year=year, clamps="none")
    assert contents.open == ()
    assert contents.least == contents.most


def test_empty_box_holds_nothing() -> None:
    contents = found([], clamps="none")
    assert counted_volume(contents.most, edition("2023").box_fill).lines == ()


def test_each_end_brings_its_conductors_and_its_grounding_conductor() -> None:
    contents = found([nm(), nm("12 AWG", insulated=3)], clamps="none")
    assert [(each.size, each.count, each.run) for each in contents.least.conductors] == [
        ("14 AWG", 2, Run.ENDS),
        ("12 AWG", 3, Run.ENDS),
    ]
    assert contents.least.grounding_conductors == (GroundingConductors("14 AWG"), GroundingConductors("12 AWG"))


def test_grounding_conductor_that_is_not_there_is_not_counted() -> None:
    assert found([nm(grounding="none")], clamps="none").most.grounding_conductors == ()


def test_grounding_conductor_that_is_not_said_is_one_at_most() -> None:
    contents = found([without(nm("12 AWG"), "grounding")], clamps="none")
    assert contents.least.grounding_conductors == ()
    assert contents.most.grounding_conductors == (GroundingConductors("12 AWG"),)
    assert open_facts(contents) == ["/cables/k0/grounding"]


# Twice the 6 in of free conductor of 300.14: https://coconote.app/notes/56e1c20d-d2f5-4ea9-bc75-546d8840e2e8
@pytest.mark.parametrize(("loop", "run"), [(0, Run.PASSES), (11.9, Run.PASSES), (12, Run.LOOPED), (30, Run.LOOPED)])
def test_unbroken_conductor_counts_as_looped_from_twelve_inches(loop: float, run: Run) -> None:
    [conductors] = found([passing(loop=loop)], clamps="none").least.conductors
    assert conductors.run is run


def test_loop_that_is_not_said_is_open() -> None:
    contents = found([passing()], clamps="none")
    assert (contents.least.conductors[0].run, contents.most.conductors[0].run) == (Run.PASSES, Run.LOOPED)
    assert open_facts(contents) == ["/cables/k0/passes/0/loop"]


def test_cable_that_passes_twice_counts_for_each_pass_by_its_own_loop() -> None:
    twice = nm(ends=[{"panel": "p"}, {"panel": "q"}], passes=[{"box": "b", "loop": 3}, {"box": "b", "loop": 14}])
    assert [each.run for each in found([twice], clamps="none").least.conductors] == [Run.PASSES, Run.LOOPED]


@pytest.mark.parametrize(("clamps", "counted"), [("internal", True), ("connector", False), ("none", False)])
def test_only_internal_clamps_count(clamps: str, counted: bool) -> None:
    contents = found([nm()], clamps=clamps)
    assert contents.least.internal_clamps is contents.most.internal_clamps is counted


def test_clamps_that_are_not_said_are_open() -> None:
    contents = found([nm()])
    assert (contents.least.internal_clamps, contents.most.internal_clamps) == (False, True)
    assert open_facts(contents) == ["/boxes/b/clamps"]


YOKED = (
    "receptacle",
    "switch",
    "dimmer",
    "sensor",
    "timer",
    "fan_control",
    "blank_gfci",
    "usb_outlet",
    "thermostat",
    "disconnect",
)
HUNG = ("luminaire", "fan", "exhaust_fan", "smoke_alarm", "co_alarm", "heat_alarm", "connection", "track", "chime")


@pytest.mark.parametrize("kind", YOKED)
def test_device_on_a_yoke_counts(kind: str) -> None:
    assert found([nm()], {"kind": kind, "circuit": "c"}, clamps="none").least.yokes == (Yoke("14 AWG", 1),)


@pytest.mark.parametrize("kind", HUNG)
def test_what_hangs_on_the_box_has_no_yoke(kind: str) -> None:
    assert found([nm()], {"kind": kind, "circuit": "c"}, clamps="none").most.yokes == ()


def test_what_is_built_into_something_has_no_yoke_here() -> None:
    assert found([nm()], {"kind": "receptacle", "circuit": "c", "part_of": "m"}, clamps="none").most.yokes == ()


@pytest.mark.parametrize(("circuit", "size"), [("c", "14 AWG"), ("d", "12 AWG")])
def test_yoke_counts_by_the_largest_conductor_of_its_own_circuit(circuit: str, size: str) -> None:
    contents = found([nm(), nm("12 AWG", "d")], {"kind": "switch", "circuit": circuit}, clamps="none")
    assert contents.least.yokes == contents.most.yokes == (Yoke(size, 1),)


def test_split_receptacle_counts_by_the_larger_of_its_circuits() -> None:
    split = {"kind": "receptacle", "circuit": "c", "second_circuit": "d"}
    assert found([nm(), nm("12 AWG", "d")], split, clamps="none").least.yokes == (Yoke("12 AWG", 1),)


def test_yoke_counts_by_the_largest_in_the_box_where_no_cable_carries_its_circuit() -> None:
    assert found([nm(), nm("12 AWG")], {"kind": "switch", "circuit": "d"}, clamps="none").least.yokes == (Yoke("12 AWG", 1),)


def test_device_whose_circuit_is_not_said_may_be_on_any_cable() -> None:
    contents = found([nm(), nm("12 AWG", "d")], {"kind": "switch"}, clamps="none")
    assert (contents.least.yokes, contents.most.yokes) == ((Yoke("14 AWG", 1),), (Yoke("12 AWG", 1),))
    assert open_facts(contents) == ["/devices/d0/circuit"]


def test_cable_whose_circuit_is_not_said_may_be_on_the_device() -> None:
    contents = found([nm(), nm("12 AWG", None)], SWITCH, clamps="none")
    assert (contents.least.yokes, contents.most.yokes) == ((Yoke("14 AWG", 1),), (Yoke("12 AWG", 1),))
    assert open_facts(contents) == ["/cables/k1/circuit"]


def test_circuits_that_do_not_matter_are_not_asked_for() -> None:
    assert open_facts(found([nm(), nm(circuit=None)], {"kind": "switch"}, clamps="none")) == []


def test_device_on_a_cable_that_only_passes_counts() -> None:
    assert found([passing(loop=3)], SWITCH, clamps="none").least.yokes == (Yoke("14 AWG", 1),)


@pytest.mark.parametrize(("rating", "most"), [(20, 1), (29, 1), (30, 2), (50, 2)])
def test_large_receptacle_may_be_two_gangs_wide_where_it_is_not_said(rating: float, most: int) -> None:
    contents = found([nm()], {"kind": "receptacle", "circuit": "c", "rating": rating}, clamps="none")
    assert (contents.least.yokes[0].gangs, contents.most.yokes[0].gangs) == (1, most)
    assert open_facts(contents) == (["/devices/d0/gangs"] if most == 2 else [])


def test_stated_width_is_taken() -> None:
    assert found([nm()], {**SWITCH, "gangs": 2}, clamps="none").least.yokes == (Yoke("14 AWG", 2),)


def test_fittings_are_asked_for_where_a_luminaire_hangs_on_a_box_that_may_be_metal() -> None:
    hung = {**LUMINAIRE, "domed_canopy": True, "fixture_wires": {"size": "18 AWG", "count": 2}}
    contents = found([nm()], hung, clamps="none", material="metal")
    assert contents.least.support_fittings == ()
    assert set(contents.most.support_fittings) == {SupportFitting("stud"), SupportFitting("hickey")}
    assert open_facts(contents) == ["/boxes/b/support_fittings"]
    assert found([nm()], hung, clamps="none", material="nonmetallic").open == ()
    assert found([nm()], SWITCH, clamps="none", material="metal").open == ()
    assert found([nm()], hung, clamps="none", support_fittings=["stud"]).least.support_fittings == (SupportFitting("stud"),)


def test_fixture_wires_are_taken_as_stated() -> None:
    hung = {**LUMINAIRE, "domed_canopy": False, "fixture_wires": {"size": "16 AWG", "count": 3}}
    contents = found([nm()], hung, clamps="none", support_fittings=[])
    assert contents.least.fixture_wires == contents.most.fixture_wires == (FixtureWires("16 AWG", 3),)


def test_fixture_wires_that_are_not_said_are_open() -> None:
    contents = found([nm()], LUMINAIRE, clamps="none", support_fittings=[])
    assert contents.least.fixture_wires == ()
    assert contents.most.fixture_wires == (FixtureWires("14 AWG", 2),)
    assert open_facts(contents) == ["/devices/d0/fixture_wires"]


def test_canopy_that_is_not_said_is_open() -> None:
    contents = found([nm()], {**LUMINAIRE, "fixture_wires": {"size": "18 AWG", "count": 2}}, clamps="none", support_fittings=[])
    assert [each.through_canopy for each in (*contents.least.fixture_wires, *contents.most.fixture_wires)] == [True, False]
    assert open_facts(contents) == ["/devices/d0/domed_canopy"]


def test_isolated_grounding_is_asked_for_at_an_isolated_ground_receptacle_only() -> None:
    isolated = {"kind": "receptacle", "circuit": "c", "isolated_ground": True}
    contents = found([nm()], isolated, clamps="none")
    assert (contents.least.isolated_grounding, contents.most.isolated_grounding) == ((), (GroundingConductors("14 AWG"),))
    assert open_facts(contents) == ["/cables/k0/isolated_grounding"]
    assert found([nm()], SWITCH, clamps="none").open == ()
    assert found([nm(isolated_grounding=True)], SWITCH, clamps="none").least.isolated_grounding == (
        GroundingConductors("14 AWG"),
    )


def test_terminal_blocks_are_taken_as_stated() -> None:
    assert found([nm()], clamps="none", terminal_blocks=[{"size": "10 AWG"}]).least.terminal_blocks == ("10 AWG",)


def test_cable_without_size_is_an_unknown_fact() -> None:
    with pytest.raises(UnknownFact) as unknown:
        found([without(nm(grounding="14 AWG"), "size")], clamps="none")
    assert str(unknown.value.pointer) == "/cables/k0/size"


def test_cable_whose_conductors_are_not_counted_has_no_most() -> None:
    contents = found([without(nm(), "insulated"), nm()], clamps="none")
    assert [str(pointer) for pointer in contents.unbounded] == ["/cables/k0/insulated"]
    assert [each.count for each in contents.least.conductors] == [2, 2]
    assert found([nm()], clamps="none").unbounded == ()


def test_cable_whose_conductors_are_not_counted_has_as_many_as_its_switches_need() -> None:
    """Feed at the first of two three-way switches: neutral and two travelers on to the second, and back to the light."""
    three_way = {"kind": "switch", "ways": "three_way", "circuit": "c"}
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "panels": {"p": {"kind": "subpanel"}},
        "circuits": {"c": {"panel": "p", "voltage": 120, "neutral": True}},
        "boxes": {"b": {"clamps": "none"}, "x": {}, "y": {}},
        "devices": {
            "one": {**three_way, "box": "b"},
            "two": {**three_way, "box": "x"},
            "light": {"kind": "luminaire", "box": "y", "circuit": "c"},
        },
        "controls": {"k": {"switches": ["one", "two"], "outlets": ["light"]}},
        "cables": {
            "home": nm(),
            "travelers": without(nm(ends=[{"box": "b"}, {"box": "x"}]), "insulated"),
            "leg": nm(ends=[{"box": "x"}, {"box": "y"}]),
        },
    }
    survey = Survey(read_plan(json.dumps(plan).encode()))
    contents = contents_of(survey, survey.plan.boxes["b"], edition("2023"))
    assert [each.count for each in contents.least.conductors] == [2, 3]
    assert [str(pointer) for pointer in contents.unbounded] == ["/cables/travelers/insulated"]


def test_every_line_says_what_it_is_of() -> None:
    hung = {**LUMINAIRE, "domed_canopy": False, "fixture_wires": {"size": "18 AWG", "count": 2, "grounding": False}}
    contents = found([nm(), passing(loop=14)], SWITCH, hung, clamps="none", support_fittings=[])
    lines = counted_volume(contents.least, edition("2023").box_fill).lines
    assert [(line.what, line.how_many, line.each, line.section) for line in lines] == [
        ("conductors of 'k0', 14 AWG", 2, 2.0, "314.16(B)(1)"),
        ("unbroken loops (each twice) of 'k1', 14 AWG", 4, 2.0, "314.16(B)(1)"),
        ("fixture wires of 'd1', 18 AWG", 2, 1.5, "314.16(B)(1)"),
        ("equipment grounding conductors, 14 AWG", 1, 2.0, "314.16(B)(5)"),
        ("yoke of 'd0', 14 AWG", 2, 2.0, "314.16(B)(4)"),
    ]


# 314.16(B)(5) with 314.16(B)(1) exception: a quarter for each past four from 2020, https://forums.mikeholt.com/threads/egc-fill.2566828;
# those out of a domed canopy may be left out, https://coconote.app/notes/56e1c20d-d2f5-4ea9-bc75-546d8840e2e8
@pytest.mark.parametrize(("year", "quarters"), [("2017", 0), ("2020", 1), ("2023", 1), ("2026", 1)])
def test_grounding_conductor_of_a_luminaire_counts_with_the_others(year: str, quarters: int) -> None:
    table = edition(year).box_fill

    def counted(*, domed: bool, grounding: bool) -> float:
        wires = {"size": "18 AWG", "count": 2, "grounding": grounding}
        hung = {**LUMINAIRE, "domed_canopy": domed, "fixture_wires": wires}
        return counted_volume(found([nm()] * 4, hung, year=year, clamps="none", support_fittings=[]).most, table).total

    assert counted(domed=False, grounding=True) - counted(domed=False, grounding=False) == quarters * 0.25 * 2.0
    assert counted(domed=True, grounding=True) == counted(domed=True, grounding=False)


def test_luminaire_ground_is_asked_for_only_where_one_more_counts() -> None:
    hung = {**LUMINAIRE, "domed_canopy": False, "fixture_wires": {"size": "18 AWG", "count": 2}}
    open_at = {number: open_facts(found([nm()] * number, hung, clamps="none", support_fittings=[])) for number in (3, 4)}
    assert open_at == {3: [], 4: ["/devices/d0/fixture_wires/grounding"]}
    assert open_facts(found([nm()] * 4, hung, year="2017", clamps="none", support_fittings=[])) == []


@pytest.mark.parametrize("year", EDITIONS)
@pytest.mark.parametrize(
    "device", [SWITCH, LUMINAIRE, {"kind": "switch"}, {"kind": "receptacle", "circuit": "c", "rating": 50}]
)
def test_most_counts_for_no_less_than_least_and_for_more_only_where_something_is_open(
    year: str, device: dict[str, Any]
) -> None:
    table = edition(year).box_fill
    for cables in ([nm()], [nm(), nm("12 AWG", None)], [without(nm(), "grounding"), passing()]):
        for box in ({}, {"clamps": "none"}, {"clamps": "internal", "support_fittings": []}):
            contents = found(cables, device, year=year, **box)
            least, most = (counted_volume(each, table).total for each in (contents.least, contents.most))
            assert most >= least
            assert contents.open or most == least
