"""From a plan to what each conductor carries: circuits, controls and devices as they are drawn."""

import json
from typing import Any

import pytest

from nailplate.plan import Plan, UnknownFact
from nailplate.survey import Survey
from nailplate.survey.wiring.conductor_roles import control_wiring, needed_conductors, roles_in, wiring_of
from nailplate.wire import read_plan


def cable(one: str, other: str, insulated: int | None = None, **facts: Any) -> dict[str, Any]:
    ends = [{"panel": "p"} if name == "p" else {"box": name} for name in (one, other)]
    counted = {} if insulated is None else {"insulated": insulated}
    return {"type": "NM-B", "size": "14 AWG", "circuit": "lights", "ends": ends, **counted, **facts}


def switch(box: str, ways: str = "single_pole", **facts: Any) -> dict[str, Any]:
    return {"kind": "switch", "box": box, "ways": ways, "circuit": "lights", **facts}


def lamp(box: str, **facts: Any) -> dict[str, Any]:
    return {"kind": "luminaire", "box": box, "circuit": "lights", **facts}


def drawn(
    cables: dict[str, Any], devices: dict[str, Any], controls: dict[str, Any], circuits: dict[str, Any] | None = None
) -> Survey:
    boxes = {end["box"] for each in cables.values() for end in each["ends"] if "box" in end}
    boxes |= {each["box"] for each in devices.values() if "box" in each}
    document = {
        "plan_format": 1,
        "name": "Alder Row Cabins, model Finch",
        "basis": {"edition": "2023"},
        "panels": {"p": {"kind": "subpanel"}},
        "circuits": circuits or {"lights": {"panel": "p", "voltage": 120, "neutral": True}},
        "boxes": {name: {} for name in sorted(boxes)},
        "devices": devices,
        "cables": cables,
        "controls": controls,
    }
    plan: Plan = read_plan(json.dumps(document).encode())
    return Survey(plan)


def carried(survey: Survey) -> dict[str, list[str]]:
    """Cable id to what it carries, by colors as they are sorted: black first, white last."""
    return {
        cable.id: [f"{each.net.role}" for planned in roles_in(survey, cable) for each in planned.conductors]
        for cable in survey.plan.cables.values()
    }


STAIR = {
    "home": cable("p", "foot"),
    "low": cable("foot", "mid"),
    "high": cable("mid", "head"),
    "leg": cable("head", "light"),
}
THREE = {
    "s1": switch("foot", "three_way"),
    "s2": switch("mid", "four_way"),
    "s3": switch("head", "three_way"),
    "lamp": lamp("light"),
}


def test_a_stair_with_three_switches_says_what_its_cables_need() -> None:
    survey = drawn(STAIR, THREE, {"stair": {"switches": ["s1", "s2", "s3"], "outlets": ["lamp"]}})
    needed = {name: needed_conductors(survey, each).least for name, each in survey.plan.cables.items()}
    assert needed == {"home": 2, "low": 3, "high": 3, "leg": 2}
    assert carried(survey)["low"] == ["traveler", "traveler", "neutral"]
    assert control_wiring(survey, survey.plan.controls["stair"]).wired


def test_a_neutral_at_every_switch_box_may_take_one_conductor_more() -> None:
    survey = drawn(
        {"home": cable("p", "light"), "loop": cable("light", "door")},
        {"s": switch("door"), "lamp": lamp("light")},
        {"c": {"switches": ["s"], "outlets": ["lamp"]}},
    )
    needed = needed_conductors(survey, survey.plan.cables["loop"])
    assert (needed.least, needed.with_neutrals) == (2, 3)


def test_the_neutral_is_carried_on_only_where_a_conductor_is_to_spare() -> None:
    for insulated, wanted in ((2, ["switched hot", "hot"]), (3, ["hot", "switched hot", "neutral"])):
        survey = drawn(
            {"home": cable("p", "light", 2), "loop": cable("light", "door", insulated)},
            {"s": switch("door"), "lamp": lamp("light")},
            {"c": {"switches": ["s"], "outlets": ["lamp"]}},
        )
        assert carried(survey)["loop"] == wanted


def test_both_halves_of_a_multiwire_circuit_are_one_wiring() -> None:
    circuits = {
        "lights": {"panel": "p", "legs": ["A"], "neutral": True, "multiwire": {"partner": "more", "tie": "handle_tie"}},
        "more": {"panel": "p", "legs": ["B"], "neutral": True, "multiwire": {"partner": "lights", "tie": "handle_tie"}},
    }
    survey = drawn(
        {
            "home": cable("p", "a", 3, second_circuit="more"),
            "b": cable("a", "b", 2),
            "c": cable("a", "c", 2, circuit="more"),
        },
        {
            "r": {"kind": "receptacle", "box": "b", "circuit": "lights"},
            "t": {"kind": "receptacle", "box": "c", "circuit": "more"},
            "split": {"kind": "receptacle", "box": "a", "circuit": "lights", "second_circuit": "more"},
        },
        {},
        circuits,
    )
    assert carried(survey) == {
        "home": ["hot", "second hot", "neutral"],
        "b": ["hot", "neutral"],
        "c": ["second hot", "neutral"],
    }
    one, other = (wiring_of(survey, survey.plan.circuits[each]) for each in ("lights", "more"))
    assert one is other


def test_a_half_switched_receptacle_keeps_its_other_half_live() -> None:
    survey = drawn(
        {"home": cable("p", "door"), "leg": cable("door", "wall")},
        {"s": switch("door"), "r": {"kind": "receptacle", "box": "wall", "circuit": "lights", "switched_half": "lower"}},
        {"c": {"switches": ["s"], "outlets": ["r"]}},
    )
    assert carried(survey)["leg"] == ["hot", "switched hot", "neutral"]


def test_interconnected_alarms_have_a_conductor_of_their_own_between_them() -> None:
    alarm = {"kind": "smoke_alarm", "circuit": "lights", "interconnect": "wired"}
    survey = drawn(
        {"home": cable("p", "a"), "on": cable("a", "b"), "end": cable("b", "c")},
        {"a": {**alarm, "box": "a"}, "b": {**alarm, "box": "b"}, "c": lamp("c")},
        {},
    )
    assert carried(survey) == {
        "home": ["hot", "neutral"],
        "on": ["hot", "signal", "neutral"],
        "end": ["hot", "neutral"],
    }


def test_a_device_takes_the_circuit_of_its_box_where_it_says_none() -> None:
    quiet = {name: {key: value for key, value in each.items() if key != "circuit"} for name, each in THREE.items()}
    survey = drawn(STAIR, quiet, {"stair": {"switches": ["s1", "s2", "s3"], "outlets": ["lamp"]}})
    assert needed_conductors(survey, survey.plan.cables["low"]).least == 3


OPEN: list[tuple[dict[str, Any], dict[str, Any], dict[str, Any]]] = [
    # a loop of cables, switches that do not match, and a light that no cable reaches: there is no one figure
    ({**STAIR, "back": cable("light", "foot")}, THREE, {"stair": {"switches": ["s1", "s2", "s3"], "outlets": ["lamp"]}}),
    (
        STAIR,
        THREE,
        {"stair": {"switches": ["s1", "s3", "s2"][:2], "outlets": ["lamp"]}, "x": {"switches": ["s2"], "outlets": ["lamp"]}},
    ),
    ({k: v for k, v in STAIR.items() if k != "leg"}, THREE, {"stair": {"switches": ["s1", "s2", "s3"], "outlets": ["lamp"]}}),
]


@pytest.mark.parametrize(("cables", "devices", "controls"), OPEN)
def test_a_number_that_cannot_be_worked_out_stays_unknown(
    cables: dict[str, Any], devices: dict[str, Any], controls: dict[str, Any]
) -> None:
    survey = drawn(cables, devices, controls)
    with pytest.raises(UnknownFact) as caught:
        needed_conductors(survey, survey.plan.cables["low"])
    assert str(caught.value.pointer) == "/cables/low/insulated"


def test_what_two_legs_bring_has_to_be_said() -> None:
    survey = drawn(
        {"home": cable("p", "a")},
        {"h": {"kind": "connection", "box": "a", "circuit": "lights"}},
        {},
        {"lights": {"panel": "p"}},
    )
    assert [str(need) for need in wiring_of(survey, survey.plan.circuits["lights"]).needs] == ["/circuits/lights/voltage"]
