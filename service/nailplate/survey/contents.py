"""What the plan says enters a box, as far as it says it; what it leaves open is named, with the least and most it could be."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc.box_fill import (
    BoxContents,
    Conductors,
    FixtureWires,
    GroundingConductors,
    Run,
    SupportFitting,
    Yoke,
    run_of_unbroken,
)
from nailplate.codes import Edition
from nailplate.plan import Box, Cable, Device, Pointer, words
from nailplate.plan.wiring import Passing
from nailplate.plan.words import BoxMaterial, Clamps, DeviceKind
from nailplate.survey.index import Survey
from nailplate.units import reaches

YOKED: Final = frozenset(
    {
        DeviceKind.RECEPTACLE,
        DeviceKind.SWITCH,
        DeviceKind.DIMMER,
        DeviceKind.SENSOR,
        DeviceKind.TIMER,
        DeviceKind.FAN_CONTROL,
        DeviceKind.BLANK_GFCI,
        DeviceKind.USB_OUTLET,
        DeviceKind.THERMOSTAT,
        DeviceKind.DISCONNECT,
    }
)
"""Devices on a yoke or strap; a luminaire, fan, alarm or connection hangs on the box itself. A thermostat or disconnect that has
an enclosure of its own stands in no box of the plan; one that does is a line-voltage or snap-switch type, on a strap."""

WIDE_FROM: Final = 30.0
"""Amperes from which a receptacle may be wider than one gang (common practice: range and dryer receptacles); `gangs` tells."""
WIDE: Final = 2

USUAL_WIRES: Final = {
    DeviceKind.LUMINAIRE: FixtureWires("14 AWG", 2),
    DeviceKind.TRACK: FixtureWires("14 AWG", 2),
    DeviceKind.FAN: FixtureWires("14 AWG", 3),
    DeviceKind.SMOKE_ALARM: FixtureWires("18 AWG", 3),
    DeviceKind.CO_ALARM: FixtureWires("18 AWG", 3),
    DeviceKind.HEAT_ALARM: FixtureWires("18 AWG", 3),
}
"""The most that such a device usually brings into its box where the plan does not say it (common practice)."""
HUNG: Final = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK, DeviceKind.FAN})
"""What may hang from a stud or hickey."""
FITTINGS: Final = tuple(SupportFitting(each.value) for each in words.SupportFitting)

NO_GROUND: Final = "none"


@dataclass(frozen=True, slots=True)
class Found:
    """A box's contents: the least that the plan can mean and the most, with the facts that would tell."""

    least: BoxContents
    most: BoxContents
    open: tuple[Pointer, ...]


@dataclass(frozen=True, slots=True)
class _Inside:
    """The parts of the plan that enter one box."""

    box: Box
    cables: tuple[Cable, ...]
    passing: tuple[tuple[Cable, Passing], ...]
    devices: tuple[Device, ...]

    @property
    def every_cable(self) -> tuple[Cable, ...]:
        return (*self.cables, *(cable for cable, _ in self.passing))


def contents_of(survey: Survey, box: Box, edition: Edition) -> Found:
    """What enters ``box``. Raises UnknownFact where a cable's size or number of conductors is not stated."""
    inside = _inside(survey, box)
    return Found(_contents(inside, edition, most=False), _contents(inside, edition, most=True), tuple(_open(inside, edition)))


def _inside(survey: Survey, box: Box) -> _Inside:
    through = dict.fromkeys(survey.cables_through_box.get(box.id, []))
    return _Inside(
        box,
        tuple(survey.cables_at_box.get(box.id, [])),
        tuple((cable, passing) for cable in through for passing in cable.passes if passing.box == box.id),
        tuple(survey.devices_in_box.get(box.id, [])),
    )


def _contents(inside: _Inside, edition: Edition, *, most: bool) -> BoxContents:
    box = inside.box
    return BoxContents(
        conductors=tuple(_conductors(inside, edition, most=most)),
        grounding_conductors=tuple(_grounds(inside.every_cable, most=most)),
        isolated_grounding=tuple(_isolated(inside, most=most)),
        yokes=tuple(_yokes(inside, edition, most=most)),
        internal_clamps=box.clamps is Clamps.INTERNAL if box.knows("clamps") else most,
        support_fittings=_fittings(inside, most=most),
        fixture_wires=tuple(_fixture_wires(inside.devices, most=most)),
        terminal_blocks=tuple(block.size for block in (box.terminal_blocks if box.knows("terminal_blocks") else ())),
    )


# Conductors


def _conductors(inside: _Inside, edition: Edition, *, most: bool) -> Iterator[Conductors]:
    for cable in inside.cables:
        yield Conductors(cable.size, cable.insulated)
    for cable, passing in inside.passing:
        yield Conductors(cable.size, cable.insulated, _run(passing, edition, most=most))


def _run(passing: Passing, edition: Edition, *, most: bool) -> Run:
    if passing.knows("loop"):
        return run_of_unbroken(passing.loop, edition.box_fill)
    return Run.LOOPED if most else Run.PASSES


def _grounds(cables: Iterable[Cable], *, most: bool) -> Iterator[GroundingConductors]:
    """Where a cable's grounding conductor is not stated there is none at least, and at most one as large as its others."""
    for cable in cables:
        if cable.knows("grounding"):
            if cable.grounding != NO_GROUND:
                yield GroundingConductors(cable.grounding)
        elif most:
            yield GroundingConductors(cable.size)


def _isolated(inside: _Inside, *, most: bool) -> Iterator[GroundingConductors]:
    """A second grounding conductor is asked about only where a device here is of the isolated-ground type."""
    for cable in inside.every_cable:
        if cable.isolated_grounding if cable.knows("isolated_grounding") else (most and _wants_isolated(inside)):
            yield GroundingConductors(cable.size)


def _wants_isolated(inside: _Inside) -> bool:
    return any(device.knows("isolated_ground") and device.isolated_ground for device in inside.devices)


# Devices


def _yokes(inside: _Inside, edition: Edition, *, most: bool) -> Iterator[Yoke]:
    for device in _yoked(inside):
        sizes = _least_and_most_size(device, inside, edition)
        if sizes:
            yield Yoke(sizes[most], _gangs(device, most=most))


def _yoked(inside: _Inside) -> list[Device]:
    """What is built into an appliance or luminaire is mounted on that, not on the box."""
    return [device for device in inside.devices if device.kind in YOKED and not device.knows("part_of")]


def _least_and_most_size(device: Device, inside: _Inside, edition: Edition) -> tuple[str, str] | None:
    """The largest conductor that may end on the device: out of its circuits' cables, else the largest in the box."""
    every = edition.conductors.rising(cable.size for cable in inside.every_cable)
    if not every:
        return None
    if not device.knows("circuit"):
        return every[0], every[-1]
    own = edition.conductors.rising(cable.size for cable in inside.every_cable if _circuits(cable) & _circuits(device))
    maybe = edition.conductors.rising(cable.size for cable in inside.every_cable if not cable.knows("circuit"))
    least = own[-1] if own else (maybe or every[-1:])[0]
    return least, edition.conductors.rising([least, *maybe])[-1]


def _circuits(part: Cable | Device) -> frozenset[str]:
    return frozenset(getattr(part, name) for name in ("circuit", "second_circuit") if part.knows(name))


def _gangs(device: Device, *, most: bool) -> int:
    if device.knows("gangs"):
        return device.gangs
    return WIDE if most and _may_be_wide(device) else 1


def _may_be_wide(device: Device) -> bool:
    return device.kind is DeviceKind.RECEPTACLE and device.knows("rating") and reaches(device.rating, WIDE_FROM)


def _fittings(inside: _Inside, *, most: bool) -> tuple[SupportFitting, ...]:
    if inside.box.knows("support_fittings"):
        return tuple(SupportFitting(each.value) for each in inside.box.support_fittings)
    return FITTINGS if most and _may_have_fittings(inside) else ()


def _may_have_fittings(inside: _Inside) -> bool:
    """Studs and hickeys hold what hangs from a metal box (common practice)."""
    nonmetallic = inside.box.knows("material") and inside.box.material is BoxMaterial.NONMETALLIC
    return not nonmetallic and any(device.kind in HUNG for device in inside.devices)


def _fixture_wires(devices: Iterable[Device], *, most: bool) -> Iterator[FixtureWires]:
    for device in devices:
        through_canopy = device.domed_canopy if device.knows("domed_canopy") else not most
        if device.knows("fixture_wires"):
            yield FixtureWires(device.fixture_wires.size, device.fixture_wires.count, through_canopy)
        elif most and device.kind in USUAL_WIRES:
            usual = USUAL_WIRES[device.kind]
            yield FixtureWires(usual.size, usual.count, through_canopy)


# What is left open


def _open(inside: _Inside, edition: Edition) -> Iterator[Pointer]:
    """Every fact left out by which the least and the most differ."""
    if not inside.box.knows("clamps"):
        yield inside.box.where("clamps")
    if not inside.box.knows("support_fittings") and _may_have_fittings(inside):
        yield inside.box.where("support_fittings")
    for cable in dict.fromkeys(inside.every_cable):
        yield from _open_of_cable(cable, inside)
    yield from (passing.where("loop") for _, passing in inside.passing if not passing.knows("loop"))
    for device in inside.devices:
        yield from _open_of_device(device, inside)
    yield from _open_circuits(inside, edition)


def _open_of_cable(cable: Cable, inside: _Inside) -> Iterator[Pointer]:
    if not cable.knows("grounding"):
        yield cable.where("grounding")
    if not cable.knows("isolated_grounding") and _wants_isolated(inside):
        yield cable.where("isolated_grounding")


def _open_of_device(device: Device, inside: _Inside) -> Iterator[Pointer]:
    if not device.knows("fixture_wires") and device.kind in USUAL_WIRES:
        yield device.where("fixture_wires")
    elif device.knows("fixture_wires") and not device.knows("domed_canopy"):
        yield device.where("domed_canopy")
    if device in _yoked(inside) and not device.knows("gangs") and _may_be_wide(device):
        yield device.where("gangs")


def _open_circuits(inside: _Inside, edition: Edition) -> Iterator[Pointer]:
    """The circuits of devices and cables, where a device's largest conductor turns on them."""
    torn = [device for device in _yoked(inside) if len(set(_least_and_most_size(device, inside, edition) or ())) > 1]
    yield from (device.where("circuit") for device in torn if not device.knows("circuit"))
    if torn:
        yield from (cable.where("circuit") for cable in inside.every_cable if not cable.knows("circuit"))
