"""What makes a layout impossible to wire: boxes that are not there, loops of cables, switches that do not match."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.steps import CalculationError
from nailplate.calc.switching.layout import Cable, Control, Layout, Supply
from nailplate.plan.words import Ways

LEAST_IN_CABLE = 2
"""A current path and its return."""
ENDS_OF_CHAIN = 2
"""Three-way switches come in pairs: one takes the hot, the other gives the switched hot."""


class FaultKind(StrEnum):
    """The kinds of fault in a layout."""

    UNKNOWN_BOX = "unknown_box"
    NO_FEED = "no_feed"
    LOOP = "loop"
    ONE_CONDUCTOR = "one_conductor"
    UNMATCHED_SWITCHES = "unmatched_switches"
    NOTHING_CONTROLLED = "nothing_controlled"
    TWICE_NAMED = "twice_named"


@dataclass(frozen=True, slots=True)
class LayoutFault:
    """One fault: its kind, the part that it is about (``("cables", "c2")``), and what to say of it."""

    kind: FaultKind
    part: tuple[str, str]
    words: str


class LayoutRefused(CalculationError):
    """The layout cannot be wired; ``faults`` says everything that is wrong with it."""

    def __init__(self, faults: tuple[LayoutFault, ...]) -> None:
        super().__init__("; ".join(fault.words for fault in faults))
        self.faults = faults


def layout_faults(layout: Layout) -> tuple[LayoutFault, ...]:
    """Everything that is wrong with a layout, in its order."""
    return (
        *_name_faults(layout),
        *_box_faults(layout),
        *_cable_faults(layout),
        *(fault for control in layout.controls for fault in control_faults(control)),
    )


def control_faults(control: Control) -> Iterator[LayoutFault]:
    """What is wrong with one control by itself."""
    part = ("controls", control.id)
    if not control.outlets:
        yield LayoutFault(FaultKind.NOTHING_CONTROLLED, part, "no outlet is named that the switches control")
    words = mismatch([switch.kind for switch in control.switches])
    if words:
        yield LayoutFault(FaultKind.UNMATCHED_SWITCHES, part, words)


def mismatch(kinds: list[Ways]) -> str:
    """Why switches of these kinds cannot work together; empty where they can."""
    if not kinds:
        return "no switch is named"
    if len(kinds) == 1:
        lone = kinds[0] in (Ways.SINGLE_POLE, Ways.DOUBLE_POLE)
        return "" if lone else f"one {_said(kinds[0])} switch alone; one point of control takes a single-pole switch"
    ends = kinds.count(Ways.THREE_WAY)
    found = f"{len(kinds)} points of control"
    if len(kinds) - ends - kinds.count(Ways.FOUR_WAY):
        return f"{found}, and one of them is a single-pole or double-pole switch; {_WANTED}"
    if ends != ENDS_OF_CHAIN:
        return f"{found} with {ends or 'no'} three-way switch{'' if ends == 1 else 'es'}; {_WANTED}"
    return ""


_WANTED = "exactly two three-way switches are wanted, and a four-way switch for each further point"


def _said(kind: Ways) -> str:
    return kind.value.replace("_", "-")


def _name_faults(layout: Layout) -> Iterator[LayoutFault]:
    for name, kind in ((layout.boxes, "boxes"), ([each.id for each in layout.cables], "cables")):
        yield from _twice(name, kind)
    yield from _twice([control.id for control in layout.controls], "controls")
    yield from _twice([switch.id for switch in layout.switches], "switches")


def _twice(names: Iterable[str], kind: str) -> Iterator[LayoutFault]:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            yield LayoutFault(FaultKind.TWICE_NAMED, (kind, name), f"'{name}' is named twice")
        seen.add(name)


def _box_faults(layout: Layout) -> Iterator[LayoutFault]:
    known = set(layout.boxes)
    for part, box in _named_boxes(layout):
        if box not in known:
            yield LayoutFault(FaultKind.UNKNOWN_BOX, part, f"'{box}' is no box of the layout")
    reached = _reached(layout)
    for part, box in _used_boxes(layout):
        if box in known and layout.feed in known and box not in reached:
            yield LayoutFault(FaultKind.NO_FEED, part, f"no cable leads from the feed to box '{box}'")


def _used_boxes(layout: Layout) -> Iterator[tuple[tuple[str, str], str]]:
    for control in layout.controls:
        yield from ((("switches", switch.id), switch.box) for switch in control.switches)
        yield from ((("outlets", outlet.id), outlet.box) for outlet in control.outlets)
    yield from ((("loads", load.id), load.box) for load in layout.loads)
    yield from ((("signals", signal.id), box) for signal in layout.signals for _, box in signal.joins)
    yield from ((("boxes", box), box) for box in (*layout.neutral_at, *layout.neutral_wished))


def _named_boxes(layout: Layout) -> Iterator[tuple[tuple[str, str], str]]:
    yield ("feed", layout.feed), layout.feed
    yield from ((("cables", cable.id), end) for cable in layout.cables for end in cable.ends)
    yield from _used_boxes(layout)


def _reached(layout: Layout) -> set[str]:
    beside: dict[str, list[str]] = {}
    for cable in layout.cables:
        one, other = cable.ends
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    reached, left = {layout.feed}, [layout.feed]
    while left:
        for box in beside.get(left.pop(), ()):
            if box not in reached:
                reached.add(box)
                left.append(box)
    return reached


def _cable_faults(layout: Layout) -> Iterator[LayoutFault]:
    for cable in layout.cables:
        if cable.insulated is not None and cable.insulated < LEAST_IN_CABLE:
            words = "a cable with one insulated conductor cannot carry a current and its return"
            yield LayoutFault(FaultKind.ONE_CONDUCTOR, ("cables", cable.id), words)
    for closing in closing_cables(layout.cables):
        words = "this cable closes a loop; a current could leave by one cable and return by another"
        yield LayoutFault(FaultKind.LOOP, ("cables", closing), words)


def closing_cables(cables: Iterable[Cable]) -> Iterator[str]:
    """Each cable that joins boxes which the cables before it join already."""
    parent: dict[str, str] = {}

    def root(box: str) -> str:
        while (above := parent.setdefault(box, box)) != box:
            parent[box] = box = parent.setdefault(above, above)
        return box

    for cable in cables:
        one, other = (root(end) for end in cable.ends)
        if one == other:
            yield cable.id
        parent[one] = other


def two_hots(control: Control) -> bool:
    """Whether a control opens both hots of what it controls."""
    takes_both = control.switches[0].kind is Ways.DOUBLE_POLE
    return takes_both and any(outlet.back is Supply.SECOND_HOT for outlet in control.outlets)
