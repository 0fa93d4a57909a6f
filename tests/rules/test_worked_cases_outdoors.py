"""Published cases of receptacles outdoors, at equipment and at panels, and published keys that are out of date.

Each case names its source.
"""

from typing import Any

import pytest

from nailplate.rulekit import NotConcerned, Outcome, Pass, Violation
from rules.judging import answers, document, loaded, packs

EDITIONS = ("2017", "2020", "2023", "2026")


def ring(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def judged(rule: str, plan: dict[str, Any], edition: str) -> list[Outcome]:
    case = {"edition": f"nec-{edition}", "plan": plan}
    return [outcome for _, outcome in answers(packs().rules[rule], loaded(document(case)))]


def wrongs(rule: str, plan: dict[str, Any], edition: str) -> list[Violation]:
    return [outcome for outcome in judged(rule, plan, edition) if isinstance(outcome, Violation)]


def cottage(**more: Any) -> dict[str, Any]:
    """A cottage of 20 ft by 10 ft with a door at its back, and nothing outdoors."""
    return {
        "levels": {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96}}, "g": {"kind": "grade", "elevation": -8}},
        "walls": {
            "front": {"level": "m", "from": [0, 3], "to": [240, 3], "thickness": 6, "kind": "exterior", "face": "front"},
            "back": {"level": "m", "from": [240, 117], "to": [0, 117], "thickness": 6, "kind": "exterior", "face": "back"},
        },
        "rooms": {
            "r": {"level": "m", "outline": ring(6, 6, 234, 114), "uses": ["living"]},
            "yard": {"level": "g", "outline": ring(0, 120, 240, 400), "uses": ["outdoors"], "face": "back"},
        },
        "openings": {"door": {"wall": "back", "along": 100, "width": 36, "kind": "door"}},
        **more,
    }


def at_back(along: float, height: float) -> dict[str, Any]:
    at = {"wall": "back", "along": along, "height": height, "side": "right"}
    return {"kind": "receptacle", "at": at, "rating": 20, "voltage": 125}


# 210.63: https://www.ecmweb.com/qampa/code-qa-maintenance-receptacle


def cooler(kind: str) -> dict[str, Any]:
    return cottage(appliances={"unit": {"kind": kind, "room": "yard", "footprint": ring(20, 130, 50, 160)}})


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", ["evaporative_cooler", "ventilator"])
def test_coolers_by_evaporation_and_ventilating_units_need_no_receptacle_for_service(kind: str, edition: str) -> None:
    assert all(isinstance(each, NotConcerned) for each in judged("equipment-receptacle", cooler(kind), edition))


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_same_unit_with_a_compressor_needs_one(edition: str) -> None:
    assert len(wrongs("equipment-receptacle", cooler("air_conditioner"), edition)) == 1


@pytest.mark.parametrize("edition", EDITIONS)
def test_front_and_back_receptacles_are_required_beside_an_exempt_cooler_all_the_same(edition: str) -> None:
    assert {each.facet for each in wrongs("outdoor-receptacles", cooler("evaporative_cooler"), edition)} == {"front", "back"}


# 210.52(E)(3): the allowance for balconies, decks and porches under 20 square feet ended in 2011,
# http://electricalcodeconnection.com/code-change-missed/. A key that still applies it is wrong.


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_deck_under_twenty_square_feet_is_not_let_off(edition: str) -> None:
    # 60 in by 46 in are 19.2 square feet.
    deck = {"level": "d", "outline": ring(90, 120, 150, 166), "uses": ["deck"], "gap_to_house": 0, "steps_to_grade": True}
    plan = cottage()
    plan["levels"]["d"] = {"kind": "deck", "elevation": -1}
    plan["rooms"] = {**plan["rooms"], "deck": {**deck, "floor_above_grade": 7}}
    plan["openings"]["door"]["leads_to"] = "deck"
    assert len(wrongs("deck-receptacle", plan, edition)) == 1


# 210.52(E)(1): 6 1/2 ft above grade, https://www.howtowireahouse.com/outside-codes/


@pytest.mark.parametrize(("height", "wrong"), [(78, 0), (78.5, 1)])
def test_six_and_a_half_feet_above_grade_is_the_most(height: float, wrong: int) -> None:
    plan = cottage(devices={"back": at_back(200, height)})
    assert len([each for each in wrongs("outdoor-receptacles", plan, "2023") if each.facet == "back"]) == wrong


# 110.26(A) and IRC E3405.2: 30 in or the equipment's width, 36 in deep, 6 1/2 ft high,
# https://www.contractortalk.com/threads/subpanel-working-clearance.250081/?u=720


def panel_with(ceiling: float, washer_at: float) -> dict[str, Any]:
    plan = cottage()
    plan["levels"]["m"]["ceiling"] = {"height": ceiling}
    at = {"wall": "front", "along": 60, "height": 58, "side": "left"}
    plan["panels"] = {"p": {"kind": "subpanel", "at": at, "face": {"width": 14.5, "height": 30}, "projection": 0}}
    footprint = ring(40, 6 + washer_at, 80, 40 + washer_at)
    plan["appliances"] = {"w": {"kind": "clothes_washer", "room": "r", "footprint": footprint}}
    return plan


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("ceiling", "washer_at", "wrong"),
    [(78, 39, []), (77.5, 39, ["headroom"]), (78, 35.5, ["floor"]), (76, 20, ["floor", "headroom"])],
)
def test_working_space_is_a_box_of_three_feet_by_six_and_a_half(
    ceiling: float, washer_at: float, wrong: list[str], edition: str
) -> None:
    assert sorted(each.facet for each in wrongs("working-space", panel_with(ceiling, washer_at), edition)) == wrong


def test_a_kitchen_of_the_least_height_for_tiny_houses_is_too_low_for_a_panel() -> None:
    # 6 ft 4 in for kitchens and baths: https://paperzz.com/doc/8207651/tiny-house-appendix---tinyhousebuild.com
    (found,) = wrongs("working-space", panel_with(76, 40), "2023")
    assert found.measured is not None
    assert found.limit is not None
    assert (found.measured.value, found.limit.value) == (76, 78)


def test_a_bedroom_is_allowed() -> None:
    # 240.24 names baths, clothes closets and stairs: http://ecmweb.com/qampa/code-qa-overcurrent-devices
    plan = panel_with(96, 40)
    plan["rooms"]["r"]["uses"] = ["bedroom"]
    assert all(isinstance(each, Pass) for each in judged("panel-place", plan, "2023"))


def test_no_receptacle_is_proposed_on_a_basement_wall_under_ground() -> None:
    plan = cottage()
    under = {f"b-{name}": {**wall, "level": "b", "height": 96} for name, wall in plan["walls"].items()}
    plan["walls"] = {**under, **plan["walls"]}
    plan["levels"] |= {"b": {"kind": "basement", "elevation": -104, "ceiling": {"height": 92}}}
    plan["rooms"] |= {
        "cellar": {"level": "b", "outline": ring(6, 6, 234, 114), "uses": ["basement"]},
        "front": {"level": "g", "outline": ring(0, -300, 240, 0), "uses": ["outdoors"], "face": "front"},
    }
    words = [remedy.words for each in wrongs("outdoor-receptacles", plan, "2023") for remedy in each.remedies]
    assert any("along wall 'back'" in each for each in words)
    assert not any("b-" in each for each in words)


def test_no_receptacle_for_servicing_is_proposed_on_a_wall_of_the_floor_above() -> None:
    plan = cottage()
    plan["walls"] |= {f"g-{name}": {**wall, "level": "low", "height": 96} for name, wall in plan["walls"].items()}
    plan["levels"] |= {
        "m": {"kind": "storey", "elevation": 112, "ceiling": {"height": 96}},
        "low": {"kind": "storey", "elevation": 0},
    }
    plan["rooms"] |= {"garage": {"level": "low", "outline": ring(6, 6, 234, 114), "uses": ["garage"]}}
    plan["appliances"] = {
        "unit": {"kind": "heat_pump", "room": "yard", "outdoors": True, "footprint": ring(100, 130, 130, 160)}
    }
    plan["devices"] = {}
    words = [remedy.words for each in wrongs("equipment-receptacle", plan, "2023") for remedy in each.remedies]
    assert any("g-back" in each for each in words)
    assert not any("'back'" in each for each in words)
