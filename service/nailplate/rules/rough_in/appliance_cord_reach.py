"""The cord of an appliance reaches its receptacle without going through a door, a window or a wall.

Why: where the cord is too short an extension cord comes, and lies under the rug and through the door.

Fix: move the receptacle nearer to the appliance, or order the appliance with a longer cord where its manufacturer offers one.

Trap: a cord goes around walls, not through them, and 400.12 keeps it out of doorways, windows, ceilings and floors. Measured in plan,
from the nearest edge of the appliance to the receptacle, around fixed walls.

Does not judge: The way up or down and around cabinets, so that a cord that passes by an inch is short, and outlets that the plan does not name:
`appliance-outlet` requests those.
"""

from typing import Final

from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import shortest_path
from nailplate.plan import Appliance, Device
from nailplate.plan.words import Connection, DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import Standing, standing
from nailplate.survey.names import name_of
from nailplate.survey.protection import NOTHING, barriers_on, connection_of, is_served, plug_of, plugged_into
from nailplate.units import Inches, inches, shown, within

LONGEST: Final = Inches(600.0)
"""Inches to which a way is looked for, to tell how much is missing."""


@rule(
    id="appliance-cord-reach",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={
        "nec-2017": Cite("400.12, 400.7", note="uses of flexible cord and where it may not run; numbers from memory"),
    },
    hazards=(Hazard.CORDS, Hazard.TRIP, Hazard.FIRE),
)
def appliance_cord_reach(appliance: Appliance, job: Job) -> Outcome:
    """The shortest lawful way in plan against the length of the cord."""
    if not appliance.knows("cord_length") or connection_of(job.survey, appliance) is not Connection.CORD:
        return NotConcerned()
    if not appliance.knows("outlet") and not is_served(job.survey, appliance):
        return NotConcerned()
    receptacle = plugged_into(job.survey, appliance)
    if receptacle.kind is not DeviceKind.RECEPTACLE:
        return NotConcerned()
    where = standing(job.survey, receptacle)
    level = job.plan.rooms[appliance.room].level
    if where.level != level:
        return _out_of_reach(appliance, receptacle, None)
    return _judged(appliance, receptacle, where, job)


def _judged(appliance: Appliance, receptacle: Device, where: Standing, job: Job) -> Outcome:
    barriers = barriers_on(job.survey, where.level, through=NOTHING)
    try:
        found = shortest_path(appliance.footprint, [plug_of(where)], barriers, LONGEST)
    except SearchTooLarge:
        return Undetermined((), "There are too many walls near it to find the way of its cord.")
    if found is None:
        return _out_of_reach(appliance, receptacle, None)
    way = Inches(found.length)
    if within(way, appliance.cord_length):
        return Pass(inches(way), inches(appliance.cord_length))
    return _out_of_reach(appliance, receptacle, way)


def _out_of_reach(appliance: Appliance, receptacle: Device, way: Inches | None) -> Violation:
    cord = shown(inches(appliance.cord_length))
    what = f"the shortest way to {name_of(receptacle)} is {shown(inches(way))}" if way is not None else "no lawful way leads"
    to = "" if way is not None else f" to {name_of(receptacle)}"
    return Violation(
        f"The cord of {name_of(appliance)} is {cord} long; {what}{to}, around walls and through no door or window.",
        inches(way) if way is not None else None,
        inches(appliance.cord_length),
        (Remedy("Move the receptacle nearer to the appliance, or name the one that it really uses."),),
        related=(receptacle.pointer,),
    )
