"""What the plan says enters a box, as far as it says it; what it leaves open is named, with the least and most it could be."""

from dataclasses import dataclass
from itertools import chain

from nailplate.calc.box_fill import (
    BoxContents,
    Conductors,
    FixtureWires,
    GroundingConductors,
    SupportFitting,
    Yoke,
    run_of_unbroken,
)
from nailplate.codes import Edition
from nailplate.plan import Box, Cable, Device, Pointer
from nailplate.plan.words import Clamps, DeviceKind
from nailplate.survey.index import Survey

YOKED = frozenset(
    {
        DeviceKind.RECEPTACLE,
        DeviceKind.SWITCH,
        DeviceKind.DIMMER,
        DeviceKind.SENSOR,
        DeviceKind.TIMER,
        DeviceKind.FAN_CONTROL,
        DeviceKind.BLANK_GFCI,
        DeviceKind.USB_OUTLET,
    }
)
"""Devices on a yoke or strap; a luminaire, alarm or connection hangs on the box itself."""

NO_GROUND = "none"


@dataclass(frozen=True, slots=True)
class Found:
    """A box's contents: the least that the plan can mean and the most, with the facts that would tell."""

    least: BoxContents
    most: BoxContents
    open: tuple[Pointer, ...]


def contents_of(survey: Survey, box: Box, edition: Edition) -> Found:
    """What enters ``box``. Raises UnknownFact where a cable's size or number of conductors is not stated."""
    cables = survey.cables_at_box.get(box.id, [])
    passing = survey.cables_through_box.get(box.id, [])
    devices = survey.devices_in_box.get(box.id, [])
    conductors = tuple(chain((_ends(cable) for cable in cables), (_passes(cable, box, edition) for cable in passing)))
    shared = {
        "conductors": conductors,
        "isolated_grounding": tuple(_isolated(cables)),
        "yokes": tuple(yoke for device in devices if (yoke := _yoke(device, cables, edition))),
        "support_fittings": tuple(
            SupportFitting(each.value) for each in (box.support_fittings if box.knows("support_fittings") else ())
        ),
        "fixture_wires": tuple(
            FixtureWires(
                device.fixture_wires.size, device.fixture_wires.count, device.knows("domed_canopy") and device.domed_canopy
            )
            for device in devices
            if device.knows("fixture_wires")
        ),
        "terminal_blocks": tuple(block.size for block in (box.terminal_blocks if box.knows("terminal_blocks") else ())),
    }
    unknown = _open_facts(box, [*cables, *passing])
    grounds = tuple(GroundingConductors(cable.grounding) for cable in (*cables, *passing) if _grounded(cable))
    likely = tuple(GroundingConductors(cable.size) for cable in (*cables, *passing) if not cable.knows("grounding"))
    clamped = box.knows("clamps") and box.clamps is Clamps.INTERNAL
    return Found(
        least=BoxContents(grounding_conductors=grounds, internal_clamps=clamped, **shared),  # type: ignore[arg-type]  # one dict of mixed fields
        most=BoxContents(
            grounding_conductors=(*grounds, *likely),
            internal_clamps=clamped or not box.knows("clamps"),
            **shared,  # type: ignore[arg-type]  # as above
        ),
        open=unknown,
    )


def _ends(cable: Cable) -> Conductors:
    return Conductors(cable.size, cable.insulated)


def _passes(cable: Cable, box: Box, edition: Edition) -> Conductors:
    passing = next(each for each in cable.passes if each.box == box.id)
    loop = passing.loop if passing.knows("loop") else None
    if loop is None:
        return Conductors(cable.size, cable.insulated)
    return Conductors(cable.size, cable.insulated, run_of_unbroken(loop, edition.box_fill))


def _grounded(cable: Cable) -> bool:
    return cable.knows("grounding") and cable.grounding != NO_GROUND


def _isolated(cables: list[Cable]) -> list[GroundingConductors]:
    return [
        GroundingConductors(cable.size) for cable in cables if cable.knows("isolated_grounding") and cable.isolated_grounding
    ]


def _yoke(device: Device, cables: list[Cable], edition: Edition) -> Yoke | None:
    if device.kind not in YOKED:
        return None
    circuits = {getattr(device, name) for name in ("circuit", "second_circuit") if device.knows(name)}
    on_it = [cable.size for cable in cables if cable.knows("circuit") and cable.circuit in circuits]
    sizes = on_it or [cable.size for cable in cables]
    largest = max(sizes, key=lambda size: edition.conductors.area.get(size, 0)) if sizes else None
    return Yoke(largest, device.gangs if device.knows("gangs") else 1) if largest else None


def _open_facts(box: Box, cables: list[Cable]) -> tuple[Pointer, ...]:
    clamps = () if box.knows("clamps") else (box.where("clamps"),)
    return (*clamps, *(cable.where("grounding") for cable in cables if not cable.knows("grounding")))
