"""The wiring sheet: at each box which conductor joins which, by color and role, with a picture, and the proof switch by switch."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from nailplate.calc.steps import CalculationError
from nailplate.calc.switching import CableEnd, Joint, Role, Switch, Terminal, Wiring, truth_table
from nailplate.plan import Box, Circuit, Control, Device
from nailplate.plan.words import SwitchedHalf, Ways
from nailplate.sheets.called import Name, cable_kind, listed, named, said, short_name, text
from nailplate.sheets.carried import Made, joints_by_box, net_told, wirings
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.ends_told import part_at_end
from nailplate.sheets.joint_picture import JointLines, Lead, joint_picture
from nailplate.sheets.orders import Order
from nailplate.sheets.places_told import by_room
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.wiring import CircuitWiring, control_wiring, is_power_cable
from nailplate.units import Measure, Unit, count

_JOINTS = (Column("Joint", Unit.COUNT), Column("Carries"), Column("Conductors"), Column("Device terminals"), Column("How"))
_CONTROLS = (Column("Control"), Column("Switches"), Column("Outlets"), Column("Positions tried", Unit.COUNT), Column("Result"))
_OPEN = (Column("Circuits"), Column("Why no wiring is shown"))


def wiring(order: Order) -> Document:
    """The wiring sheet."""
    survey = order.survey
    proof = Section(Cell("Controls, tried in every position"), table("Controls", _CONTROLS, list(_controls(survey))))
    open_rows = [_not_shown(each) for each in wirings(survey) if each.wiring is None]
    places: list[tuple[Cell, list[Box]]] = by_room(survey, survey.plan.boxes.values())
    sections = [_section(survey, box, room) for room, boxes in places for box in boxes if _is_wired(survey, box)]
    sections += [each for device in survey.plan.devices.values() if (each := _alone(survey, device)) is not None]
    opened = [Section(Cell("Not shown"), table("Circuits", _OPEN, open_rows))] if open_rows else []
    proofs = [proof] if proof.tables else []
    return Document("wiring", "Wiring at each box", order.stamp, unit_of(survey.plan), (*proofs, *opened, *sections), _NOTES)


_NOTES = (
    "One wiring that works with the cables as drawn; others may work too. Follow the instructions that come with each device.",
    "Colors are those of the cable as it is usually made. A white that is marked as ungrounded is marked at every end (200.7(C)).",
    "Join the bare or green grounding conductors of every cable in the box, with a pigtail to each device, to metal boxes and metal rings "
    "(250.148); they are not drawn.",
    "LINE is what comes from the panel; what a GFCI or AFCI device protects downstream, and what a disconnect disconnects, goes on LOAD alone. "
    "Go by the marks on the device: they differ from one to the next.",
)


# The proof


def _controls(survey: Survey) -> Iterator[tuple[Cell, ...]]:
    for control in survey.plan.controls.values():
        found = control_wiring(survey, control)
        solved = found.circuit.wiring if found.circuit is not None and found.wired else None
        tried, result = proved(solved, control) if solved is not None else (None, "not worked out from what the plan states")
        members = (_devices(survey, control.switches), _devices(survey, control.outlets))
        yield (named(control), *members, Cell(tried, control.pointer), text(result, control.pointer))


def _devices(survey: Survey, ids: Sequence[str]) -> Cell:
    devices = [survey.plan.devices[each] for each in ids]
    return listed(devices, at=devices[0].pointer)


def proved(solved: Wiring, control: Control) -> tuple[Measure | None, str]:
    """Throws a control's switches into every position, all others open: how many, and whether its outlets obey each switch."""
    own = tuple(each for each in solved.layout.controls if each.id == control.id)
    if not own:
        return None, "not worked out from what the plan states"
    try:
        rows = truth_table(replace(solved, layout=replace(solved.layout, controls=own)))
    except CalculationError as error:
        return None, f"not tried: {error}"
    if any(row.shorted for row in rows):
        return count(len(rows)), "does not work: a position joins hot and neutral"
    lit = {row.positions: row.live for row in rows}
    works = all(_obeys(lit, positions, own[0].switches) for positions in lit)
    return count(len(rows)), "works: every outlet obeys every switch, no position shorts" if works else "does not work"


def _obeys(lit: Mapping[tuple[int, ...], tuple[bool, ...]], positions: tuple[int, ...], switches: Sequence[Switch]) -> bool:
    """Whether throwing any one switch turns every outlet over, and one switch alone is off at 0."""
    alone = len(switches) == 1 and switches[0].kind in (Ways.SINGLE_POLE, Ways.DOUBLE_POLE)
    if alone and any(live is not bool(positions[0]) for live in lit[positions]):
        return False
    places = range(len(positions))
    thrown = (tuple(1 - each if place == number else each for place, each in enumerate(positions)) for number in places)
    return all(one is not other for after in thrown for one, other in zip(lit[positions], lit[after], strict=True))


def _not_shown(each: CircuitWiring) -> tuple[Cell, ...]:
    circuits = each.together.circuits
    told = said(lambda name: "; ".join(name(circuit) for circuit in circuits), circuits[0].pointer)
    if each.loops:
        return told, said(lambda name: f"its cables close a loop: {', '.join(name(cable) for cable in each.loops)}")
    needs = ", ".join(str(pointer) for pointer in each.needs)
    return told, text(f"not stated: {needs}" if needs else each.reason or "not worked out", circuits[0].pointer)


# What joins what


def _is_wired(survey: Survey, box: Box) -> bool:
    return any(is_power_cable(cable) for cable in survey.cables_at_box.get(box.id, []))


def _alone(survey: Survey, device: Device) -> Section | None:
    """A device with its own wiring space, where cables end at it."""
    if device.knows("box") or not any(is_power_cable(cable) for cable in survey.cables_at_device.get(device.id, [])):
        return None
    return _section(survey, device, Cell("a device with its own wiring space"))


def _section(survey: Survey, part: Box | Device, room: Cell) -> Section:
    found = joints_by_box(survey).get(str(part.pointer), [])
    title = said(lambda name: f"{name(part)}, {room.value}", part.pointer)
    if not found:
        return Section(
            title, notes=(text("No joint is worked out here: see what its circuits' cables leave open.", part.pointer),)
        )
    rows = [_joint(survey, part, number, made) for number, made in enumerate(found, 1)]
    lines = [_lines(survey, part, made) for made in found]
    return Section(title, table("Joints", _JOINTS, rows), picture=joint_picture(short_name(part), lines))


def _joint(survey: Survey, part: Box | Device, number: int, made: Made) -> tuple[Cell, ...]:
    solved, joint, circuits = made
    ends = [end for end in joint.ends if isinstance(end, CableEnd)]
    terminals = _terminals(joint)
    return (
        Cell(count(number), part.pointer),
        said(lambda name: net_told(survey, joint.net, name, circuits), part.pointer),
        said(lambda name: "; ".join(_end(survey, part, end, name) for end in ends), part.pointer),
        said(lambda name: "; ".join(_terminal(survey, end, circuits, name) for end in terminals), part.pointer),
        text(how_joined(solved, joint, ends, terminals), part.pointer),
    )


def how_joined(solved: Wiring, joint: Joint, ends: Sequence[CableEnd], terminals: Sequence[Terminal]) -> str:
    """What to do at one joint."""
    mark = "; mark the white as ungrounded" if any(_is_marked(solved, end) for end in ends) else ""
    if joint.net.role is Role.SPARE or (len(ends) == 1 and not terminals):
        return f"cap it for later{mark}"
    if len(ends) == 1 and len(terminals) == 1:
        return f"straight to the terminal{mark}"
    if not ends:
        return "terminal to terminal"
    pigtails = f", with {len(terminals)} pigtail{'' if len(terminals) == 1 else 's'} to the terminals" if terminals else ""
    return f"splice{pigtails}{mark}"


def _is_marked(solved: Wiring, end: CableEnd) -> bool:
    return any(each.reidentified and each.color == end.color for each in solved.cables[end.cable].conductors)


def _end(survey: Survey, part: Box | Device, end: CableEnd, name: Name) -> str:
    return f"{end.color} of {cable_kind(survey.plan.cables[end.cable])} {_way(survey, part, end, name)}"


def _way(survey: Survey, part: Box | Device, end: CableEnd, name: Name) -> str:
    parts = [part_at_end(survey, each) for each in survey.plan.cables[end.cable].ends]
    boxes = [survey.box_of(each) or each if isinstance(each, Device) else each for each in parts]
    other = next((each for each, box in zip(parts, boxes, strict=True) if box is not part), parts[1])
    return f"to {name(other)}"


def _terminals(joint: Joint) -> list[Terminal]:
    """The terminals of a joint; a device has one neutral, though each of its halves or parts needs it."""
    neutral = joint.net.role is Role.NEUTRAL
    found = (end for end in joint.ends if isinstance(end, Terminal))
    return list({(end.device, end.name, "" if neutral else end.control): end for end in found}.values())


def _terminal(survey: Survey, end: Terminal, circuits: tuple[Circuit, ...], name: Name) -> str:
    """A device's terminal; each of two circuits that share a neutral is fed from one leg, and its devices have one hot."""
    if not end.device:
        return f"feed, {end.name}"
    device = survey.plan.devices[end.device]
    called = end.name.replace(Role.SECOND_HOT.value, Role.HOT.value) if len(circuits) > 1 else end.name
    return f"{called} of {name(device)}{_part_of(survey, device, end, name)}"


def _part_of(survey: Survey, device: Device, end: Terminal, name: Name) -> str:
    """Which half of a receptacle, or which lead of an outlet under two controls, where the name alone does not tell."""
    if device.knows("switched_half") and device.switched_half in _OTHER_HALF and "hot" in end.name:
        if end.control:
            return f", {device.switched_half} half: break off the tab between its hot terminals"
        return f", {_OTHER_HALF[device.switched_half]} half"
    others = [each for each in survey.controls_of.get(device.id, []) if device.id in each.outlets]
    if end.control in survey.plan.controls and len(others) > 1 and "hot" in end.name:
        return f", the lead for {name(survey.plan.controls[end.control])}"
    return ""


_OTHER_HALF: Final = {SwitchedHalf.LOWER: SwitchedHalf.UPPER, SwitchedHalf.UPPER: SwitchedHalf.LOWER}


def _lines(survey: Survey, part: Box | Device, made: Made) -> JointLines:
    joint, circuits = made.joint, made.circuits
    ends = [each for each in joint.ends if isinstance(each, CableEnd)]
    terminals = _terminals(joint)
    return JointLines(
        net_told(survey, joint.net, short_name, circuits),
        tuple(Lead(f"{each.color} {_way(survey, part, each, short_name)}", each.color) for each in ends),
        tuple(_terminal(survey, each, circuits, short_name) for each in terminals),
    )
