"""The trade's table of cables by use, worked out and not looked up.

Source of the rows: common practice in house wiring, as follows from NEC 200.7(C), 300.3(B), 404.2(A) and (C), 210.4 and 210.7;
300.3(B) and the travelers' cable are discussed in public at
http://tonetastic.info/read/how-to-wire-way-switch-with-2-wire-electrical-wiring-existing-3-switch-in-basement-stairs-that-how-to-wire-a-light-diagram-93
and the white of a switch loop at http://ecmweb.com/nec/2017-national-electrical-code-changes?page=13.
"""

from dataclasses import dataclass

import pytest

from calc.switching.checker import complaints
from nailplate.calc.switching import Cable, Control, Layout, Load, Outlet, Signal, Supply, Switch, Wiring, solve
from nailplate.plan.words import Ways

THREE, FOUR = Ways.THREE_WAY, Ways.FOUR_WAY
ONE_LAMP = (Outlet("lamp", "light"),)


@dataclass(frozen=True)
class Use:
    """A use, the layout of it, and what each cable carries, color by color where white matters."""

    name: str
    layout: Layout
    carries: dict[str, list[str]]
    marked: tuple[str, ...] = ()


def layout(cables: dict[str, tuple[str, str]], feed: str, *controls: Control, **more: object) -> Layout:
    boxes = tuple(dict.fromkeys((feed, *(box for ends in cables.values() for box in ends))))
    return Layout(
        feed=feed,
        boxes=boxes,
        cables=tuple(Cable(name, ends) for name, ends in cables.items()),
        controls=controls,
        **more,  # type: ignore[arg-type]  # fields of Layout by name
    )


def single(box: str = "switch") -> Control:
    return Control("x", (Switch("s", box),), ONE_LAMP)


def pair(first: str, second: str, *between: str) -> Control:
    middle = (Switch(f"s-{box}", box, FOUR) for box in between)
    return Control("x", (Switch("s1", first, THREE), *middle, Switch("s2", second, THREE)), ONE_LAMP)


HOT, NEUTRAL, SWITCHED, TRAVELER = "hot", "neutral", "switched hot", "traveler"
USES = [
    Use(
        "feed to switch box then light, single pole: 14-2 and 14-2",
        layout({"home": ("panel", "switch"), "leg": ("switch", "light")}, "panel", single()),
        {"home": [HOT, NEUTRAL], "leg": [NEUTRAL, SWITCHED]},
    ),
    Use(
        "feed at light, switch leg with neutral: 14-3",
        layout({"home": ("panel", "light"), "loop": ("light", "switch")}, "panel", single(), neutral_at=("switch",)),
        {"home": [HOT, NEUTRAL], "loop": [HOT, NEUTRAL, SWITCHED]},
    ),
    Use(
        "feed at light, old loop without neutral: 14-2, the white marked and the supply to the switch",
        layout({"home": ("panel", "light"), "loop": ("light", "switch")}, "panel", single()),
        {"home": [HOT, NEUTRAL], "loop": [HOT, SWITCHED]},
        marked=("loop hot",),
    ),
    Use(
        "three-way, feed at the first switch, light after the second: 14-2, 14-3, 14-2",
        layout({"home": ("panel", "a"), "run": ("a", "b"), "leg": ("b", "light")}, "panel", pair("a", "b")),
        {"home": [HOT, NEUTRAL], "run": [NEUTRAL, TRAVELER, TRAVELER], "leg": [NEUTRAL, SWITCHED]},
    ),
    Use(
        "three-way, feed at light, both switches downstream in a row, neutral required: 14-3 to the first, 14-4 on",
        layout(
            {"home": ("panel", "light"), "down": ("light", "a"), "run": ("a", "b")},
            "panel",
            pair("a", "b"),
            neutral_at=("a", "b"),
        ),
        {
            "home": [HOT, NEUTRAL],
            "down": [HOT, NEUTRAL, SWITCHED],
            "run": [NEUTRAL, SWITCHED, TRAVELER, TRAVELER],
        },
    ),
    Use(
        "three-way, feed at light, switches on either side of it, neutral required: 14-4 on the side of the switched hot",
        layout(
            {"home": ("panel", "light"), "left": ("light", "a"), "right": ("light", "b")},
            "panel",
            pair("a", "b"),
            neutral_at=("a", "b"),
        ),
        {
            "home": [HOT, NEUTRAL],
            "left": [HOT, NEUTRAL, TRAVELER, TRAVELER],
            "right": [NEUTRAL, SWITCHED, TRAVELER, TRAVELER],
        },
    ),
    Use(
        "four-way inserted between three-ways: 14-3 in and 14-3 out",
        layout(
            {"home": ("panel", "a"), "in": ("a", "m"), "out": ("m", "b"), "leg": ("b", "light")},
            "panel",
            pair("a", "b", "m"),
        ),
        {
            "home": [HOT, NEUTRAL],
            "in": [NEUTRAL, TRAVELER, TRAVELER],
            "out": [NEUTRAL, TRAVELER, TRAVELER],
            "leg": [NEUTRAL, SWITCHED],
        },
    ),
    Use(
        "two lights from one two-gang box: 14-2 each",
        layout(
            {"home": ("panel", "switch"), "one": ("switch", "light"), "two": ("switch", "other")},
            "panel",
            single(),
            Control("y", (Switch("t", "switch"),), (Outlet("lamp 2", "other"),)),
        ),
        {"home": [HOT, NEUTRAL], "one": [NEUTRAL, SWITCHED], "two": [NEUTRAL, SWITCHED]},
    ),
    Use(
        "fan and light switched apart: 14-3 from switches to ceiling",
        layout(
            {"home": ("panel", "switch"), "leg": ("switch", "light")},
            "panel",
            single(),
            Control("y", (Switch("t", "switch"),), (Outlet("fan", "light"),)),
        ),
        {"home": [HOT, NEUTRAL], "leg": [NEUTRAL, SWITCHED, SWITCHED]},
    ),
    Use(
        "half-switched receptacle: 14-3",
        layout({"home": ("panel", "switch"), "leg": ("switch", "light")}, "panel", single(), loads=(Load("lamp", "light"),)),
        {"home": [HOT, NEUTRAL], "leg": [HOT, NEUTRAL, SWITCHED]},
    ),
    Use(
        "multiwire home run: 14-3, then 14-2 for each",
        layout(
            {"home": ("panel", "split"), "one": ("split", "a"), "two": ("split", "b")},
            "panel",
            loads=(Load("r", "a"), Load("t", "b", (Supply.SECOND_HOT, Supply.NEUTRAL))),
        ),
        {"home": [HOT, NEUTRAL, "second hot"], "one": [HOT, NEUTRAL], "two": [NEUTRAL, "second hot"]},
    ),
    Use(
        "240 V heater without neutral: 12-2, the white marked",
        layout({"home": ("panel", "heater")}, "panel", loads=(Load("h", "heater", (Supply.HOT, Supply.SECOND_HOT)),)),
        {"home": [HOT, "second hot"]},
        marked=("home second hot",),
    ),
    Use(
        "range or dryer: 6-3 or 10-3, two hots and a neutral",
        layout({"home": ("panel", "range")}, "panel", loads=(Load("r", "range", tuple(Supply)),)),
        {"home": [HOT, NEUTRAL, "second hot"]},
    ),
    Use(
        "interconnected smoke alarms: 14-3 between them",
        layout(
            {"home": ("panel", "a"), "on": ("a", "b")},
            "panel",
            loads=(Load("alarm a", "a"), Load("alarm b", "b")),
            signals=(Signal("alarms", (("alarm a", "a"), ("alarm b", "b"))),),
        ),
        {"home": [HOT, NEUTRAL], "on": [HOT, NEUTRAL, "signal"]},
    ),
]


@pytest.mark.parametrize("use", [pytest.param(use, id=use.name) for use in USES])
def test_the_cable_that_a_use_takes(use: Use) -> None:
    wiring = solve(use.layout)
    assert isinstance(wiring, Wiring)
    assert complaints(wiring) == []
    assert {name: sorted(net.role.value for net in cable.carried) for name, cable in wiring.cables.items()} == use.carries
    conductors = [each for cable in wiring.cables.values() for each in cable.conductors]
    assert tuple(f"{each.cable} {each.net.role}" for each in conductors if each.reidentified) == use.marked


@pytest.mark.parametrize(
    ("switches", "conductors"),
    # Common practice: at a switch box without a neutral, single-pole 2, three-way 3 (common and two travelers), four-way 4.
    [
        (("s",), {"s": 2}),
        (("a", "b"), {"a": 3, "b": 3}),
        (("a", "m", "b"), {"a": 3, "m": 4, "b": 3}),
    ],
)
def test_least_conductors_at_a_switch(switches: tuple[str, ...], conductors: dict[str, int]) -> None:
    spurs = {f"to {box}": ("light", box) for box in switches}
    control = single("s") if len(switches) == 1 else pair(switches[0], switches[-1], *switches[1:-1])
    wiring = solve(layout({"home": ("panel", "light"), **spurs}, "panel", control))
    assert isinstance(wiring, Wiring)
    assert {box: wiring.cables[f"to {box}"].needs for box in switches} == conductors
