"""Cables go over a window or door, or under the sill, and leave its header whole.

Why: there is no stud to bore in an opening. A route drawn through it will be pulled some other way, or the hole is bored into a header
that carries the roof.

Fix: take the cable up over the header or through the ceiling, or below the sill of a window.

Trap: the straight line from box to box is the first thing one draws, and a window that comes into the plan later cuts what was right.
A header may be 12 in deep: just over the window is in it. Where the plan does not say how deep it is, a cable within that reach in a
bearing wall is asked about.

Does not judge: Holes in the studs beside the opening: `bore-strength` does.
"""

from collections.abc import Iterator

from nailplate.plan import Opening
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.rough_in import Crossing, Framed, framed, lines_on, may_cut_header
from nailplate.units import inches, shown


@rule(
    id="route-crosses-opening",
    over=Opening,
    severity=Severity.CODE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite("300.11(A)", note="cables are secured in place, which nothing in an opening can do; from memory"),
        "irc-2018": Cite("R602.7", note="headers, from memory"),
    },
    hazards=(Hazard.WEAKENED_FRAME, Hazard.PIERCED_CABLE),
)
def route_crosses_opening(opening: Opening, job: Job) -> Iterator[Outcome]:
    """One finding for each cable that an opening cuts."""
    frame = framed(job.survey, opening)
    every = lines_on(job.survey, job.plan.walls[opening.wall])
    if not every:
        yield NotConcerned()
        return
    told: set[str] = set()
    for line in every:
        outcome = _judged(line, frame) if line.run.cable.id not in told else None
        if outcome is not None:
            told.add(line.run.cable.id)
            yield outcome
    if not told:
        yield Pass()


def _judged(line: Crossing, frame: Framed) -> Outcome | None:
    if frame.inside is not None and frame.inside.crossed_by(line.points):
        return _in_the_way(line, frame, "runs through")
    if frame.header is not None and frame.header.crossed_by(line.points) and not may_cut_header(line.run):
        return _in_the_way(line, frame, "is drawn in the header of")
    for zone, needs in frame.maybe:
        if zone.crossed_by(line.points) and not may_cut_header(line.run):
            said = f"Whether {name_of(line.run.cable)} is clear of {_called(frame.opening)} turns on what is not said of its framing."
            return Undetermined(needs, said, facet=line.run.cable.id, at=line.run.pointer)
    return None


def _called(opening: Opening) -> str:
    return f"the {kind_words(opening.kind)} {name_of(opening)}"


def _in_the_way(line: Crossing, frame: Framed, how: str) -> Violation:
    cable, opening = line.run.cable, frame.opening
    heights = sorted(height for _, height in line.points)
    at = (
        shown(inches(heights[0]))
        if heights[0] == heights[-1]
        else f"{shown(inches(heights[0]))} to {shown(inches(heights[-1]))}"
    )
    reach = (
        f"open from {shown(inches(frame.inside.low))} to {shown(inches(frame.inside.high))}" if frame.inside else "framed there"
    )
    return Violation(
        f"{name_of(cable)}, {at} over the floor, {how} {_called(opening)}, {reach}.",
        inches(heights[0]),
        remedies=(Remedy("Draw the cable over the header, through the ceiling, or below the sill."),),
        facet=cable.id,
        at=line.run.pointer,
        related=(opening.pointer,),
    )
