"""Choices of the solver where conductors are scarce, each on a layout in which the next best thing would be chosen otherwise."""

from dataclasses import replace

from calc.switching.checker import complaints
from calc.switching.test_broken_wirings import bridged, sound
from nailplate.calc.switching import Cable, Control, Layout, Outlet, Role, Switch, Wiring, solve, truth_table
from nailplate.plan.words import Ways

LOOP = Layout(
    feed="light",
    boxes=("light", "door"),
    cables=(Cable("loop", ("light", "door"), 3),),
    controls=(Control("x", (Switch("s", "door"),), (Outlet("o", "light"),)),),
    neutral_wished=("door",),
)


def pair(name: str, one: str, other: str, outlet: str) -> Control:
    switches = (Switch(f"{name}1", one, Ways.THREE_WAY), Switch(f"{name}2", other, Ways.THREE_WAY))
    return Control(name, switches, (Outlet(f"{name}o", outlet),))


def solved(layout: Layout) -> Wiring:
    wiring = solve(layout)
    assert isinstance(wiring, Wiring)
    assert complaints(wiring) == []
    return wiring


def with_neutral(wiring: Wiring) -> set[str]:
    return {joint.box for joint in wiring.joints if joint.net.role is Role.NEUTRAL}


def test_fewest_conductors_short_comes_before_neutrals_for_later() -> None:
    layout = Layout(
        feed="c",
        boxes=("a", "b", "c"),
        cables=(Cable("ba", ("b", "a"), 5), Cable("ca", ("c", "a"), 2)),
        controls=(pair("x", "b", "b", "a"), pair("y", "b", "c", "a")),
        neutral_wished=("b", "c"),
    )
    wiring = solved(layout)
    assert [(each.cable, each.has, each.needs) for each in wiring.shortages] == [("ca", 2, 4)]
    assert wiring.orders["y"] == ("y2", "y1")


def test_a_neutral_at_each_switch_comes_before_copper() -> None:
    layout = Layout(
        feed="a",
        boxes=("a", "b", "c"),
        cables=(Cable("ba", ("b", "a"), 5, 7.0), Cable("cb", ("c", "b"), 5, 5.0)),
        controls=(pair("x", "c", "a", "b"), pair("y", "c", "c", "b")),
        neutral_wished=("a", "c"),
    )
    assert with_neutral(solved(layout)) == {"a", "b", "c"}
    without = solved(replace(layout, neutral_wished=()))
    copper = [
        sum(cable.length * wiring.cables[cable.id].needs for cable in layout.cables) for wiring in (solved(layout), without)
    ]
    assert copper[0] > copper[1]


def test_a_white_that_is_marked_as_a_hot_brings_no_neutral_for_later() -> None:
    assert with_neutral(solved(LOOP)) == {"light", "door"}
    marked = replace(LOOP, cables=(replace(LOOP.cables[0], white_marked=True),))
    assert with_neutral(solved(marked)) == {"light"}


def test_a_raceway_gets_no_white_but_for_a_neutral() -> None:
    raceway = replace(LOOP, cables=(Cable("loop", ("light", "door"), 2, raceway=True),))
    assert [each.color for each in solved(raceway).cables["loop"].conductors] == ["black", "red"]


def test_the_table_tells_a_short() -> None:
    assert not any(row.shorted for row in truth_table(sound()))
    assert all(row.shorted for row in truth_table(bridged(sound(), "mid", Role.HOT, Role.NEUTRAL)))
