"""An appliance that stays in its place has an outlet drawn for it.

Why: an appliance without an outlet gets one after cover-up: an extension cord, or a wall opened again.

Fix: draw its receptacle or connection and name it as the appliance's `outlet`.

Trap: a receptacle somewhere in the room is not yet one within the appliance's cord. Where the plan names none, one that the cord reaches
is taken; where no drawn receptacle is in reach, that is told.

Does not judge: Portable appliances, which use what the room has.
"""

from typing import Final

from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import Barriers, shortest_path
from nailplate.plan import Appliance, Device, Stage, UnknownFact
from nailplate.plan.words import Connection, DeviceKind, Fuel
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.survey.protection import NOTHING, barriers_on, is_served, plug_of
from nailplate.survey.space import stays
from nailplate.units import inches, shown

_ELECTRIC: Final = ("volts", "power", "current", "hp", "circuit", "connection", "minimum_circuit")
"""Facts that make an appliance electric, whatever else it burns."""


@rule(
    id="appliance-outlet",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={"nec-2017": Cite("210.50(B), 400.12", note="a receptacle outlet wherever cords with plugs are used; from memory")},
    hazards=(Hazard.CORDS, Hazard.FIRE),
)
def appliance_outlet(appliance: Appliance, job: Job) -> Outcome:
    """Named; or, for a cord of known length, found within its reach."""
    if not stays(appliance) or not _is_electric(appliance):
        return NotConcerned()
    if appliance.knows("outlet") or is_served(job.survey, appliance):
        return Pass()
    on_cord = appliance.knows("connection", "cord_length", "footprint", "room") and appliance.connection is Connection.CORD
    if not on_cord or not _all_drawn(job):
        return Undetermined((appliance.where("outlet"),))
    in_reach = _in_reach(appliance, job)
    return Undetermined((appliance.where("outlet"),)) if in_reach is None else Pass() if in_reach else _none(appliance)


def _is_electric(appliance: Appliance) -> bool:
    return not appliance.isnt(fuel=Fuel.NONE) or any(appliance.knows(name) for name in _ELECTRIC)


def _all_drawn(job: Job) -> bool:
    """Whether the author has come so far that receptacles not drawn are not planned."""
    return not job.plan.knows("stage") or job.plan.stage is Stage.ROUGH_IN


def _in_reach(appliance: Appliance, job: Job) -> bool | None:
    """Whether any receptacle of the level is within the cord's reach; None where one of them is not placed."""
    level = job.plan.rooms[appliance.room].level
    barriers = barriers_on(job.survey, level, through=NOTHING)
    unsure = False
    for device in job.plan.devices.values():
        reached = device.kind is DeviceKind.RECEPTACLE and _reaches(appliance, device, level, job, barriers)
        if reached:
            return True
        unsure = unsure or reached is None
    return None if unsure else False


def _reaches(appliance: Appliance, device: Device, level: str, job: Job, barriers: Barriers) -> bool | None:
    try:
        where = standing(job.survey, device)
        if where.level != level:
            return False
        return shortest_path(appliance.footprint, [plug_of(where)], barriers, appliance.cord_length) is not None
    except (UnknownFact, SearchTooLarge):  # unknown: where it is; unless another is in reach, the outlet is asked for
        return None


def _none(appliance: Appliance) -> Violation:
    return Violation(
        f"{name_of(appliance)} has no outlet, and no receptacle is drawn within its cord of {shown(inches(appliance.cord_length))}.",
        limit=inches(appliance.cord_length),
        remedies=(Remedy("Draw a receptacle within reach of its cord, and name it as its outlet."),),
    )
