"""The space of a panel, from the floor to 6 ft above it, holds no pipes and ducts.

Why: a pipe that leaks or sweats, or a duct that drips, wets a panel below it; and where they run no cable can come in later.

Fix: run the pipe or duct around the panel, or hang the panel elsewhere.

Trap: the space is as wide as the panel and as deep as it and its wall; a pipe in the same stud bay over a flush panel is in it.
It ends at the structural ceiling; a dropped ceiling does not end it.

Does not judge: piping and ducts above the 6 ft, which need protection against leaks and breaks. What is not drawn as a pipe or
a duct is not seen. The space in front is judged by `working-space`.
"""

from nailplate.plan import Panel, Pointer, UnknownFact
from nailplate.plan.words import FixtureKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.equipment import DEEPEST_PANEL, SLACK, Front, Piece, front_of, lowest_ceiling, pieces_in_front
from nailplate.survey.names import name_of
from nailplate.survey.space import half_thickness
from nailplate.units import inches, reaches, shown

FOREIGN = frozenset({FixtureKind.DUCT, FixtureKind.PIPE})


@rule(
    id="dedicated-space",
    over=Panel,
    severity=Severity.CODE,
    subjects=(Subject.PANEL_PLACES,),
    cites={
        "nec-2017": Cite(
            "110.26(E)",
            note="IRC E3405: https://www.contractortalk.com/threads/subpanel-working-clearance.250081/?u=720; "
            "https://www.ecmweb.com/national-electrical-code/article/55341309/",
        )
    },
    needs=("at", "face"),
    hazards=(Hazard.WATER, Hazard.SHOCK),
)
def dedicated_space(panel: Panel, job: Job) -> Outcome | list[Outcome]:
    """110.26(E), for one panel and each pipe or duct in its space."""
    front = front_of(job.survey, panel)
    out = float(panel.projection) if panel.knows("projection") else 0.0
    within_it = _foreign(front, out, job)
    if within_it and not front.wall.knows("thickness"):
        return Undetermined((front.wall.where("thickness"),))
    unknown = (*_undrawn(front, job), *(need for each in within_it for need in each.obstacle.needs))
    if not panel.knows("projection") and len(_foreign(front, DEEPEST_PANEL, job)) > len(within_it):
        unknown = (*unknown, panel.where("projection"))
    outcomes: list[Outcome] = [_violation(each, front, job) for each in within_it if not each.obstacle.needs]
    if unknown:
        outcomes.append(Undetermined(tuple(dict.fromkeys(unknown))))
    return outcomes or Pass(limit=inches(_top(front, job)))


def _top(front: Front, job: Job) -> float:
    return front.top + job.inches("dedicated_space_above_panel")


def _foreign(front: Front, out: float, job: Job) -> list[Piece]:
    """The pipes and ducts in the panel's footprint, under the end of its space, one piece of each."""
    pieces = pieces_in_front(job.survey, front, -2 * half_thickness(front.wall), out, _top(front, job), front.half_width)
    found: dict[Pointer, Piece] = {}
    for each in pieces:
        if (
            each.part(SLACK - front.half_width, front.half_width - SLACK)
            and _is_foreign(each, job)
            and _under_ceiling(each, front, job)
        ):
            found.setdefault(each.obstacle.pointer, each)
    return list(found.values())


def _is_foreign(piece: Piece, job: Job) -> bool:
    kind, part_id = piece.obstacle.pointer.members
    return kind == "fixtures" and job.plan.fixtures[part_id].kind in FOREIGN


def _under_ceiling(piece: Piece, front: Front, job: Job) -> bool:
    """Not above the ceiling, where one is; a ceiling that is not said is asked for only where something may be above it."""
    try:
        ceiling = lowest_ceiling(job.survey, front, -front.half_width, front.half_width, 1.0)
    except UnknownFact:
        if reaches(front.top, piece.obstacle.low):
            return True
        raise
    return ceiling is None or not reaches(piece.obstacle.low, ceiling)


def _undrawn(front: Front, job: Job) -> tuple[Pointer, ...]:
    room = front.stands.room
    fixtures = job.survey.fixtures_in_room.get(room.id, []) if room else []
    return tuple(each.where("outline") for each in fixtures if each.kind in FOREIGN and not each.knows("outline"))


def _violation(piece: Piece, front: Front, job: Job) -> Violation:
    low, name = inches(piece.obstacle.low), piece.obstacle.name
    return Violation(
        message=f"{name[0].upper()}{name[1:]}, {shown(low)} above the floor, runs through the space of {name_of(front.panel)}, which goes "
        f"up to {shown(inches(_top(front, job)))} or to the structural ceiling; no pipe or duct may be in it.",
        measured=low,
        limit=inches(_top(front, job)),
        remedies=(Remedy("Run it around the panel, or hang the panel elsewhere."),),
        facet=piece.obstacle.pointer.members[-1],
        related=(piece.obstacle.pointer,),
    )
