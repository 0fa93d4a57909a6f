"""The checker finds what is wired wrongly; a checker that finds nothing would prove nothing."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from calc.switching.checker import complaints
from nailplate.calc.switching import (
    Cable,
    CableEnd,
    CableWiring,
    Conductor,
    Control,
    Joint,
    Layout,
    Load,
    Net,
    Outlet,
    Role,
    Supply,
    Switch,
    Terminal,
    Wiring,
    solve,
)
from nailplate.plan.words import Ways

LAYOUT = Layout(
    feed="panel",
    boxes=("panel", "foot", "mid", "head", "light", "porch"),
    cables=(
        Cable("home", ("panel", "foot"), 2),
        Cable("low", ("foot", "mid"), 4),
        Cable("high", ("mid", "head"), 3),
        Cable("leg", ("head", "light"), 2),
        Cable("on", ("mid", "porch"), 2),
    ),
    controls=(
        Control(
            "stair",
            (
                Switch("s1", "foot", Ways.THREE_WAY),
                Switch("s2", "mid", Ways.FOUR_WAY),
                Switch("s3", "head", Ways.THREE_WAY),
            ),
            (Outlet("lamp", "light"),),
        ),
    ),
    loads=(Load("receptacle", "porch"),),
)


def sound() -> Wiring:
    wiring = solve(LAYOUT)
    assert isinstance(wiring, Wiring)
    return wiring


def swapped(wiring: Wiring, box: str, one: CableEnd | Terminal, other: CableEnd | Terminal) -> Wiring:
    """Two ends in a box put where the other was."""
    turn = {one: other, other: one}
    joints = tuple(
        replace(joint, ends=tuple(turn.get(end, end) for end in joint.ends)) if joint.box == box else joint
        for joint in wiring.joints
    )
    assert joints != wiring.joints
    return replace(wiring, joints=joints)


def without(wiring: Wiring, box: str, end: CableEnd | Terminal) -> Wiring:
    return replace(
        wiring,
        joints=tuple(
            replace(joint, ends=tuple(each for each in joint.ends if each != end)) if joint.box == box else joint
            for joint in wiring.joints
        ),
    )


def bridged(wiring: Wiring, box: str, *nets: Role) -> Wiring:
    """Two joints of a box made one."""
    those = [joint for joint in wiring.joints_in(box) if joint.net.role in nets]
    assert len(those) > 1
    one = replace(those[0], ends=tuple(end for joint in those for end in joint.ends))
    return replace(wiring, joints=(*(joint for joint in wiring.joints if joint not in those), one))


BROKEN: list[tuple[str, Callable[[Wiring], Wiring], str]] = [
    (
        "common and a traveler of a three-way switch mixed up",
        lambda w: swapped(w, "head", Terminal("s3", "common"), Terminal("s3", "traveler 1")),
        "does not follow its switches",
    ),
    (
        "a line and a load terminal of a four-way switch mixed up",
        lambda w: swapped(w, "mid", Terminal("s2", "in 1"), Terminal("s2", "out 1")),
        "does not follow its switches",
    ),
    (
        "the neutral run through the switch and the hot straight on",
        lambda w: swapped(w, "foot", CableEnd("home", "black"), CableEnd("home", "white")),
        "missing or switched",
    ),
    ("a splice left out", lambda w: without(w, "mid", CableEnd("low", "white")), "missing or switched"),
    ("a hot spliced to a neutral", lambda w: bridged(w, "mid", Role.HOT, Role.NEUTRAL), "are joined in"),
    ("the light on the hot", lambda w: bridged(w, "foot", Role.HOT, Role.TRAVELER), "does not follow its switches"),
    ("the receptacle on a traveler", lambda w: _receptacle_on_traveler(w), "lacks the hot"),
    ("a conductor joined in two places", lambda w: _joined_twice(w), "is joined twice"),
    ("a cable that does not come into the box", lambda w: _from_elsewhere(w), "where it is not"),
    ("two conductors of one color", lambda w: _one_color(w), "have one color"),
]


@pytest.mark.parametrize(("broken", "said"), [pytest.param(each[1], each[2], id=each[0]) for each in BROKEN])
def test_the_checker_catches(broken: Callable[[Wiring], Wiring], said: str) -> None:
    assert complaints(sound()) == []
    found = complaints(broken(sound()))
    assert any(said in complaint for complaint in found), found


def _receptacle_on_traveler(wiring: Wiring) -> Wiring:
    hot, traveler = (next(j for j in wiring.joints_in("mid") if j.net.role is role) for role in (Role.HOT, Role.TRAVELER))
    end = CableEnd("on", next(each.color for each in wiring.cables["on"].conductors if each.net.role is Role.HOT))
    moved = {
        hot: replace(hot, ends=tuple(each for each in hot.ends if each != end)),
        traveler: replace(traveler, ends=(*traveler.ends, end)),
    }
    return replace(wiring, joints=tuple(moved.get(joint, joint) for joint in wiring.joints))


def _joined_twice(wiring: Wiring) -> Wiring:
    return replace(wiring, joints=(*wiring.joints, Joint("light", Net(Role.SPARE), (CableEnd("leg", "black"),))))


def _from_elsewhere(wiring: Wiring) -> Wiring:
    return replace(wiring, joints=(*wiring.joints, Joint("porch", Net(Role.SPARE), (CableEnd("high", "red"),))))


def _one_color(wiring: Wiring) -> Wiring:
    high = wiring.cables["high"]
    same = tuple(replace(each, color="black") if each.color == "red" else each for each in high.conductors)
    return replace(wiring, cables={**wiring.cables, "high": replace(high, conductors=same)})


# Wired by hand, as it is met in old houses


def by_hand(
    layout: Layout, carried: dict[str, list[tuple[str, Role]]], joints: list[tuple[str, list[CableEnd | Terminal]]]
) -> Wiring:
    cables = {
        name: CableWiring(name, len(conductors), 2, tuple(Conductor(name, color, Net(role)) for color, role in conductors))
        for name, conductors in carried.items()
    }
    return Wiring(layout, cables, tuple(Joint(box, Net(Role.HOT), tuple(ends)) for box, ends in joints), {}, ())


def test_a_neutral_borrowed_from_another_cable_is_caught() -> None:
    """The hot comes over the switch, the neutral from the other way round: 300.3(B)."""
    layout = Layout(
        feed="panel",
        boxes=("panel", "switch", "light"),
        cables=(Cable("a", ("panel", "switch"), 2), Cable("b", ("switch", "light"), 2), Cable("c", ("panel", "light"), 2)),
        controls=(Control("x", (Switch("s", "switch"),), (Outlet("lamp", "light"),)),),
    )
    two = [("black", Role.HOT), ("white", Role.NEUTRAL)]
    wiring = by_hand(
        layout,
        {"a": two, "b": two, "c": two},
        [
            ("panel", [Terminal("", "hot"), CableEnd("a", "black")]),
            ("switch", [CableEnd("a", "black"), Terminal("s", "line")]),
            ("switch", [Terminal("s", "load"), CableEnd("b", "black")]),
            ("light", [CableEnd("b", "black"), Terminal("lamp", "switched hot", "x")]),
            ("light", [CableEnd("c", "white"), Terminal("lamp", "neutral", "x")]),
            ("panel", [Terminal("", "neutral"), CableEnd("c", "white")]),
        ],
    )
    assert set(complaints(wiring)) == {
        "the current of lamp does not return by cable a",
        "the current of lamp does not return by cable b",
        "the current of lamp does not return by cable c",
    }


def test_a_three_way_pair_that_switches_hot_against_neutral_is_caught() -> None:
    """The lamp between the commons, hot and neutral on the travelers of both switches: the neutral is switched, 404.2(A) and (B)."""
    layout = Layout(
        feed="one",
        boxes=("one", "two"),
        cables=(Cable("a", ("one", "two"), 3),),
        controls=(
            Control(
                "x",
                (Switch("s1", "one", Ways.THREE_WAY), Switch("s2", "two", Ways.THREE_WAY)),
                (Outlet("lamp", "two"),),
            ),
        ),
    )
    wiring = by_hand(
        layout,
        {"a": [("black", Role.HOT), ("red", Role.SWITCHED_HOT), ("white", Role.NEUTRAL)]},
        [
            ("one", [Terminal("", "hot"), CableEnd("a", "black"), Terminal("s1", "traveler 1")]),
            ("one", [Terminal("", "neutral"), CableEnd("a", "white"), Terminal("s1", "traveler 2")]),
            ("one", [Terminal("s1", "common"), CableEnd("a", "red")]),
            ("two", [CableEnd("a", "black"), Terminal("s2", "traveler 1")]),
            ("two", [CableEnd("a", "white"), Terminal("s2", "traveler 2")]),
            ("two", [CableEnd("a", "red"), Terminal("lamp", "switched hot", "x")]),
            ("two", [Terminal("s2", "common"), Terminal("lamp", "neutral", "x")]),
        ],
    )
    assert "the neutral of lamp is missing or switched" in complaints(wiring)


def test_a_white_that_returns_from_the_switch_is_caught() -> None:
    """200.7(C)(1): in a switch loop the white is the supply to the switch."""
    layout = Layout(
        feed="light",
        boxes=("light", "switch"),
        cables=(Cable("a", ("light", "switch"), 2),),
        controls=(Control("x", (Switch("s", "switch"),), (Outlet("lamp", "light"),)),),
    )
    right = solve(layout)
    assert isinstance(right, Wiring)
    assert complaints(right) == []
    cable = right.cables["a"]
    turned = {"black": "white", "white": "black"}
    conductors = tuple(
        Conductor("a", turned[each.color], each.net, reidentified=not each.reidentified) for each in cable.conductors
    )
    joints = tuple(
        replace(
            joint,
            ends=tuple(CableEnd("a", turned[end.color]) if isinstance(end, CableEnd) else end for end in joint.ends),
        )
        for joint in right.joints
    )
    wrong = replace(right, cables={"a": replace(cable, conductors=conductors)}, joints=joints)
    assert complaints(wrong) == ["the white of a returns from a switch to the outlet"]
    assert layout.controls[0].hot is Supply.HOT
