"""The runs of every cable through the framing, drawn or worked out, with the studs and joists that they cross."""

import math
from collections.abc import Mapping

from nailplate.plan import UnknownFact
from nailplate.plan.words import How
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import FACES, Run, derived_runs, hole_distances, needs_no_steel, runs, spacing_of, stud_centers


def every_run(survey: Survey) -> tuple[Run, ...]:
    """The runs of all cables: as their routes draw them, else as they are worked out."""
    return survey.once(_every_run)


def mark_of(run: Run) -> str:
    """Beside a cable's name, that no author draws this run of it."""
    return " (derived)" if run.derived else ""


def runs_by_wall(survey: Survey) -> Mapping[str, list[Run]]:
    """The runs of each wall by its id; those outside every wall under an empty name."""
    return survey.once(_runs_by_wall)


def _every_run(survey: Survey) -> tuple[Run, ...]:
    return (*runs(survey), *derived_runs(survey))


def _runs_by_wall(survey: Survey) -> Mapping[str, list[Run]]:
    found: dict[str, list[Run]] = {}
    for run in every_run(survey):
        found.setdefault(run.wall.id if run.wall is not None else "", []).append(run)
    return found


def studs_crossed(run: Run) -> tuple[float, ...]:
    """The studs that a level run in a wall goes through."""
    if run.wall is None or not run.on_wall:
        return ()
    alongs = [along for along, _ in run.on_wall]
    low, high = min(alongs), max(alongs)
    return tuple(each for each in stud_centers(run.wall) if low <= each <= high)


def members_crossed(run: Run) -> int:
    """How many members a bored or notched run crosses: the studs of its wall, one plate where it goes up, else by their spacing."""
    if run.upright:
        return 1
    if run.wall is not None and stud_centers(run.wall):
        return len(studs_crossed(run))
    if not run.length:
        return 1
    try:
        return max(1, math.ceil(run.length / spacing_of(run)))
    except UnknownFact:  # unknown: one at the least, and the sheet says about
        return 1


def plates_for(survey: Survey, run: Run) -> int:
    """Nail plates on a bored or notched run: the more of what the route states and what its holes need."""
    if run.segment.how not in (How.BORED, How.NOTCH):
        return 0
    stated = FACES[run.segment.plates] if run.segment.knows("plates") else 0
    return members_crossed(run) * max(stated, _faces_needed(survey, run))


def _faces_needed(survey: Survey, run: Run) -> int:
    try:
        if needs_no_steel(run):
            return 0
        if run.segment.how is How.NOTCH:
            return 1
        faces = hole_distances(survey, run).plates
    except UnknownFact:  # unknown: the rule about holes says what is missing
        return 0
    return faces if faces is not None else 1
