"""A ceiling fan hangs from a box that is listed for it, and a ceiling box where a fan could come later is ready for one.

Why: a fan shakes for years; a box that was made for a lamp works loose and lets it fall.

Fix: use a box listed and marked for a fan, or one through which framing that can hold a fan is reached.

Trap: a box marked only as fan-rated carries 35 lb; a heavier fan needs its weight marked in the box, and over 70 lb it hangs from the
structure. From 2020 the center box of a bedroom counts, whatever hangs there now.

Where a fan could hang is not said in the code. Inspectors are reported to ask for it from every box 3 ft from the walls to none;
below 7 ft, where blades would be in reach, and within 3 ft of a wall, this rule does not ask.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Box, Cable, Device, Plan, UnknownFact
from nailplate.plan.trade import ALARMS, SWITCHES
from nailplate.plan.words import DeviceKind, Regime
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
    state,
)
from nailplate.rules.box_fill.fan_spots import BLADES, FROM_WALLS, is_habitable, is_near_a_wall
from nailplate.survey import standing
from nailplate.survey.boxes import Spot, inside, spot_of
from nailplate.survey.names import name_of
from nailplate.units import Pounds, inches, pounds, shown, within, written

UNMARKED: Final = Pounds(35.0)
HEAVIEST: Final = Pounds(70.0)
"""What a fan box carries where no weight is marked in it, and what any box carries; heavier fans hang from the structure."""
_EVERY_BOX: Final = 2020
_SPARE_CONDUCTORS: Final = 3


@rule(
    id="fan-box",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.BOX_SUPPORT,),
    cites={
        "nec-2017": Cite(
            "314.27(C)",
            seen=(2017, 2020, 2023),
            note=(
                "https://forums.mikeholt.com/threads/314-27.2581560, https://forums.mikeholt.com/threads/314-27.2582558 and "
                "http://electricalcodeconnection.com/outlet-boxes-for-ceiling-fans-314-27-c-2011-nec/"
            ),
        )
    },
    hazards=(Hazard.FALLING_LOAD,),
    changes={
        "nec-2020": (
            "Every ceiling box of a habitable room where a fan could hang is ready for one; before, only where a spare switched "
            "conductor came to it."
        ),
        "nec-2023": "Framing counts only if it is reached through the box, without taking it out.",
    },
)
def fan_box(plan: Plan, job: Job) -> Iterator[Outcome]:
    """314.27(C): each box by itself, and each fan that has none."""
    for box in plan.boxes.values():
        try:
            yield _of_box(box, job)
        except UnknownFact as unknown:
            yield Undetermined((unknown.pointer,), facet=box.id, at=box.pointer)
    for device in plan.devices.values():
        if device.kind is DeviceKind.FAN and not device.knows("box"):
            yield _without_box(device)


def _of_box(box: Box, job: Job) -> Outcome:
    fans = [device for device in job.survey.devices_in_box.get(box.id, []) if device.kind is DeviceKind.FAN]
    spot = spot_of(job.survey, box)
    if fans and spot is not Spot.WALL:
        return _with_fan(fans[0], box)
    return _for_later(box, job) if spot is Spot.CEILING else NotConcerned(facet=box.id)


def _without_box(fan: Device) -> Outcome:
    if fan.knows("independent_support") and fan.independent_support:
        return Pass(facet=fan.id)
    return Undetermined((fan.where("box"),), facet=fan.id, at=fan.pointer)


# A fan


def _with_fan(fan: Device, box: Box) -> Outcome:
    if fan.knows("independent_support") and fan.independent_support:
        return Pass(facet=box.id)
    if not box.fan_rated:
        return _unfit(fan, box, "is not listed for a fan", None)
    if not within(fan.weight, HEAVIEST):
        return _unfit(fan, box, f"may carry {shown(pounds(HEAVIEST))} at the most", HEAVIEST)
    marked = box.knows("fan_rating") or not within(fan.weight, UNMARKED)
    limit = Pounds(min(box.fan_rating, HEAVIEST)) if marked else UNMARKED
    if within(fan.weight, limit):
        return Pass(pounds(fan.weight), pounds(limit), facet=box.id)
    return _unfit(fan, box, f"is marked for {shown(pounds(limit))}", limit)


def _unfit(fan: Device, box: Box, why: str, limit: Pounds | None) -> Violation:
    weight = f", {shown(pounds(fan.weight))}," if fan.knows("weight") else ""
    return Violation(
        message=f"{name_of(fan)}{weight} hangs from {name_of(box)}, which {why}.",
        measured=pounds(fan.weight) if limit is not None else None,
        limit=pounds(limit) if limit is not None else None,
        facet=box.id,
        at=box.pointer,
        related=(fan.pointer,),
        remedies=(*_better_box(fan, box), _from_structure(fan)),
    )


def _better_box(fan: Device, box: Box) -> tuple[Remedy, ...]:
    if fan.knows("weight") and not within(fan.weight, HEAVIEST):
        return ()
    rating = shown(pounds(HEAVIEST))
    patch = (state(box, "fan_rated", value=True), state(box, "fan_rating", written(pounds(HEAVIEST))))
    return (Remedy(f"Use a box listed for a fan and marked for {rating}, on a brace or blocking.", patch),)


def _from_structure(fan: Device) -> Remedy:
    return Remedy("Hang the fan from the structure itself.", (state(fan, "independent_support", value=True),))


# A fan that may come later


def _for_later(box: Box, job: Job) -> Outcome:
    names = ("fan_rated", "structure_access") if job.edition.since(_EVERY_BOX) else ("fan_rated",)
    if any(box.knows(name) and getattr(box, name) for name in names):
        return Pass(facet=box.id)
    if not _fan_could_hang(box, job) or not _asked_for(box, job):
        return NotConcerned(facet=box.id)
    missing = tuple(box.where(name) for name in names if not box.knows(name))
    if missing:
        return Undetermined(missing, facet=box.id, at=box.pointer)
    return _contested(box, job)


def _asked_for(box: Box, job: Job) -> bool:
    basis = job.plan.basis
    if basis.knows("regime") and basis.regime is Regime.NOT_A_DWELLING:
        return False
    if not job.edition.since(_EVERY_BOX):
        return _spare_comes_to(box, job)
    room = standing(job.survey, box).room
    return room is not None and is_habitable(room)


def _spare_comes_to(box: Box, job: Job) -> bool:
    """Until 2017: a spare hot with a switch of its own. Nobody brings one to an alarm's box unless the plan says so."""
    if box.knows("spare_switched"):
        return box.spare_switched
    if any(device.kind in ALARMS for device in job.survey.devices_in_box.get(box.id, [])):
        return False
    cables = inside(job.survey, box).cables
    none = bool(cables) and not any(_may_bring_a_spare(cable, job) for cable in cables)
    return False if none else box.spare_switched


def _may_bring_a_spare(cable: Cable, job: Job) -> bool:
    """A cable of two conductors brings none, and neither does one whose circuit has no switch, as between alarms."""
    if cable.knows("insulated") and cable.insulated < _SPARE_CONDUCTORS:
        return False
    on_circuit = job.survey.devices_on_circuit.get(cable.circuit, []) if cable.knows("circuit") else None
    return on_circuit is None or any(device.kind in SWITCHES for device in on_circuit)


def _fan_could_hang(box: Box, job: Job) -> bool:
    return not within(standing(job.survey, box).height, BLADES) and not is_near_a_wall(job.survey, box)


def _contested(box: Box, job: Job) -> Judgement:
    height = shown(inches(standing(job.survey, box).height))
    away = shown(inches(FROM_WALLS))
    return Judgement(
        message=(
            f"{name_of(box)}: this ceiling box, {height} up and {away} or more from every wall, is not made to hold a fan; whether "
            "a fan could hang here is for the authority having jurisdiction."
        ),
        readings=(
            Reading("A fan could hang here, so the box has to be ready for one.", "violation"),
            Reading("This is no place for a fan, and a box for a luminaire or alarm will do.", "pass"),
        ),
        facet=box.id,
        at=box.pointer,
        remedies=(Remedy("Use a box listed for a fan; it costs little now.", (state(box, "fan_rated", value=True),)),),
    )
