"""What can be said of each wall space of a room; serves the rules for rooms, for lofts and for dividers."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from nailplate.plan import ROOT, Pointer, Room
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import LevelKind, Use
from nailplate.remedies.added_receptacles import additions
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.wall_words import facet_of, message_of, walls_of
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    Case,
    Judged,
    Patch,
    cases,
    counted_enough,
    judged_in_room,
    longest_way,
    needs_of,
    overlap,
    passed_over_along,
    pointers,
    told,
    unplaced_needs,
)
from nailplate.survey.space import Contest, Stretch, Surface, WallSpace, floor_line, inner_walls, undrawn, untold
from nailplate.units import inches, shown

READINGS = {
    Contest.GUARD: (
        "A railing is named among the fixed room dividers, so the length of this guard is wall space.",
        "A guard keeps people from falling and divides no room, so its length is no wall space.",
    ),
    Contest.RANGE: (
        "A range can be pulled out and breaks no wall space, so the wall that it stands at belongs to the one beside it.",
        "A range at the end of a counter stands in the counter's line, and the wall space begins beside it.",
    ),
    Contest.LOW: (
        "The code names no least height of a wall, so this low wall is wall space.",
        "A wall too low to stand or place anything at is no wall space.",
    ),
}


def in_loft(room: Room, job: Job) -> bool:
    """Whether a room is a loft, or a part of one."""
    return job.plan.levels[room.level].kind is LevelKind.LOFT


def contested_guard(outcome: Outcome) -> bool:
    """Whether an outcome hangs on the question whether a guard divides rooms."""
    return isinstance(outcome, Judgement) and outcome.readings[0].words == READINGS[Contest.GUARD][0]


def wall_outcomes(room: Room, job: Job) -> list[Outcome]:
    """One outcome for each wall space of a room, and for what of its floor line could not be judged."""
    line = job.survey.once(floor_line, room.id, tops_break_in(job))
    if all(stretch.surface is Surface.OPEN for stretch in line):
        said = f"No wall is drawn along the outline of {name_of(room)}, so no wall space can be measured."
        return [Undetermined((ROOT / "walls",), said)]
    found = [*_not_drawn(room, job, line), *_standing_inside(room, job), *_wall_spaces(room, job)]
    return found or [Pass()]


def is_lived_in(room: Room) -> bool:
    """Whether 210.52(A) speaks of the room. Raises UnknownFact for a basement of which it is not said."""
    if HABITABLE.intersection(room.uses):
        return True
    # A finished basement that is lived in is a "similar room"; what it is used for may be said later.
    return set(room.uses) == {Use.BASEMENT} and room.finished and room.habitable


def tops_break_in(job: Job) -> bool:
    """Whether cabinets with a top break the floor line in the edition in force."""
    return job.holds("cabinets_with_tops_break")


# What the drawing leaves out


def _not_drawn(room: Room, job: Job, line: Iterable[Stretch]) -> Iterator[Outcome]:
    for stretch in undrawn(job.survey, room, line):
        (x, y), _ = stretch.segment
        yield Undetermined(
            (ROOT / "walls",),
            f"The outline of {name_of(room)} has an edge from x {shown(inches(x))}, y {shown(inches(y))} with neither a wall nor another room beyond it; "
            "what stands there was not judged.",
            facet=f"edge {stretch.edge}@{round(stretch.start)}",
        )


def _standing_inside(room: Room, job: Job) -> Iterator[Outcome]:
    """A wall within the outline has faces that the outline, which is the floor line, does not follow."""
    for wall in job.survey.once(inner_walls, room.level, tops_break_in(job)).get(room.id, ()):
        yield Undetermined(
            (),
            f"Wall {name_of(job.plan.walls[wall])} stands inside the outline of {name_of(room)}; its faces are wall space too and were not judged. "
            "Draw the outline around it.",
            facet=f"inside {wall}",
        )


# The wall spaces


@dataclass(frozen=True, slots=True)
class _Short:
    """A wall space with a receptacle missing, and the cases in which it is."""

    judged: Judged
    patches: tuple[Patch, ...]
    within: tuple[Case, ...]


def _wall_spaces(room: Room, job: Job) -> Iterator[Outcome]:
    tops_break, limits = tops_break_in(job), job.edition.spacing.wall
    every = sorted(job.survey.once(cases, room.level, tops_break), key=lambda case: case.reading.contested_counts)
    by_case = {case: job.survey.once(judged_in_room, room.level, tops_break, limits, case).get(room.id, ()) for case in every}
    seen: list[Patch] = []
    for case in every:
        for judged in by_case[case]:
            patches = judged.short_in(room.id)
            if patches and not overlap(patches, seen):
                alike = {other: _overlapping(by_case[other], room, patches) for other in every}
                seen += [patch for patches_of in alike.values() for patch in patches_of]
                yield _short(room, job, _Short(judged, patches, tuple(other for other in every if alike[other])), every)
    for judged in by_case[every[-1]]:
        if counted_enough(judged.space, limits) and not overlap(_in_room(judged.space, room), seen):
            way = longest_way(judged, room.id, limits)
            yield Pass(inches(way.measured), inches(way.limit), facet=facet_of(judged.space, room))


def _overlapping(some: Sequence[Judged], room: Room, patches: Sequence[Patch]) -> list[Patch]:
    """What of these is out of reach where ``patches`` are, with all else that is out of reach in the same wall space."""
    return [each for judged in some if overlap(judged.short_in(room.id), patches) for each in judged.short_in(room.id)]


def _in_room(space: WallSpace, room: Room) -> list[Patch]:
    return [(stretch.edge, stretch.start, stretch.end) for stretch in space.stretches if stretch.room == room.id]


def _short(room: Room, job: Job, short: _Short, every: Sequence[Case]) -> Outcome:
    tops_break = tops_break_in(job)
    rooms = dict.fromkeys((room.id, *(stretch.room for stretch in short.judged.space.stretches)))  # it may run on into others
    unplaced = (need for each in rooms for need in unplaced_needs(job.survey, room.level, tops_break, each))
    missing = (*unplaced, *_beyond(room, job))
    strict, lenient = ([case for case in every if case.reading.contested_counts is counts] for counts in (True, False))
    if len(short.within) == len(every) and not missing:
        return _violation(room, job, short, every)
    if lenient and not missing and list(short.within) in (strict, lenient):
        return _judgement(room, job, short, every)
    spaces = [
        judged.space
        for case in every
        for judged in job.survey.once(judged_in_room, room.level, tops_break, job.edition.spacing.wall, case).get(room.id, ())
        if overlap(_in_room(judged.space, room), short.patches)
    ]
    needs = needs_of(job.survey, room.level, tops_break, spaces, room.id)
    return Undetermined(tuple(dict.fromkeys((*needs, *missing))), facet=facet_of(short.judged.space, room))


def _beyond(room: Room, job: Job) -> tuple[Pointer, ...]:
    """What is missing of the zones that an open plan goes on into: the wall space may go on there, and be served there."""
    line = job.survey.once(floor_line, room.id, tops_break_in(job))
    is_open = any(stretch.surface is Surface.OPEN for stretch in line)
    return job.survey.once(untold, room.level, tops_break_in(job)) if is_open else ()


def _violation(room: Room, job: Job, short: _Short, every: Sequence[Case]) -> Violation:
    limits = job.edition.spacing.wall
    way = longest_way(short.judged, room.id, limits)
    beside = passed_over_along(job.survey, room, short.judged.space)
    return Violation(
        message=f"{message_of(room, short.judged, way, limits)}{told(beside)}",
        measured=inches(way.measured),
        limit=inches(way.limit),
        remedies=(_remedy(room, job, short, every),),
        facet=facet_of(short.judged.space, room),
        related=(*walls_of(short.judged.space, room), *pointers(beside)),
        stretch=short.judged.space.points,
    )


def _judgement(room: Room, job: Job, short: _Short, every: Sequence[Case]) -> Judgement:
    limits = job.edition.spacing.wall
    way = longest_way(short.judged, room.id, limits)
    counts, counts_not = READINGS[_contest(room, job)]
    strictly = short.within[0].reading.contested_counts
    return Judgement(
        message=f"{message_of(room, short.judged, way, limits)} Ask the authority having jurisdiction.",
        readings=(
            Reading(counts, "violation" if strictly else "pass"),
            Reading(counts_not, "pass" if strictly else "violation"),
        ),
        measured=inches(way.measured),
        limit=inches(way.limit),
        remedies=(_remedy(room, job, short, every),),
        facet=facet_of(short.judged.space, room),
        related=walls_of(short.judged.space, room),
        stretch=short.judged.space.points,
    )


def _contest(room: Room, job: Job) -> Contest:
    line = job.survey.once(floor_line, room.id, tops_break_in(job))
    return next((stretch.contest for stretch in line if stretch.contest), Contest.GUARD)


# Words and remedies


def _remedy(room: Room, job: Job, short: _Short, every: Sequence[Case]) -> Remedy:
    limits = job.edition.spacing.wall
    counting = [case for case in every if case.all_count]
    places = additions(job.survey, room.id, room.level, tops_break_in(job), limits, counting, short.patches)
    if not places:
        return Remedy(
            "Add a receptacle here; where the wall has no place for one, a listed floor receptacle within 18 in of it."
        )
    words = ", ".join(f"{shown(inches(each.along))} along wall {name_of(each.wall)}" for each in places)
    new = {f"receptacle-{each.wall.id[:36]}-{each.side[0]}{round(each.along)}": new_receptacle(each) for each in places}
    return Remedy(f"Add {len(places)} receptacle{'s' if len(places) > 1 else ''}: {words}.", added_devices(job.plan, new))
