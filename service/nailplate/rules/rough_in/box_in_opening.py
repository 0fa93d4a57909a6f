"""A box or panel is set in the wall, not in a window or door, its header, or the stud beside it.

Why: there is nothing to fasten a box to in an opening, and solid framing takes the place of one beside it.

Fix: move the box along the wall, clear of the opening's studs: three inches from the framed edge in a bearing wall.

Trap: a window that comes into the plan later cuts boxes that were right. A switch beside a door stands past the jack and the king stud,
and the casing takes another 2-1/2 in (common practice).

Does not judge: The other studs of a wall, which `box-beside-stud` does. Boxes are taken at the least size that they can have.
"""

from collections.abc import Iterator

from nailplate.plan import Box, Opening, Panel, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.boxes import Front, fronts_on
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.rough_in import Framed, Zone, framed
from nailplate.units import inches, shown


@rule(
    id="box-in-opening",
    over=Opening,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite("314.23", note="boxes and panels are fastened to structure or a wall's surface; from memory"),
        "irc-2018": Cite("R602.7", note="headers and the studs beside openings, from memory"),
    },
    hazards=(Hazard.BURIED, Hazard.WEAKENED_FRAME),
)
def box_in_opening(opening: Opening, job: Job) -> Iterator[Outcome]:
    """One finding for each box or panel that an opening cuts."""
    frame = framed(job.survey, opening)
    fronts = list(fronts_on(job.survey, job.plan.walls[opening.wall]))
    found = [
        _unplaced(part, frame, front) if isinstance(front, UnknownFact) else _judged(part, _zone(front), frame)
        for part, front in fronts
    ]
    told = [outcome for outcome in found if outcome is not None]
    yield from told or (Pass() if fronts else NotConcerned(),)


def _zone(front: Front) -> Zone:
    return Zone(front.left, front.right, front.low, front.high)


def _unplaced(part: Box | Panel, frame: Framed, missing: UnknownFact) -> Outcome | None:
    """A part of which only its place along the wall is known, and that is beside the opening."""
    place = part.at
    beyond = not frame.opening.along < place.along < frame.opening.along + frame.opening.width  # type: ignore[union-attr]  # on a wall
    return None if beyond else Undetermined((missing.pointer,), facet=part.id, at=part.pointer)


def _judged(part: Box | Panel, zone: Zone, frame: Framed) -> Outcome | None:
    if frame.inside is not None and frame.inside.takes(zone):
        return _in_the_way(part, zone, frame, "stands in")
    if frame.header is not None and frame.header.takes(zone):
        return _in_the_way(part, zone, frame, "is set in the header of")
    if any(stud.takes(zone) for stud in frame.beside):
        return _in_the_way(part, zone, frame, "is where the stud stands beside")
    for maybe, needs in frame.maybe:
        if maybe.takes(zone):
            said = f"Whether {name_of(part)} is clear of {_called(frame.opening)} turns on what is not said of its framing."
            return Undetermined(needs, said, facet=part.id, at=part.pointer)
    return None


def _called(opening: Opening) -> str:
    return f"the {kind_words(opening.kind)} {name_of(opening)}"


def _in_the_way(part: Box | Panel, zone: Zone, frame: Framed, how: str) -> Violation:
    kind = "panel" if isinstance(part, Panel) else "box"
    middle = (zone.left + zone.right) / 2
    span = f"{shown(inches(frame.opening.along))} to {shown(inches(frame.opening.along + frame.opening.width))}"
    return Violation(
        f"The {kind} {name_of(part)}, {shown(inches(middle))} along its wall, {how} {_called(frame.opening)}, framed from {span}.",
        inches(middle),
        remedies=(Remedy(f"Move the {kind} along the wall, clear of the opening and the studs beside it."),),
        facet=part.id,
        at=part.pointer,
        related=(frame.opening.pointer,),
    )
