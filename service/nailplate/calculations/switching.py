"""The calculation ``switching``: boxes, cables and switches in; what each conductor carries, and the table of positions, out."""

from collections.abc import Iterator
from typing import Annotated, Any

from nailplate.calc import switching as circuitry
from nailplate.calc.steps import CalculationError, Step
from nailplate.calc.switching import FaultKind, LayoutFault, LayoutRefused, NotWorkedOut, Wiring
from nailplate.calculations.asked import Request, calculation, given
from nailplate.calculations.switching_answer import name_of, numbered, result_of
from nailplate.codes import Edition
from nailplate.plan import ROOT, Facts, Fault, FaultCode, PlanRefused, Pointer
from nailplate.plan.facts import Doc, Items, Key, Needed, drawn
from nailplate.plan.marks import Count, WireSize
from nailplate.plan.words import Ways
from nailplate.units import count

MOST_SWITCHES = 8
"""Each further one doubles the table of positions."""


@drawn
class WiredCable(Facts):
    """A cable between two boxes."""

    start: Annotated[str, Key("from"), Doc("the box at one end"), Needed]
    end: Annotated[str, Key("to"), Doc("the box at the other end"), Needed]
    conductors: Annotated[Count, Doc("its insulated conductors; left out: as many as are needed")]
    size: Annotated[WireSize, Doc("of its conductors, to name the cable that would do")]


@drawn
class WiredSwitch(Facts):
    """A switch in a box."""

    box: Annotated[str, Doc("the box that it is in"), Needed]
    kind: Annotated[Ways, Doc("how it switches"), Needed]
    control: Annotated[str, Doc("the control that it belongs to, where there are several")]


@drawn
class WiredOutlet(Facts):
    """An outlet that switches control."""

    box: Annotated[str, Doc("the box that it is in"), Needed]
    control: Annotated[str, Doc("the control that it belongs to, where there are several")]


@drawn
class ConstantOutlet(Facts):
    """An outlet that is always live; in the box of a controlled one, the other half of a split receptacle."""

    box: Annotated[str, Doc("the box that it is in"), Needed]


@drawn
class SwitchingRequest(Request):
    """Boxes joined by cables, and what switches what."""

    boxes: Annotated[tuple[str, ...], Doc("their names"), Items(1, 50), Needed]
    feed: Annotated[str, Doc("the box where hot and neutral arrive"), Needed]
    cables: Annotated[tuple[WiredCable, ...], Doc("a tree of cables"), Items(0, 50), Needed]
    switches: Annotated[tuple[WiredSwitch, ...], Doc("switches, control by control"), Items(1, MOST_SWITCHES), Needed]
    outlets: Annotated[tuple[WiredOutlet, ...], Doc("what they control"), Items(1, 50), Needed]
    constant: Annotated[tuple[ConstantOutlet, ...], Doc("what is always live"), Items(0, 50)]
    neutral_at_switches: Annotated[bool, Doc("whether a neutral must reach every switch box")]


@calculation(
    "switching",
    SwitchingRequest,
    example={
        "edition": "2023",
        "boxes": ["panel side", "door", "lamp"],
        "feed": "panel side",
        "cables": [{"from": "panel side", "to": "door", "conductors": 3}, {"from": "door", "to": "lamp", "conductors": 2}],
        "switches": [{"box": "panel side", "kind": "three_way"}, {"box": "door", "kind": "three_way"}],
        "outlets": [{"box": "lamp"}],
    },
)
def switching(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """What each conductor of each cable carries, shortages of conductors, and every position of the switches."""
    layout = _layout(request)
    try:
        wiring = circuitry.solve(layout)
    except LayoutRefused as refused:
        raise PlanRefused(tuple(_fault(each, request) for each in refused.faults)) from None
    if isinstance(wiring, NotWorkedOut):
        raise CalculationError(wiring.reason)
    sizes = {str(number): cable.size for number, cable in enumerate(request.cables) if cable.knows("size")}
    return result_of(wiring, sizes), tuple(_steps(wiring))


def _layout(request: Any) -> circuitry.Layout:
    wanted = request.switches if given(request, "neutral_at_switches") else ()
    neutral_at = tuple(
        each.box for each in wanted if each.box in request.boxes
    )  # a box that is not listed is told at its switch
    return circuitry.Layout(
        feed=request.feed,
        boxes=request.boxes,
        cables=tuple(
            circuitry.Cable(str(number), (each.start, each.end), each.conductors if each.knows("conductors") else None)
            for number, each in enumerate(request.cables)
        ),
        controls=tuple(_controls(request)),
        loads=tuple(
            circuitry.Load(name_of("constant", number), each.box) for number, each in enumerate(given(request, "constant"))
        ),
        neutral_at=neutral_at,
    )


def _controls(request: Any) -> Iterator[circuitry.Control]:
    members = [*request.switches, *request.outlets]
    for name in dict.fromkeys(_control_of(each) for each in members):
        yield circuitry.Control(
            name,
            tuple(
                circuitry.Switch(name_of("switch", number), each.box, each.kind)
                for number, each in enumerate(request.switches)
                if _control_of(each) == name
            ),
            tuple(
                circuitry.Outlet(name_of("outlet", number), each.box)
                for number, each in enumerate(request.outlets)
                if _control_of(each) == name
            ),
        )


def _control_of(member: WiredSwitch | WiredOutlet) -> str:
    return member.control if member.knows("control") else ""


# What is wrong with the request


def _fault(fault: LayoutFault, request: Any) -> Fault:
    code = FaultCode.DANGLING_REFERENCE if fault.kind is FaultKind.UNKNOWN_BOX else FaultCode.CONTRADICTION
    return Fault(_pointer(fault, request), code, fault.words)


def _pointer(fault: LayoutFault, request: SwitchingRequest) -> Pointer:
    kind, name = fault.part
    if kind == "feed":
        return ROOT / "feed"
    if kind == "controls":
        return _pointer_of_control(fault, request)
    if kind == "boxes":
        last = len(request.boxes) - 1 - request.boxes[::-1].index(name)
        return ROOT / "boxes" / last
    if kind == "cables":
        return _pointer_of_cable(fault, request.cables[int(name)], request.boxes)
    return ROOT / _LISTS[kind] / numbered(name)[1] / "box"


_LISTS = {"switches": "switches", "outlets": "outlets", "loads": "constant"}


def _pointer_of_control(fault: LayoutFault, request: SwitchingRequest) -> Pointer:
    """The first member of the control, on the side that is wrong; the list itself where there is none."""
    wrong, other = ("outlets", "switches") if fault.kind is FaultKind.NOTHING_CONTROLLED else ("switches", "outlets")
    for kind in (wrong, other):
        for number, each in enumerate(getattr(request, kind)):
            if _control_of(each) == fault.part[1]:
                return ROOT / kind / number
    return ROOT / wrong


def _pointer_of_cable(fault: LayoutFault, cable: WiredCable, boxes: tuple[str, ...]) -> Pointer:
    if fault.kind is FaultKind.ONE_CONDUCTOR:
        return cable.where("conductors")
    if fault.kind is FaultKind.UNKNOWN_BOX:
        return cable.where("start" if cable.start not in boxes else "end")
    return cable.pointer


def _steps(wiring: Wiring) -> Iterator[Step]:
    for cable in wiring.cables.values():
        one, other = next(each.ends for each in wiring.layout.cables if each.id == cable.cable)
        said = ", ".join(f"{each.color}: {each.net.role}" for each in cable.conductors)
        yield Step(f"conductors needed from {one} to {other}", count(cable.needs), "300.3(B)", said)
        marked = sum(each.reidentified for each in cable.conductors)
        if marked:
            yield Step(f"whites to be marked from {one} to {other}", count(marked), "200.7(C)(1)")
