"""State law, inspectors' published lists and exam questions about rough-in, each held against the rule that speaks of it.

Seen: WAC 296-150C-1000; the exam question at inspectionnews.net/6751 and that at learn8.ai/q/IP32VXyEVl.html; the lists of James City
County, Virginia (jamescitycountyva.gov/buildingsafety/final-electric-vio-res.html), Person County and Johnston County, North Carolina
(personcounty.net, johnstonnc.gov/insp), and Rocky Mount (cityrm.org/171). Not seen: the printed IRC and NEC themselves.
"""

from typing import Any

import pytest

from nailplate.rulekit import Judgement, Outcome, Pass, Undetermined, Violation
from rules.judging import answers, loaded, packs

EDITIONS = ("2017", "2020", "2023", "2026")
RUN = {"member": "2x4", "material": "wood"}


def answered(rule: str, run: dict[str, Any], edition: str = "2023", **more: Any) -> list[Outcome]:
    """What a rule says of a cable with one stretch of route."""
    cable = {
        "type": "NM-B",
        "size": "14 AWG",
        "insulated": 2,
        "ends": [{"box": "a"}, {"panel": "p"}],
        "route": [run],
        **more.pop("cable", {}),
    }
    box = {"material": "nonmetallic", "gangs": 1, "clamps": "none", **more.pop("box", {})}
    plan = {
        "plan_format": 1,
        "name": "case",
        "basis": {"edition": edition},
        "levels": {"m": {"kind": "storey"}},
        "boxes": {"a": box},
        "panels": {"p": {"kind": "subpanel"}},
        "cables": {"k": cable},
        **more,
    }
    return [outcome for _, outcome in answers(packs().rules[rule], loaded(plan))]


def wall(member: str, kind: str, *, bearing: bool) -> dict[str, Any]:
    framing = {"member": member, "spacing": 16, "material": "wood", "bearing": bearing}
    return {"w": {"level": "m", "kind": kind, "from": [0, 0], "to": [100, 0], "thickness": 4.5, "framing": framing}}


def is_refused(outcomes: list[Outcome]) -> bool:
    assert not any(isinstance(each, Undetermined) for each in outcomes)
    return any(isinstance(each, Violation) for each in outcomes)


# Notches and holes by actual size


@pytest.mark.parametrize(
    ("member", "kind", "bearing", "deep", "refused"),
    [
        # "Can a notch 1-1/2 inches deep be made in a nominal 2x6 exterior wall stud?" No: inspectionnews.net/6751.
        pytest.param("2x6", "exterior", True, 1.5, True, id="exam: 1-1/2 in in an exterior 2x6"),
        pytest.param("2x6", "exterior", True, 1.375, False, id="exam: 1-3/8 in in an exterior 2x6"),
        # "Maximum depth a 2x4 stud in an exterior wall is allowed to be notched": 0.875 in, learn8.ai/q/IP32VXyEVl.html.
        pytest.param("2x4", "exterior", True, 0.875, False, id="exam: 0.875 in in an exterior 2x4"),
        pytest.param("2x4", "exterior", True, 0.9, True, id="exam: past 0.875 in"),
        # WAC 296-150C-1000(1): 25 % in exterior walls and bearing partitions, 40 % in others.
        pytest.param("2x4", "interior", True, 0.9, True, id="state law: bearing partition past 25 %"),
        pytest.param("2x4", "interior", False, 1.4, False, id="state law: 40 % of a nonbearing stud"),
        pytest.param("2x4", "interior", False, 1.42, True, id="state law: past 40 %"),
    ],
)
@pytest.mark.parametrize("edition", EDITIONS)
def test_notches_in_studs(member: str, kind: str, bearing: bool, deep: float, refused: bool, edition: str) -> None:
    run = {"wall": "w", "how": "notch", "notch_depth": deep, "plates": "one_face"}
    assert is_refused(answered("notch-strength", run, edition, walls=wall(member, kind, bearing=bearing))) is refused


@pytest.mark.parametrize(
    ("facts", "kind", "bearing", "hole", "refused"),
    [
        # WAC 296-150C-1000(2): 40 %, 60 % in nonbearing partitions or where each bored stud is doubled, 5/8 in to the edge.
        pytest.param({}, "exterior", True, (1.4, 0), False, id="40 % of a bearing 2x4"),
        pytest.param({}, "exterior", True, (1.45, 0), True, id="past 40 %"),
        pytest.param({}, "interior", False, (2.1, 0), False, id="60 % of a nonbearing 2x4"),
        pytest.param({}, "interior", False, (2.15, 0), True, id="past 60 %"),
        pytest.param({"doubled": True}, "exterior", True, (2.1, 0), False, id="60 % where studs are doubled"),
        pytest.param({}, "exterior", True, (1, 0.625), False, id="5/8 in left at the edge"),
        pytest.param({}, "exterior", True, (1, 0.65), True, id="less than 5/8 in left"),
    ],
)
def test_holes_in_studs(facts: dict[str, Any], kind: str, bearing: bool, hole: tuple[float, float], refused: bool) -> None:
    bored = {"diameter": hole[0], "centre_offset": hole[1]}
    run = {"wall": "w", "how": "bored", "hole": bored, "plates": "both_faces", **facts}
    assert is_refused(answered("bore-strength", run, walls=wall("2x4", kind, bearing=bearing))) is refused


# hinarratives.com/notching-boring-framing and an official's page: a third of the depth, and 2 in to top and bottom as well.
@pytest.mark.parametrize(
    ("member", "role", "hole", "refused"),
    [
        pytest.param("2x6", "joist", 1.75, True, id="1-3/4 in is under a third of a 2x6 and too near its edges"),
        pytest.param("2x6", "joist", 1.5, False, id="1-1/2 in in a 2x6"),
        pytest.param("2x4", "rafter", 0.5, True, id="nothing is bored in a 2x4 rafter"),
        pytest.param("2x10", "joist", 3, False, id="3 in in a 2x10"),
        pytest.param("2x10", "joist", 3.125, True, id="3-1/8 in in a 2x10"),
    ],
)
def test_holes_in_joists_and_rafters(member: str, role: str, hole: float, refused: bool) -> None:
    run = {"member": member, "material": "wood", "role": role, "how": "bored", "hole": {"diameter": hole, "centre_offset": 0}}
    assert is_refused(answered("bore-strength", run)) is refused


# What inspectors write up

WRITTEN_UP = [
    # James City County, most frequent rough-in violations, items 9, 10, 13, 14 and 15.
    pytest.param("bored-hole-edge", {**RUN, "how": "bored", "edge_distance": 1, "plates": "none"}, {}, id="item 9"),
    pytest.param("parallel-run-edge", {**RUN, "how": "along_member", "edge_distance": 1, "plates": "none"}, {}, id="item 10"),
    pytest.param(
        "exposed-run",
        {"level": "m", "how": "surface", "guard": "surface", "across": True},
        {"levels": {"m": {"kind": "basement"}}, "cable": {"size": "12 AWG"}},
        id="item 13",
    ),
    pytest.param(
        "exposed-run",
        {"level": "m", "how": "attic", "guard": "none", "across": True, "above_attic_floor": 80},
        {"levels": {"m": {"kind": "attic", "attic_access": "stair"}}},
        id="item 14",
    ),
    pytest.param("support-interval", {**RUN, "how": "along_member", "supports": {"spacing": 60}}, {}, id="item 15: 4-1/2 ft"),
    pytest.param(
        "first-support", {**RUN, "how": "along_member", "supports": {"first": 9}}, {}, id="item 15: 8 in without clamps"
    ),
    pytest.param(
        "first-support",
        {**RUN, "how": "along_member", "supports": {"first": 13}},
        {"box": {"clamps": "internal"}},
        id="item 15: 12 in with clamps",
    ),
    # Person County, rough inspections 11 and 13.
    pytest.param("notch-plate", {**RUN, "how": "notch", "plates": "none"}, {}, id="plates installed"),
    pytest.param(
        "sheath-into-box", {**RUN, "how": "bored"}, {"box": {"sheath_inside": 0}}, id="sheathing intact to inside of box"
    ),
    # Rocky Mount, rough walls and rough ceiling.
    pytest.param("boxes-fastened", {**RUN, "how": "bored"}, {"box": {"fastened": "none"}}, id="boxes not fastened"),
    # forum.nachi.org/t/995: steel framing.
    pytest.param(
        "metal-framing-bushing", {"how": "bored", "material": "steel", "bushing": False}, {}, id="no bushings in steel"
    ),
]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("rule", "run", "more"), WRITTEN_UP)
def test_what_inspectors_write_up_is_found(rule: str, run: dict[str, Any], more: dict[str, Any], edition: str) -> None:
    assert any(isinstance(each, Violation) for each in answered(rule, run, edition, **more))


# Editions

CLOSE = {"level": "m", "how": "along_member", "points": [[0, 0], [9, 0]], "heights": [90, 90], "roof_deck_clearance": 1}
WOOD_DECK = {"m": {"kind": "storey", "ceiling": {"height": 80, "decking": "wood"}}}


# Any decking in 2026, corrugated metal before:
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1898
@pytest.mark.parametrize(("edition", "refused"), [("2017", False), ("2020", False), ("2023", False), ("2026", True)])
def test_wood_deck_counts_from_2026_on(edition: str, refused: bool) -> None:
    assert is_refused(answered("roof-deck-clearance", CLOSE, edition, levels=WOOD_DECK)) is refused


# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1924
@pytest.mark.parametrize(
    ("edition", "side", "answer"),
    [
        ("2026", "flat", Pass),
        ("2026", "edge", Violation),
        ("2023", "flat", Violation),
        ("2023", "edge", Violation),
        ("2020", "flat", Judgement),
        ("2017", "flat", Judgement),
    ],
)
def test_flat_cable_bent_to_one_inch(edition: str, side: str, answer: type) -> None:
    run = {**RUN, "how": "bored", "bend": {"radius": 1, "side": side}}
    assert [type(each) for each in answered("bend-radius", run, edition)] == [answer]


# 12 in, and 18 in of cable from the entry: circuitiq.ai/blogs/blog/romex-cable-support-requirements-2024; its first edition from memory.
@pytest.mark.parametrize(("along", "answer"), [(18, Pass), (18.5, Violation)])
def test_slack_loop_at_a_clamped_box(along: float, answer: type) -> None:
    run = {**RUN, "how": "along_member", "supports": {"first": along, "first_straight": 10}}
    assert {type(each) for each in answered("first-support", run, "2023", box={"clamps": "internal"})} == {answer}


@pytest.mark.parametrize("edition", EDITIONS)
def test_first_paragraph_of_a_bad_job_cannot_be_clear(edition: str) -> None:
    """Cables 1/4 in from the edge without plates, 3 in holes in bearing 2x4s, staples 8 ft apart: each is found."""
    near = {"wall": "w", "how": "along_member", "edge_distance": 0.25, "plates": "none", "supports": {"spacing": 96}}
    large = {"wall": "w", "how": "bored", "hole": {"diameter": 3, "centre_offset": 0}, "plates": "none"}
    for rule, run in (
        ("parallel-run-edge", near),
        ("support-interval", near),
        ("bored-hole-edge", large),
        ("bore-strength", large),
    ):
        assert is_refused(answered(rule, run, edition, walls=wall("2x4", "interior", bearing=True)))
