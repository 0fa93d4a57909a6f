"""Which switches control which lighting outlets, and which of them count as the control that a room is asked to have.

A control counts if it is on a wall; an occupancy sensor on a wall only with a manual override. Where the code allows automatic
control (halls, stairs, outdoor entrances), sensors and timers count wherever they are.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.plan import ROOT, Control, Device, Pointer, Stage, UnknownFact, WallPlace
from nailplate.plan.words import DeviceKind, Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, place_of, standing

LIGHTS = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK})
FANS = frozenset({DeviceKind.FAN, DeviceKind.EXHAUST_FAN})
_BY_HAND = frozenset({DeviceKind.SWITCH, DeviceKind.DIMMER, DeviceKind.TIMER})
_BY_ITSELF = frozenset({DeviceKind.SENSOR, DeviceKind.TIMER})


@dataclass(frozen=True, slots=True)
class Lights:
    """The lighting outlets of a plan by room; those with no room drawn at them; and where places are not said.

    ``perhaps`` are the fans of a room of which it is not said whether they have a light.
    """

    in_room: Mapping[str, tuple[Device, ...]]
    perhaps: Mapping[str, tuple[Device, ...]]
    outside: tuple[tuple[Device, Standing], ...]
    unplaced: tuple[Pointer, ...]
    any: bool


@dataclass(frozen=True, slots=True)
class Switched:
    """Receptacles under a control by room, and what is missing of the places of others."""

    in_room: Mapping[str, tuple[Device, ...]]
    unplaced: tuple[Pointer, ...]


@dataclass(frozen=True, slots=True)
class ControlPoint:
    """One place from which an outlet is controlled."""

    outlet: Device
    control: Control
    device: Device
    automatic: bool = False


@dataclass(frozen=True, slots=True)
class Controlled:
    """What is controlled as asked, and what would have to be known to say more."""

    points: tuple[ControlPoint, ...]
    needs: tuple[Pointer, ...]


def lights(survey: Survey) -> Lights:
    """Every lighting outlet of the plan that is not part of an appliance."""
    return survey.once(_lights)


def has_light(device: Device) -> bool:
    """Whether a device is a lighting outlet: a luminaire, or a fan with a light. Raises UnknownFact of a fan."""
    if device.kind in LIGHTS or (device.kind in FANS and device.knows("source")):
        return True
    return device.kind in FANS and device.with_light


def controls_told(survey: Survey) -> bool:
    """Whether the plan says what switches what; a layout may still leave part of it out."""
    plan = survey.plan
    return bool(plan.controls) and not (plan.knows("stage") and plan.stage is Stage.LAYOUT)


def controls_over(survey: Survey, outlet: Device) -> list[Control]:
    """The controls that an outlet is controlled by."""
    return [control for control in survey.controls_of.get(outlet.id, []) if outlet.id in control.outlets]


def controlled(survey: Survey, outlets: tuple[Device, ...], *, automatic: bool) -> Controlled:
    """The control points of these outlets that count. Without any, what is missing to be sure of it."""
    points, needs = list[ControlPoint](), list[Pointer]()
    for point in _points(survey, outlets):
        try:
            if automatic and _is_automatic(point):
                points.append(ControlPoint(point.outlet, point.control, point.device, automatic=True))
            elif _counts(survey, point):
                points.append(point)
        except UnknownFact as unknown:
            needs.append(unknown.pointer)
    if outlets and not points and not controls_told(survey):
        needs.append(ROOT / "controls")
    return Controlled(tuple(points), tuple(dict.fromkeys(needs)))


def _points(survey: Survey, outlets: tuple[Device, ...]) -> Iterator[ControlPoint]:
    for outlet in outlets:
        for control in controls_over(survey, outlet):
            for switch in control.switches:
                yield ControlPoint(outlet, control, survey.plan.devices[switch])


def _is_automatic(point: ControlPoint) -> bool:
    stated = point.control.knows("automatic") and point.control.automatic
    return stated or point.device.kind in _BY_ITSELF


def _counts(survey: Survey, point: ControlPoint) -> bool:
    device = point.device
    if device.kind not in _BY_HAND and device.kind is not DeviceKind.SENSOR:
        return False
    if not (device.knows("mount") and device.mount is Mount.WALL) and not isinstance(place_of(survey, device), WallPlace):
        return False
    return device.kind in _BY_HAND or _is_overridden(point)


def _is_overridden(point: ControlPoint) -> bool:
    """Whether a sensor can be overridden by hand; the device says it, or the control that it is part of."""
    stated = [part.override for part in (point.device, point.control) if part.knows("override")]
    if not stated:
        raise UnknownFact(point.device.where("override"))
    return any(stated)


# Lighting outlets by place


def _lights(survey: Survey) -> Lights:
    in_room: dict[str, list[Device]] = {}
    perhaps: dict[str, list[Device]] = {}
    outside, unplaced, found = list[tuple[Device, Standing]](), list[Pointer](), False
    for device in survey.plan.devices.values():
        is_open = _is_open(device)
        if device.knows("part_of") or not (is_open or has_light(device)):
            continue
        found = found or not is_open
        try:
            where = standing(survey, device)
        except UnknownFact as unknown:
            unplaced.append(unknown.pointer)
            continue
        if where.room is not None:
            (perhaps if is_open else in_room).setdefault(where.room.id, []).append(device)
        elif not is_open:
            outside.append((device, where))
    return Lights(_by_room(in_room), _by_room(perhaps), tuple(outside), tuple(dict.fromkeys(unplaced)), any=found)


def _by_room(found: Mapping[str, list[Device]]) -> dict[str, tuple[Device, ...]]:
    return {room: tuple(devices) for room, devices in found.items()}


def _is_open(device: Device) -> bool:
    return device.kind in FANS and not device.knows("source") and not device.knows("with_light")


def switched_receptacles(survey: Survey) -> Switched:
    """The receptacles that a control governs."""
    return survey.once(_switched_receptacles)


def _switched_receptacles(survey: Survey) -> Switched:
    in_room: dict[str, tuple[Device, ...]] = {}
    unplaced: list[Pointer] = []
    outlets = (survey.plan.devices[each] for control in survey.plan.controls.values() for each in control.outlets)
    for outlet in dict.fromkeys(outlet for outlet in outlets if outlet.kind is DeviceKind.RECEPTACLE):
        try:
            room = standing(survey, outlet).room
        except UnknownFact as unknown:
            unplaced.append(unknown.pointer)
            continue
        if room is not None:
            in_room[room.id] = (*in_room.get(room.id, ()), outlet)
    return Switched(in_room, tuple(dict.fromkeys(unplaced)))
