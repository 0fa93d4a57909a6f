"""A fixed room divider is served by receptacles as a wall is; what guards an edge or parts a kitchen off may be one.

Why: what stands at a half wall, a railing or a bar is plugged in there; without a receptacle cords cross the way around its end.

Fix: add a receptacle on each face of a solid divider so that no point is more than 6 ft from one; beside an open railing
one floor receptacle, within 18 in of it, serves both sides.

Trap: each face of a half wall is a wall space of its own, and its free end is an end. From 2026 a receptacle on a divider with a top
is more than 24 in below that top. A guard at a stair or gallery is named by some as a divider, by others not.

Does not judge: walls that run to another wall (`wall-space`) and guards of lofts (`loft-receptacles`). Whether a guard, or a
bar that is a counter too, divides the rooms is left to the authority having jurisdiction.
"""

from collections.abc import Iterator
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Counter, Room, UnknownFact, Wall
from nailplate.plan.words import CounterKind, Mount
from nailplate.remedies.added_receptacles import fewest
from nailplate.remedies.divider_runs import as_run, divider_height, free_places
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.wall_outcomes import contested_guard, in_loft, is_lived_in, tops_break_in, wall_outcomes
from nailplate.survey.names import name_of
from nailplate.survey.places import standing
from nailplate.survey.receptacles import Face, JudgedFace, counter_faces, free_walls, judged_face, receptacles_at
from nailplate.survey.space import Contest, floor_line
from nailplate.units import inches, shown, within, written


@rule(
    id="room-divider",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.ROOM_DIVIDERS,),
    cites={
        "nec-2017": Cite(
            "210.52(A)(2)(3)",
            seen=(2017, 2020, 2023),
            note="https://www.ecmag.com/section/codes-standards/article-210-branch-circuits ; guards: "
            "https://forums.mikeholt.com/threads/33945 and 89111",
        ),
        "nec-2026": Cite(
            "210.52(A)(2)(3) and (A)(5)",
            seen=(2026,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1859",
        ),
    },
    needs=("outline",),
    hazards=(Hazard.CORDS, Hazard.TRIP),
    dwelling_only=True,
)
def room_divider(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(A)(2)(3): free-standing dividers of a room, and the guards on its floor line."""
    if not is_lived_in(room):
        return NotConcerned()
    return [*_guards(room, job), *_walls(room, job), *_counters(room, job)] or NotConcerned()


def _guards(room: Room, job: Job) -> Iterator[Outcome]:
    """Guards stand on the floor line; in lofts they are told by the rule for lofts."""
    line = job.survey.once(floor_line, room.id, tops_break_in(job))
    if in_loft(room, job) or not any(stretch.contest is Contest.GUARD for stretch in line):
        return
    contested = [each for each in wall_outcomes(room, job) if contested_guard(each)]
    yield from contested or [Pass(facet="guard")]


def _walls(room: Room, job: Job) -> Iterator[Outcome]:
    for face in free_walls(job.survey, room, tops_break_in(job)):
        yield from _face(face, job)


def _counters(room: Room, job: Job) -> Iterator[Outcome]:
    for counter in job.survey.counters_in_room.get(room.id, []):
        if counter.kind in (CounterKind.WALL, CounterKind.TALL_CABINET):
            continue
        try:
            faces = [*counter_faces(job.survey, counter)]
        except UnknownFact as unknown:
            if counter.kind is CounterKind.DIVIDER:
                yield Undetermined((unknown.pointer,), facet=counter.id, at=counter.pointer)
            continue
        for face in faces:
            yield from _face(face, job)
        if job.holds("divider_receptacle_low") and counter.kind is CounterKind.DIVIDER:
            yield from _too_near_the_top(counter, job)


def _face(face: Face, job: Job) -> Iterator[Outcome]:
    judged = judged_face(job.survey, face, job.edition.spacing.wall, tops_break_in(job))
    if judged is None:
        return
    facet, at = _facet(face), face.part.pointer
    if not judged.gaps:
        yield Pass(facet=facet)
    elif judged.needs:
        yield Undetermined(judged.needs, facet=facet, at=at)
    elif isinstance(face.part, Counter) and face.part.kind is not CounterKind.DIVIDER:
        yield _contested(judged, face.part, job)
    else:
        yield Violation(
            message=f"{_message(judged)}.",
            measured=inches(_worst(judged, job)[0]),
            limit=inches(_worst(judged, job)[1]),
            remedies=(_remedy(judged, job),),
            facet=facet,
            at=at,
        )


def _contested(judged: JudgedFace, counter: Counter, job: Job) -> Judgement:
    named = name_of(counter)
    return Judgement(
        message=f"{_message(judged)}. Ask the authority having jurisdiction whether it divides the rooms.",
        readings=(
            Reading(f"{named} parts the rooms, and its far side is wall space as that of a bar counter is.", "violation"),
            Reading(f"{named} is a counter with a rule of its own, and no room divider.", "pass"),
        ),
        measured=inches(_worst(judged, job)[0]),
        limit=inches(_worst(judged, job)[1]),
        remedies=(_remedy(judged, job),),
        facet=_facet(judged.face),
        at=counter.pointer,
    )


def _too_near_the_top(counter: Counter, job: Job) -> Iterator[Outcome]:
    for each in receptacles_at(job.survey, counter):
        if each.device.is_among(mount=(Mount.COUNTERTOP, Mount.FLOOR, Mount.DRAWER)):
            continue
        under = counter.height - standing(job.survey, each.device).height
        if under > 0 and within(under, job.inches("divider_receptacle_below_top")):
            yield Violation(
                message=f"This receptacle is {shown(inches(under))} below the top of {name_of(counter)}; on a divider it is more than "
                f"{shown(job.measure('divider_receptacle_below_top'))} below.",
                measured=inches(under),
                limit=job.measure("divider_receptacle_below_top"),
                remedies=(Remedy(f"Set it lower, {shown(inches(divider_height(counter)))} above the floor at most."),),
                facet=f"{counter.id} top",
                at=each.device.pointer,
                related=(counter.pointer,),
            )


# Words and remedies


def _worst(judged: JudgedFace, job: Job) -> tuple[float, float]:
    """The longest way without a receptacle along the face and how long it may be."""
    limits = job.edition.spacing.wall
    if not judged.places:
        return judged.face.length, limits.minimum
    ends = [(judged.places[0], limits.reach), (judged.face.length - judged.places[-1], limits.reach)]
    between = [(two - one, 2 * limits.reach) for one, two in pairwise(judged.places)]
    return max([*ends, *between], key=lambda way: way[0] - way[1])


def _message(judged: JudgedFace) -> str:
    face = judged.face
    what = "railing" if face.both_sides else f"face of {name_of(face.part)} toward {name_of(face.room)}"
    named = f"The {what} {name_of(face.part)}" if face.both_sides else f"The {what}"
    start, end = max(judged.gaps, key=lambda gap: gap[1] - gap[0])
    long, short = shown(inches(face.length)), shown(inches(end - start))
    return f"{named} is {long} long, and {short} of it is more than 6 ft from a receptacle that serves it"


def _facet(face: Face) -> str:
    side = face.side.value if face.side else f"to {face.room.id}"
    return f"{face.part.id} {side}"


def _remedy(judged: JudgedFace, job: Job) -> Remedy:
    face, limits = judged.face, job.edition.spacing.wall
    if isinstance(face.part, Wall) and not face.both_sides:
        places = fewest(job.survey, as_run(judged, limits), limits, divider_height(face.part))
        new = {f"divider-{each.wall.id[:36]}-{each.side[0]}{round(each.along)}": new_receptacle(each) for each in places}
        if not new:
            return Remedy("Add a listed floor receptacle within 18 in of the divider.")
        words = ", ".join(f"{shown(inches(each.along))} along wall {name_of(each.wall)}" for each in places)
        return Remedy(f"Add a receptacle on this face: {words}.", added_devices(job.plan, new))
    new = {
        f"divider-{face.part.id[:36]}-{number + 1}": _beside(face, point, height)
        for number, (point, height) in enumerate(free_places(judged, limits))
    }
    words = (
        "Add a listed floor receptacle beside the railing" if face.both_sides else "Add a receptacle on this face, low enough"
    )
    return Remedy(f"{words}.", added_devices(job.plan, new))


def _beside(face: Face, point: geometry.Point, height: float) -> dict[str, object]:
    place = {"room": face.room.id, "point": [written(inches(value)) for value in point], "height": written(inches(height))}
    in_floor: dict[str, object] = {"mount": "floor", "listing": "floor"} if face.both_sides else {"mount": "below_counter"}
    return {
        "kind": "receptacle",
        **in_floor,
        "at": place,
        "rating": "15 A",
        "voltage": "125 V",
        "contacts": 2,
        "switched_half": "none",
        "tamper_resistant": True,
    }
