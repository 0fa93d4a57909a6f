"""Within 3 ft of each basin of a bathroom is a receptacle.

Why: hair dryers and shavers are used at the basin; without a receptacle there a cord is laid over the basin or the tub.

Fix: put a receptacle on the wall beside the basin, within 3 ft of its edge, or one listed for countertops in the top.

Does not judge: whether it is protected or stands too close to the tub or shower: `gfci-locations`, `tub-receptacle` and
`bathroom-circuit` do. A basin outside the bath or toilet room, and a wall that is not next to the basin, are left to the
authority having jurisdiction.
"""

from nailplate.calc import geometry
from nailplate.plan import Fixture, Room
from nailplate.plan.words import FixtureKind, Use
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.basin_receptacles import ADJACENT, Near, at_basin, not_for_basin
from nailplate.rules.placement.places_at_basins import place_beside
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import pointers, told
from nailplate.units import inches, shown, within

ADJOINING = 12.0
"""Inches between the outlines of two rooms that share a wall, at most."""
BATHS = frozenset({Use.BATHROOM, Use.TOILET})


@rule(
    id="bath-receptacle",
    over=Fixture,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(D)",
            note="http://ecmweb.com/print/qampa/code-qa-81?page=3 and https://advice.thisoldhouse.com/showthread.php?122372",
        )
    },
    hazards=(Hazard.CORDS, Hazard.WATER, Hazard.SHOCK),
    dwelling_only=True,
)
def bath_receptacle(basin: Fixture, job: Job) -> Outcome:
    """210.52(D), for one basin."""
    if basin.kind is not FixtureKind.BASIN:
        return NotConcerned()
    room = job.plan.rooms[basin.room]
    if BATHS.intersection(room.uses):
        return _judged(basin, job)
    beyond = _bath_beside(room, job)
    return _perhaps_bath(basin, beyond, job) if beyond else NotConcerned()


def _bath_beside(room: Room, job: Job) -> Room | None:
    """A bath or toilet that adjoins the room: with the basin outside its door, both may be one bathroom."""
    level = job.survey.rooms_on_level.get(room.level, [])
    others = (other for other in level if BATHS.intersection(other.uses) and not _has_basin(other, job))
    return next((other for other in others if _adjoin(room, other)), None)


def _has_basin(room: Room, job: Job) -> bool:
    return any(each.kind is FixtureKind.BASIN for each in job.survey.fixtures_in_room.get(room.id, []))


def _adjoin(room: Room, other: Room) -> bool:
    return any(
        geometry.collinear_overlap(one, two, ADJOINING)
        for one in geometry.sides(room.outline)
        for two in geometry.sides(other.outline)
    )


def _perhaps_bath(basin: Fixture, beyond: Room, job: Job) -> Outcome:
    found = _judged(basin, job)
    if not isinstance(found, Violation):
        return found
    return Judgement(
        message=f"{found.message} Whether this basin and {name_of(beyond)} make one bathroom, "
        "ask the authority having jurisdiction.",
        readings=(
            Reading(f"The basin serves {name_of(beyond)}; both together are a bathroom.", "violation"),
            Reading("A basin outside the bath or toilet room makes no bathroom.", "pass"),
        ),
        measured=found.measured,
        limit=found.limit,
        remedies=found.remedies,
    )


def _judged(basin: Fixture, job: Job) -> Outcome:
    found = at_basin(job.survey, basin)
    fit = [each for each in found.near if within(each.distance, job.inches("basin_reach"))]
    if best := next((each for each in fit if each.adjacent and not each.needs), None):
        return Pass(inches(best.distance), job.measure("basin_reach"))
    open_facts = (*(need for each in fit for need in each.needs), *found.unplaced)
    if open_facts:
        return Undetermined(tuple(dict.fromkeys(open_facts)))
    return _contested(basin, fit[0], job) if fit else _violation(basin, found.near[0] if found.near else None, job)


def _contested(basin: Fixture, near: Near, job: Job) -> Judgement:
    return Judgement(
        message=f"The receptacle {name_of(near.device)} is {shown(inches(near.distance))} from this basin, but on a wall that "
        f"comes no nearer than {shown(inches(ADJACENT))} to the basin or its counter.",
        readings=(
            Reading("A wall within reach of the basin is adjacent to it.", "pass"),
            Reading("Only a wall next to the basin or its counter is adjacent to it.", "violation"),
        ),
        measured=inches(near.distance),
        limit=job.measure("basin_reach"),
        remedies=(_remedy(basin, job),),
        related=(near.device.pointer,),
    )


def _violation(basin: Fixture, nearest: Near | None, job: Job) -> Violation:
    reach = shown(job.measure("basin_reach"))
    beside = not_for_basin(job.survey, basin)
    if nearest is None:
        room = name_of(job.plan.rooms[basin.room])
        said = f"No receptacle that counts is at this basin in {room}; one within {reach} of its edge is required"
        message = f"{said}, not more than {shown(job.measure('below_basin_top'))} below its top."
    else:
        away = shown(inches(nearest.distance))
        message = f"The nearest receptacle, {name_of(nearest.device)}, is {away} from this basin's edge; {reach} is the most."
    return Violation(
        message=f"{message}{told(beside)}",
        measured=inches(nearest.distance) if nearest else None,
        limit=job.measure("basin_reach"),
        remedies=(_remedy(basin, job),),
        related=((nearest.device.pointer,) if nearest else ()) + pointers(beside),
    )


def _remedy(basin: Fixture, job: Job) -> Remedy:
    place = place_beside(job.survey, basin)
    if place is None:
        return Remedy(
            "Put a receptacle on a wall adjacent to the basin, or one listed for countertops in its top, "
            "clear of the zone around tub and shower."
        )
    along, height = shown(inches(place.along)), shown(inches(place.height))
    words = f"Put a receptacle at {along} along wall {name_of(place.wall)}, {height} above the floor."
    # 20 A and with ground-fault protection of its own, as a bathroom requires.
    value = {**new_receptacle(place), "rating": "20 A", "gfci": True}
    return Remedy(words, added_devices(job.plan, {f"receptacle-{basin.id[:40]}": value}))
