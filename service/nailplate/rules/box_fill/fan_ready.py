"""Ceiling boxes that no fan hangs from yet: whether the code asks that one could."""

from typing import Final

from nailplate.plan import Box, Cable
from nailplate.plan.trade import ALARMS, SWITCHES
from nailplate.plan.words import Regime
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, state
from nailplate.rules.box_fill.fan_spots import BLADES, FROM_WALLS, is_habitable, is_near_a_wall
from nailplate.survey import standing
from nailplate.survey.boxes import inside
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within

_SPARE_CONDUCTORS: Final = 3


def for_later(box: Box, job: Job) -> Outcome:
    """What 314.27(C) says of a ceiling box without a fan."""
    names = ("fan_rated", "structure_access") if job.holds("fan_box_anywhere") else ("fan_rated",)
    if any(box.is_(**{name: True}) for name in names):
        return Pass()
    if not _fan_could_hang(box, job) or not _asked_for(box, job):
        return NotConcerned()
    missing = tuple(box.where(name) for name in names if not box.knows(name))
    return Undetermined(missing) if missing else _contested(box, job)


def _fan_could_hang(box: Box, job: Job) -> bool:
    return not within(standing(job.survey, box).height, BLADES) and not is_near_a_wall(job.survey, box)


def _asked_for(box: Box, job: Job) -> bool:
    if job.plan.basis.is_(regime=Regime.NOT_A_DWELLING):
        return False
    if not job.holds("fan_box_anywhere"):
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
        remedies=(Remedy("Install a box listed for a fan; it costs little now.", (state(box, "fan_rated", value=True),)),),
    )
