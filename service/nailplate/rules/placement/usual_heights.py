"""Receptacles, switches and thermostats stand at the heights that the trade usually sets them at.

Why: the codes set no height but a few upper limits. A box far off the usual height is most often a slip: a height of the top or
the bottom taken for that of the center, a subfloor for the finished floor, or two figures swapped.

Fix: set the box at the usual height, or keep it where you want it; nobody has to change it.

Trap: heights here are of the center of the box over the finished floor. A backsplash moves counter receptacles up. Where people
reach from a chair, 15 in to 48 in serves both receptacles and switches.

Does not judge: lofts, attics, low walls, places outdoors and in cabinets, and receptacles for one appliance: these have heights
of their own. Code heights are judged by `handle-height` and the rules on receptacles; an accessible height for people who use a
chair is for the code in force there.
"""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Counter, Device, UnknownFact
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import DeviceKind, LevelKind, Mount, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, state
from nailplate.survey import place_of, standing
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import is_outdoor
from nailplate.survey.places import Standing
from nailplate.survey.protection import appliances_served
from nailplate.survey.space import TOUCH, footprints
from nailplate.survey.wiring import cables_at, node_of_device
from nailplate.units import inches, reaches, shown, within, written

LOW_WALL = 48.0
"""Inches; on a wall no higher there is no usual height."""
ROOMS = HABITABLE | {Use.HALLWAY, Use.FOYER}


@dataclass(frozen=True, slots=True)
class _Usual:
    """What is usual: from, to, and where a box is set if nothing speaks for another height."""

    what: str
    low: float
    high: float
    height: float


# All common practice, center of the box above the finished floor: https://forums.mikeholt.com/showthread.php?t=191511 and
# https://forums.mikeholt.com/showthread.php?t=174355.
RECEPTACLE = _Usual("a receptacle in a wall", 12.0, 18.0, 16.0)
SWITCH = _Usual("a switch", 42.0, 48.0, 46.0)
THERMOSTAT = _Usual("a thermostat", 48.0, 60.0, 60.0)
OVER_COUNTER = (6.0, 10.0, 8.0)
"""Inches over the top of a counter: 42 to 46 over one of 36."""
ROUNDING = 0.25
"""Inches past a figure that still are that figure: 4 ft is 1220 mm on a drawing in whole centimeters."""
SWITCHES = frozenset({DeviceKind.SWITCH, DeviceKind.DIMMER})


@rule(
    id="usual-heights",
    over=Device,
    severity=Severity.ADVICE,
    subjects=(Subject.USUAL_PLACES,),
    cites={
        "nec-2017": Cite(
            "210.52 and 404.8 set upper limits only; the usual heights are common practice",
            note="https://forums.mikeholt.com/showthread.php?t=191511",
        )
    },
    hazards=(Hazard.BURIED,),
)
def usual_heights(device: Device, job: Job) -> Outcome:
    """Common practice, for one receptacle, switch or thermostat on a wall."""
    if not _is_of_the_kind(device, job):
        return NotConcerned()
    stands = standing(job.survey, device)
    usual = _usual(device, stands, job)
    if usual is None or not reaches(stands.height, 0.0):
        return NotConcerned()  # under the floor: that is told by box-height and place-in-room
    height, low, high = inches(stands.height), inches(usual.low), inches(usual.high)
    if reaches(height.value, usual.low - ROUNDING) and within(height.value, usual.high + ROUNDING):
        return Pass(height, high)
    new = inches(usual.height)
    place = place_of(job.survey, device)
    patch = (state(place, "height", written(new)),) if _stands_free(device, stands, usual, job) else ()
    return Violation(
        message=f"{name_of(device)} is {shown(height)} above the floor; {usual.what} is usually set at {shown(low)} to {shown(high)} "
        "(common practice, no code requirement).",
        measured=height,
        limit=low if height.value < usual.low else high,
        remedies=(Remedy(f"Set it at {shown(new)}, unless it is meant so.", patch),),
    )


def _stands_free(device: Device, stands: Standing, usual: _Usual, job: Job) -> bool:
    """Whether nothing else hangs on its height: no drawn route ends at it, and no counter may be the one that it serves."""
    routed = any(cable.knows("route") for cable in cables_at(job.survey, node_of_device(device)))
    counters = stands.room is not None and bool(job.survey.counters_in_room.get(stands.room.id))
    return not routed and not (usual is RECEPTACLE and counters)


def _is_of_the_kind(device: Device, job: Job) -> bool:
    if device.isnt(mount=Mount.WALL):
        return False
    if device.kind in SWITCHES or device.kind is DeviceKind.THERMOSTAT:
        return not device.is_(in_cabinet=True)
    own = device.knows("part_of") or bool(appliances_served(job.survey, device)) or device.is_(in_cabinet=True)
    return device.kind is DeviceKind.RECEPTACLE and not own


def _usual(device: Device, stands: Standing, job: Job) -> _Usual | None:
    if stands.wall is None or stands.room is None or is_outdoor(stands.room) or _is_low(stands, job):
        return None
    if device.kind in SWITCHES:
        return SWITCH
    if device.kind is DeviceKind.THERMOSTAT:
        return THERMOSTAT
    counter = _counter_below(stands, job)
    if counter is not None:
        low, high, height = (counter.height + over for over in OVER_COUNTER)
        return _Usual("a receptacle over a counter", low, high, height)
    return RECEPTACLE if ROOMS.intersection(stands.room.uses) else None


def _is_low(stands: Standing, job: Job) -> bool:
    wall = stands.wall
    low_wall = wall is not None and wall.knows("height") and within(wall.height, LOW_WALL)
    return low_wall or job.plan.levels[stands.level].kind in (LevelKind.LOFT, LevelKind.ATTIC)


def _counter_below(stands: Standing, job: Job) -> Counter | None:
    """The counter whose top the receptacle is over, if there is one there."""
    counters = job.survey.counters_in_room.get(stands.room.id, []) if stands.room else []
    return next((each for each in counters if _is_over(each, stands, job)), None)


def _is_over(counter: Counter, stands: Standing, job: Job) -> bool:
    if counter.is_(has_top=False):
        return False
    try:
        rings = footprints(counter, job.plan.rooms[counter.room])
    except UnknownFact:
        if within(stands.height, RECEPTACLE.high):
            return False  # unknown: so low no receptacle is over a counter
        raise
    near = any(within(geometry.distance_to_outline(stands.on_floor_line, ring), TOUCH) for ring in rings)
    return near and stands.height > counter.height
