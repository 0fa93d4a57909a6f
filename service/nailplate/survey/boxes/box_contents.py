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
from nailplate.plan import Box, Cable, Device, Pointer, UnknownFact, words
from nailplate.plan.cables import Passing
from nailplate.plan.words import Clamps, DeviceKind
from nailplate.survey.boxes.box_inside import GROUNDED, NO_GROUND, Inside, inside, largest_on, may_be_wide
from nailplate.survey.boxes.contents_open import open_facts
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.wiring import needed_conductors

WIDE: Final = 2
"""Gangs of a receptacle that may be wide."""
USUAL_WIRES: Final = {
    DeviceKind.LUMINAIRE: FixtureWires("14 AWG", 2),
    DeviceKind.TRACK: FixtureWires("14 AWG", 2),
    DeviceKind.FAN: FixtureWires("14 AWG", 3),
    DeviceKind.EXHAUST_FAN: FixtureWires("14 AWG", 3),
    DeviceKind.SMOKE_ALARM: FixtureWires("18 AWG", 3),
    DeviceKind.CO_ALARM: FixtureWires("18 AWG", 3),
    DeviceKind.HEAT_ALARM: FixtureWires("18 AWG", 3),
}
"""The most that such a device usually brings into its box where the plan does not say it (common practice)."""
_HOT_AND_RETURN: Final = 2
TO_EQUIPMENT: Final = 3
"""Insulated conductors from a connection on to its equipment, at most and of its circuit's size, unless said (common practice)."""
FITTINGS: Final = tuple(SupportFitting(each.value) for each in words.SupportFitting)


@dataclass(frozen=True, slots=True)
class Found:
    """A box's contents: the least that the plan can mean and the most, with the facts that would tell.

    ``unbounded`` are those facts for which no most can be said: how many conductors a cable has. ``most`` takes their least.
    """

    least: BoxContents
    most: BoxContents
    open: tuple[Pointer, ...]
    unbounded: tuple[Pointer, ...]


def contents_of(survey: Survey, box: Box, edition: Edition) -> Found:
    """What enters ``box``. Raises UnknownFact where a cable's size is not stated."""
    within = inside(survey, box)
    return Found(
        _contents(within, edition, most=False),
        _contents(within, edition, most=True),
        tuple(open_facts(within, edition, (*USUAL_WIRES, DeviceKind.CONNECTION))),
        tuple(cable.where("insulated") for cable in dict.fromkeys(within.every_cable) if not cable.knows("insulated")),
    )


def sizes_in(within: Inside) -> Iterator[str]:
    """The sizes of everything in a box that counts by its size, as far as they are stated. Raises UnknownFact without a cable's."""
    for cable in within.every_cable:
        yield cable.size
        if cable.knows("grounding") and cable.grounding != NO_GROUND:
            yield cable.grounding
    yield from (block.size for block in (within.box.terminal_blocks if within.box.knows("terminal_blocks") else ()))
    yield from (device.fixture_wires.size for device in within.devices if device.knows("fixture_wires"))


def _contents(within: Inside, edition: Edition, *, most: bool) -> BoxContents:
    box = within.box
    return BoxContents(
        conductors=tuple(_conductors(within, edition, most=most)),
        grounding_conductors=(
            *_cable_grounds(within.every_cable, most=most),
            *_device_grounds(within, edition, most=most),
        ),
        isolated_grounding=tuple(_isolated(within, most=most)),
        yokes=tuple(_yokes(within, edition, most=most)),
        internal_clamps=box.clamps is Clamps.INTERNAL if box.knows("clamps") else most,
        support_fittings=_fittings(within, most=most),
        fixture_wires=tuple(_fixture_wires(within, edition, most=most)),
        terminal_blocks=tuple(block.size for block in (box.terminal_blocks if box.knows("terminal_blocks") else ())),
    )


# Conductors


def _conductors(within: Inside, edition: Edition, *, most: bool) -> Iterator[Conductors]:
    for cable in within.cables:
        yield Conductors(cable.size, _insulated(within.survey, cable), of=name_of(cable))
    for cable, passing in within.passing:
        run = _run(passing, edition, most=most)
        yield Conductors(cable.size, _insulated(within.survey, cable), run, name_of(cable))


def _insulated(survey: Survey, cable: Cable) -> int:
    """How many insulated conductors a cable has; where that is not said, the fewest that what it serves can do with.

    A circuit has two at the least, and all of them are in one cable, 300.3(B).
    """
    if cable.knows("insulated"):
        return cable.insulated
    try:
        return needed_conductors(survey, cable).least
    except UnknownFact:  # unknown: the least is counted, and the cable's conductors are asked for with the box
        return _HOT_AND_RETURN


def _run(passing: Passing, edition: Edition, *, most: bool) -> Run:
    if passing.knows("loop"):
        return run_of_unbroken(passing.loop, edition.box_fill)
    return Run.LOOPED if most else Run.PASSES


def _cable_grounds(cables: Iterable[Cable], *, most: bool) -> Iterator[GroundingConductors]:
    """Where a cable's grounding conductor is not stated there is none at least, and at most one as large as its others."""
    for cable in cables:
        if cable.knows("grounding"):
            if cable.grounding != NO_GROUND:
                yield GroundingConductors(cable.grounding)
        elif most:
            yield GroundingConductors(cable.size)


def _device_grounds(within: Inside, edition: Edition, *, most: bool) -> Iterator[GroundingConductors]:
    """A luminaire's own grounding conductor; out of a domed canopy it may be left out, 314.16(B)(1) exception."""
    for device in within.devices:
        wires = _own_wires(device, within, edition, most=most)
        if wires is not None and _brings_ground(device, most=most):
            yield GroundingConductors(wires.size, 1, wires.through_canopy)


def _brings_ground(device: Device, *, most: bool) -> bool:
    if device.knows("fixture_wires") and device.fixture_wires.knows("grounding"):
        return device.fixture_wires.grounding
    return most and device.kind in GROUNDED


def _isolated(within: Inside, *, most: bool) -> Iterator[GroundingConductors]:
    """A second grounding conductor is asked about only where a device here is of the isolated-ground type."""
    for cable in within.every_cable:
        if cable.isolated_grounding if cable.knows("isolated_grounding") else (most and within.wants_isolated_ground):
            yield GroundingConductors(cable.size)


# Devices


def _yokes(within: Inside, edition: Edition, *, most: bool) -> Iterator[Yoke]:
    for device in within.yoked:
        sizes = largest_on(device, within, edition)
        if sizes:
            of = " and ".join(name_of(each) for each in within.yoke_of(device))
            yield Yoke(sizes[most], _gangs(device, most=most), of)


def _gangs(device: Device, *, most: bool) -> int:
    if device.knows("gangs"):
        return device.gangs
    return WIDE if most and may_be_wide(device) else 1


def _fittings(within: Inside, *, most: bool) -> tuple[SupportFitting, ...]:
    if within.box.knows("support_fittings"):
        return tuple(SupportFitting(each.value) for each in within.box.support_fittings)
    return FITTINGS if most and within.may_have_fittings else ()


def _fixture_wires(within: Inside, edition: Edition, *, most: bool) -> Iterator[FixtureWires]:
    for device in within.devices:
        wires = _own_wires(device, within, edition, most=most)
        if wires is not None:
            yield wires


def _own_wires(device: Device, within: Inside, edition: Edition, *, most: bool) -> FixtureWires | None:
    """The wires that a luminaire, alarm or piece of equipment brings into its box."""
    canopy, name = _through_canopy(device, most=most), name_of(device)
    if device.knows("fixture_wires"):
        return FixtureWires(device.fixture_wires.size, device.fixture_wires.count, canopy, name)
    if not most:
        return None
    if device.kind in USUAL_WIRES:
        usual = USUAL_WIRES[device.kind]
        return FixtureWires(usual.size, usual.count, canopy, name)
    sizes = largest_on(device, within, edition) if device.kind is DeviceKind.CONNECTION else None
    return FixtureWires(sizes[1], TO_EQUIPMENT, canopy, name) if sizes else None


def _through_canopy(device: Device, *, most: bool) -> bool:
    """Only what hangs on a box has a canopy over it."""
    if device.kind is DeviceKind.CONNECTION:
        return False
    return device.domed_canopy if device.knows("domed_canopy") else not most
