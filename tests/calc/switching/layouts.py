"""Layouts for tests: trees of cables with controls, loads and signals strewn over them."""

from hypothesis import strategies as st

from nailplate.calc.switching import Cable, Control, Layout, Load, Outlet, Signal, Supply, Switch
from nailplate.plan.words import Ways

MOST_BOXES = 8
MOST_SWITCHES = 4
MOST_IN_ALL = 7
"""Switches of one layout: their positions are all tried."""


def switches_of(control: str, boxes: list[str]) -> tuple[Switch, ...]:
    """Single-pole for one box, else three-way at both ends and four-way between."""
    if len(boxes) == 1:
        return (Switch(f"{control}-s0", boxes[0]),)
    last = len(boxes) - 1
    return tuple(
        Switch(f"{control}-s{number}", box, Ways.THREE_WAY if number in (0, last) else Ways.FOUR_WAY)
        for number, box in enumerate(boxes)
    )


@st.composite
def layouts(draw: st.DrawFn, *, counted: bool = True, most_controls: int = 3) -> Layout:
    """Any layout that can be wired, if need be with larger cables. ``counted``: some cables say how many conductors they have."""
    boxes = [f"b{number}" for number in range(draw(st.integers(1, MOST_BOXES)))]
    cables = tuple(draw(_cable(number, boxes, counted=counted)) for number in range(1, len(boxes)))
    a_box = st.sampled_from(boxes)
    controls: list[Control] = []
    left = MOST_IN_ALL
    for number in range(draw(st.integers(0, most_controls))):
        many = draw(st.integers(1, min(MOST_SWITCHES, left)))
        left -= many
        controls.append(draw(_control(f"c{number}", many, a_box)))
        if not left:
            break
    loads = [Load(f"l{n}", draw(a_box), draw(_needs)) for n in range(draw(st.integers(0, 3)))]
    alarms = draw(st.lists(a_box, min_size=2, max_size=3)) if draw(st.booleans()) else []
    return Layout(
        feed=draw(a_box),
        boxes=tuple(boxes),
        cables=tuple(draw(st.permutations(cables))),
        controls=tuple(controls),
        loads=tuple(loads),
        signals=(Signal("alarms", tuple((f"a{n}", box) for n, box in enumerate(alarms))),) if alarms else (),
        neutral_at=tuple(draw(st.lists(a_box, max_size=2))),
        neutral_wished=tuple(draw(st.lists(a_box, max_size=3))),
    )


_needs = st.sampled_from(
    [(Supply.HOT, Supply.NEUTRAL), (Supply.SECOND_HOT, Supply.NEUTRAL), (Supply.HOT, Supply.SECOND_HOT), tuple(Supply)]
)


@st.composite
def _cable(draw: st.DrawFn, number: int, boxes: list[str], *, counted: bool) -> Cable:
    ends = draw(st.permutations([boxes[number], boxes[draw(st.integers(0, number - 1))]]))
    return Cable(
        f"k{number}",
        (ends[0], ends[1]),
        draw(st.sampled_from([None, 2, 2, 3, 3, 4, 5])) if counted else None,
        float(draw(st.integers(1, 9))),
        white_marked=draw(st.booleans()),
        raceway=draw(st.sampled_from([False, False, False, True])),
    )


@st.composite
def _control(draw: st.DrawFn, name: str, many: int, a_box: st.SearchStrategy[str]) -> Control:
    switches = switches_of(name, [draw(a_box) for _ in range(many)])
    both_hots = draw(st.sampled_from([False, False, True]))
    if both_hots and many == 1 and draw(st.booleans()):
        switches = (Switch(switches[0].id, switches[0].box, Ways.DOUBLE_POLE),)
    back = Supply.SECOND_HOT if both_hots else Supply.NEUTRAL
    hot = Supply.HOT if both_hots else draw(st.sampled_from([Supply.HOT, Supply.SECOND_HOT]))
    outlets = tuple(Outlet(f"{name}-o{n}", draw(a_box), back) for n in range(draw(st.integers(1, 3))))
    return Control(name, tuple(draw(st.permutations(switches))), outlets, hot)
