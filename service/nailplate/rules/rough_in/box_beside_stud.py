"""A box stands beside a stud that its bracket or side reaches, and not where a stud stands.

Why: a box drawn over a stud is set somewhere else, or the stud is cut for it; one that reaches no stud hangs on the drywall.

Fix: move the box along the wall to the side of the nearest stud, use a bracket that reaches it or a brace from stud to stud, or state that
boxes go to the nearest stud (`placing`).

Trap: places drawn to suit furniture rarely fall beside a stud. The layout counts from the framed corner, not from the finish. Beside a
corner an inch of the last stud or of backing shows past the other wall's finish.

Does not judge: studs beside an opening, which `box-in-opening` does; boxes in another wall's thickness, which `corner-framing` does; cripples
under and over openings; boxes in ceilings and floors. Boxes are taken at the least size that they can have where they lie over a stud, and at
the most where they are to reach one.
"""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Box, Wall, WallPlace
from nailplate.plan.words import BoxFastening, BoxShape, Placing
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
)
from nailplate.rules.rough_in.told_once import once_told
from nailplate.survey import standing
from nailplate.survey.boxes import depth_of, least_front, most_width
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import has_studs
from nailplate.survey.space import Lumber, Why, lumber_near, shown_near
from nailplate.units import Inches, inches, shown, within

SLACK: Final = Inches(0.125)
"""Inches that a box may lie over a stud, or stand off it, on a drawing and still be set beside it."""
SHALLOWEST: Final = Inches(1.25)
"""Inches of depth that every box has but a pancake (common practice): where its front stands out by less, it goes into the framing."""
BACKING: Final = Inches(1.5)


@rule(
    id="box-beside-stud",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite("314.23(B)", note="boxes are fastened to a structural member, directly or by a brace; from memory"),
        "irc-2018": Cite("R602.3", note="studs and their spacing, from memory"),
    },
    needs=("at",),
    hazards=(Hazard.WEAKENED_FRAME, Hazard.FALLING_LOAD),
)
def box_beside_stud(box: Box, job: Job) -> Iterator[Outcome]:
    """Against the studs as stated, and those that ends and corners of the wall show."""
    return once_told(box, job, _judge)


def _judge(box: Box, job: Job) -> Iterator[Outcome]:
    place = box.at
    if not isinstance(place, WallPlace) or box.is_(shape=BoxShape.PANCAKE):
        yield NotConcerned()
        return
    wall = job.plan.walls[place.wall]
    if not has_studs(wall):
        yield NotConcerned()
    elif box.is_(placing=Placing.NEAREST_STUD):
        yield Pass()
    else:
        yield _placed(box, wall, place.along, job)


def _placed(box: Box, wall: Wall, along: float, job: Job) -> Outcome:
    side, half = standing(job.survey, box).side, least_front(box)[0] / 2
    if side is None:
        return NotConcerned()
    lies_over = [each for each in shown_near(job.survey, wall, along, side) if each.over(along - half, along + half) > SLACK]
    corner = next((each for each in lies_over if each.why is not Why.OPENING), None)
    if corner is not None:
        return _in_framing(box) or (_over(box, wall, along, corner) if corner.surely else _at_corner(box, corner))
    lumber = list(lumber_near(job.survey, wall, along, side))
    studs = [each for each in lumber if each.surely and each.why is Why.STATED]
    over = next((each for each in studs if each.over(along - half, along + half) > SLACK), None)
    return (_in_framing(box) or _over(box, wall, along, over)) if over is not None else _reached(box, along, lumber)


def _in_framing(box: Box) -> Outcome | None:
    """An answer where it is not said that the box goes into the framing, or it stands in front of it; else None."""
    if not box.knows("front_offset"):
        return Undetermined((box.where("front_offset"),))
    if box.front_offset < SHALLOWEST and (box.knows("shape") or box.knows("gangs")):
        return None
    return Pass() if within(depth_of(box), box.front_offset) else None


def _reached(box: Box, along: float, lumber: list[Lumber]) -> Outcome:
    """The gap from the box's side, as near as its shape allows, to the nearest stud or what may be one."""
    half = most_width(box) / 2
    gap = Inches(max(0.0, -max((each.over(along - half, along + half) for each in lumber), default=-math.inf)))
    if within(gap, SLACK):
        return Pass(inches(gap))
    if box.fastened is not BoxFastening.FRAMING:
        return Pass()
    if within(gap, Inches(box.bracket_reach + SLACK)):
        return Pass(inches(gap), inches(box.bracket_reach))
    return _out_of_reach(box, gap)


def _over(box: Box, wall: Wall, along: float, stud: Lumber) -> Violation:
    half, length = most_width(box) / 2, geometry.length_of((wall.start, wall.end))
    places = [place for place in (stud.left - half, stud.right + half) if half <= place <= length - half]
    beside = " or ".join(shown(inches(place)) for place in places)
    return Violation(
        f"{name_of(box)}, centered {shown(inches(along))} along its wall, lies over {stud.why} {_from_to(stud)}.",
        inches(along),
        remedies=(Remedy(f"Move it beside the stud, with its center about {beside} along the wall."),) if places else (),
        related=() if stud.meets is None else (stud.meets.pointer,),
    )


def _at_corner(box: Box, stud: Lumber) -> Judgement:
    meets = f" beside wall {name_of(stud.meets)}" if stud.meets is not None else ""
    return Judgement(
        f"{name_of(box)} is drawn in the corner{meets}, where a stud or backing stands in most walls, {_from_to(stud)}.",
        (
            Reading("A stud or backing stands there, and the box cannot.", "violation"),
            Reading("The corner is framed with drywall clips or blocking and leaves room for the box.", "pass"),
        ),
        remedies=(Remedy(f"Move it {shown(inches(BACKING))} or more past the corner's finished face."),),
        related=() if stud.meets is None else (stud.meets.pointer,),
    )


def _from_to(stud: Lumber) -> str:
    return f"from {shown(inches(stud.left))} to {shown(inches(stud.right))}"


def _out_of_reach(box: Box, gap: Inches) -> Violation:
    return Violation(
        f"{name_of(box)} is {shown(inches(gap))} from the nearest stud; its bracket reaches {shown(inches(box.bracket_reach))}.",
        inches(gap),
        inches(box.bracket_reach),
        remedies=(Remedy("Move it to the side of a stud, or use a bracket that reaches one or a brace from stud to stud."),),
    )
