"""A cable is long enough for its route, and for what is stripped and left free in the boxes at its ends.

Why: a cable pulled short is stretched, spliced where nobody can reach it, or leaves conductors too short to make up.

Fix: pull a cable as long as its route, with 6 in of free conductor at each box and some slack beside it.

Trap: a floor plan hides drops. A box 16 in up that is fed from an 8 ft ceiling takes nearly 7 ft of cable that no plan view shows.

Does not judge: The way that a cable takes where no route is drawn. It is held against the straight line between its ends, and may still be too short.
"""

from typing import Final

from nailplate.plan import Box, Cable, UnknownFact
from nailplate.plan.words import CableType
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.drawn_ends import straight_way
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import runs_of
from nailplate.survey.wiring import ends_of, part_at
from nailplate.units import Inches, inches, reaches, shown, written

INSIDE: Final = 2.0
"""Inches of a route that lie inside a box at the least, from its edge to the center that it is drawn to (common practice)."""


@rule(
    id="cable-length",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite(
            "300.14",
            seen=(2017, 2020, 2023),
            note="trade press and trainers on 300.14 (free conductors of 6 in); the way itself is measured on the drawing",
        )
    },
    hazards=(Hazard.BURIED, Hazard.PINCHED_INSULATION),
)
def cable_length(cable: Cable, job: Job) -> Outcome:
    """The stated length against the drawn route, or else the straight way, and what the boxes take."""
    if not cable.knows("length"):
        return NotConcerned()
    if not cable.knows("route") or not cable.route or any(run.length is None for run in runs_of(job.survey, cable)):
        return _judged(cable, straight_way(job.survey, cable), "the straight way between its ends", job)
    way = Inches(sum(run.length or 0.0 for run in runs_of(job.survey, cable)))
    try:
        straight = straight_way(job.survey, cable)
    except UnknownFact:  # unknown: where an end is; the route tells the way without it
        straight = way
    what = "its route" if reaches(way, straight) else "the straight way between its ends"
    return _judged(cable, Inches(max(way, straight)), what, job)


def _judged(cable: Cable, way: Inches, what: str, job: Job) -> Outcome:
    least = Inches(way + _in_boxes(cable, job))
    if reaches(cable.length, least):
        return Pass(inches(cable.length), inches(least))
    return Violation(
        f"{name_of(cable)} is {shown(inches(cable.length))} long; {what} is {shown(inches(way))}, and with what its boxes take it "
        f"needs {shown(inches(least))} or more.",
        inches(cable.length),
        inches(least),
        (Remedy(f"Pull at least {shown(inches(least))}.", (state(cable, "length", written(inches(least))),)),),
    )


def _in_boxes(cable: Cable, job: Job) -> float:
    """What is added to the way for each end in a box: free conductor, less what the way already counts inside it."""
    if cable.is_(type=CableType.CORD):
        return 0.0
    parts = [part_at(job.survey, node) for node in ends_of(job.survey, cable)]
    return sum(job.inches("free_conductor_length") - INSIDE for part in parts if isinstance(part, Box))
