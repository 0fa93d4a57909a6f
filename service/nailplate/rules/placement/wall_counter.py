"""Along a wall counter no point of the wall is more than 24 in from a receptacle of the same counter space.

Why: counter appliances have cords of about 2 ft; where they do not reach, cords are drawn across sinks and burners or extended.

Fix: add a receptacle above the counter, not more than 20 in above its top, so that none of the wall line is more than
24 in from one; each side of a sink or range is a space of its own.

Trap: measuring from receptacle to receptacle across a sink or range; forgetting the stub of 12 to 24 in between range and wall;
counting the refrigerator's receptacle, or one that hides behind a fastened appliance. A window behind the counter is no excuse.

Does not judge: islands and peninsulas (`island-peninsula`), tops outside kitchens, pantries, breakfast and dining rooms, and
circuits and protection (`small-appliance-circuits`, `gfci-locations`). A receptacle on a side wall, or off the wall line, is
read two ways and left to the authority having jurisdiction.
"""

from nailplate.plan import ROOT, Counter, Room
from nailplate.plan.trade import FOOD_ROOMS
from nailplate.plan.words import CounterKind, Use
from nailplate.remedies.added_receptacles import Added, fewest
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.counter_shortages import JudgedCounter, as_run, judged_counters, worst_way
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import passed_over_at, pointers, told
from nailplate.survey.space import WallSpace
from nailplate.units import inches, shown

HEIGHTS = (8.0, 14.0, 5.0)
"""Inches above the top at which a receptacle is proposed, the usual one first (common practice)."""
SIDE_WALL = (
    "A receptacle on the side wall of the counter serves it as far around the corner as 24 in reach.",
    "The wall line is the back one; a receptacle on the side wall does not serve it.",
)
OFF_THE_WALL = (
    "The distance is measured along the wall line, whatever stands off it.",
    "The 24 in are measured straight from the receptacle to each point of the wall line.",
)


@rule(
    id="wall-counter",
    over=(Counter, Room),
    severity=Severity.CODE,
    subjects=(Subject.COUNTER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(C)(1), (4) and (5)",
            seen=(2017,),
            note="http://www.electrical-contractor.net/forums/ubbthreads.php/posts/88869.html; separate spaces: "
            "https://forums.mikeholt.com/threads/132349",
        ),
        "nec-2020": Cite(
            "210.52(C)(1) and (3)",
            seen=(2020, 2023),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=821",
        ),
        "nec-2026": Cite("210.52(C)(1) and (3)", note="the distances assumed unchanged"),
    },
    hazards=(Hazard.CORDS, Hazard.FIRE),
    dwelling_only=True,
    limits=("receptacle_highest", "counter_behind_unit", "counter_behind_in_corner"),
    changes={
        "nec-2017": "Work surfaces are named beside countertops.",
        "nec-2020": "The paragraph on separate spaces is gone; (C)(1) with its figure does its work for wall counters.",
    },
)
def wall_counter(part: Counter | Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(C)(1), one outcome for each space of wall counter that begins at a counter; a kitchen without any is not passed."""
    return _none_drawn(part, job) if isinstance(part, Room) else _counter(part, job)


def _none_drawn(room: Room, job: Job) -> Outcome:
    if Use.KITCHEN not in room.uses or job.survey.counters_in_room.get(room.id):
        return NotConcerned()
    said = f"No counter is drawn in {name_of(room)}; the receptacles along its counters were not judged."
    return Undetermined((ROOT / "counters",), said)


def _counter(counter: Counter, job: Job) -> Outcome | list[Outcome]:
    room = job.plan.rooms[counter.room]
    if counter.kind is not CounterKind.WALL or not FOOD_ROOMS.intersection(room.uses):
        return NotConcerned()
    if counter.is_(has_top=False):
        return NotConcerned()
    judged = job.survey.once(judged_counters, counter.room, job.edition.spacing.counter)
    return [_outcome(each, job) for each in judged if each.found.counter is counter] or NotConcerned()


def _outcome(judged: JudgedCounter, job: Job) -> Outcome:
    limits = job.edition.spacing.counter
    facet = _facet(judged.found.space)
    if judged.found.needs:
        return Undetermined(judged.found.needs, facet=facet)
    if not judged.surely:
        way = worst_way(judged, limits)
        return Pass(inches(way.measured), inches(way.limit), facet=facet)
    if judged.at_best and not judged.unplaced and judged.found.counter.knows("has_top"):
        return _violation(judged, job, facet)
    if not judged.leniently and judged.found.counter.knows("has_top"):
        return _judgement(judged, job, facet)
    return Undetermined(judged.needs, facet=facet)


def _violation(judged: JudgedCounter, job: Job, facet: str) -> Violation:
    way = worst_way(judged, job.edition.spacing.counter)
    walls = tuple(dict.fromkeys(each.wall.pointer for each in judged.found.space.stretches if each.wall))
    beside = passed_over_at(job.survey, judged.found)
    return Violation(
        message=f"{_message(judged, job)}{told(beside)}",
        measured=inches(way.measured),
        limit=inches(way.limit),
        remedies=(_remedy(judged, job),),
        facet=facet,
        related=(*walls, *pointers(beside)),
        stretch=judged.found.space.points,
    )


def _judgement(judged: JudgedCounter, job: Job, facet: str) -> Judgement:
    way = worst_way(judged, job.edition.spacing.counter)
    lenient, strict = SIDE_WALL if any(each.on_side_wall for each in judged.receptacles) else OFF_THE_WALL
    return Judgement(
        message=f"{_message(judged, job)} Ask the authority having jurisdiction.",
        readings=(Reading(lenient, "pass"), Reading(strict, "violation")),
        measured=inches(way.measured),
        limit=inches(way.limit),
        remedies=(_remedy(judged, job),),
        facet=facet,
        related=tuple(each.device.pointer for each in judged.receptacles if each.on_side_wall or each.off),
        stretch=judged.found.space.points,
    )


# Words and remedies


def _message(judged: JudgedCounter, job: Job) -> str:
    space, way = judged.found.space, worst_way(judged, job.edition.spacing.counter)
    room = job.plan.rooms[judged.found.counter.room]
    where = f"In {name_of(room)} the counter space from {_spot(space, 0.0)} to {_spot(space, space.length)}"
    measured, limit = shown(inches(way.measured)), shown(inches(way.limit))
    if not as_run(judged, job.edition.spacing.counter).places:
        return f"{where}, {measured} long, has no receptacle at its wall line; one of {limit} or more needs one."
    if way.measured <= way.limit:
        start, end = judged.surely[0]
        return f"{where} has {shown(inches(end - start))} of wall line more than 24 in from a receptacle, measured straight."
    if way.inner:
        between = f"between {_spot(space, way.start)} and {_spot(space, way.end)}"
        return f"{where} has {measured} without a receptacle, {between}; {limit} is the most."
    end = way.start if way.start == 0.0 else way.end
    return f"{where} runs {measured} past its last receptacle, to {_spot(space, end)}; {limit} is the most."


def _spot(space: WallSpace, at: float) -> str:
    stretch, along = space.place(at)
    if stretch.wall is None:
        return f"{shown(inches(along))} along the counter's back"
    return f"{shown(inches(stretch.along_wall(along)))} along wall {name_of(stretch.wall)}"


def _facet(space: WallSpace) -> str:
    first = space.stretches[0]
    wall = f"{first.wall.id} {first.side}" if first.wall else f"back {first.edge}"
    return f"{wall}@{round(first.along_wall(first.start))}"


def _remedy(judged: JudgedCounter, job: Job) -> Remedy:
    places = _places(judged, job)
    if not places:
        return Remedy(
            "Add a receptacle here, or one listed for countertops in the top; a strip under the wall cabinets, within "
            f"{shown(job.measure('counter_receptacle_above_top'))} of the top, does as well."
        )
    words = ", ".join(f"{shown(inches(each.along))} along wall {name_of(each.wall)}" for each in places)
    new = {
        # 20 A and with ground-fault protection of its own, as a kitchen counter requires.
        f"counter-{each.wall.id[:36]}-{each.side[0]}{round(each.along)}": {
            **new_receptacle(each),
            "rating": "20 A",
            "gfci": True,
        }
        for each in places
    }
    return Remedy(f"Add {len(places)} receptacle{'s' if len(places) > 1 else ''}: {words}.", added_devices(job.plan, new))


def _places(judged: JudgedCounter, job: Job) -> tuple[Added, ...]:
    if not judged.found.counter.knows("height"):
        return ()
    limits = job.edition.spacing.counter
    run = as_run(judged, limits, at_wall=True)
    best: tuple[Added, ...] = ()
    for over in HEIGHTS:
        way = fewest(job.survey, run, limits, judged.found.counter.height + over)
        if way and (not best or len(way) < len(best)):
            best = way
        if best and len(best) <= len(run.found.suggested):  # no other height takes fewer
            break
    return best
