"""A box, or two back to back, is no deeper than the wall it is set in.

Why: a box that does not go in is shortened, set out into the room, or pushed through the finish on the other side.

Fix: use a shallower box of more gangs or a surface box, fur the wall out, or move one of two boxes into the next bay.

Trap: a deep one-gang box of 20 in³ and more is 3 to 3-1/2 in deep and fills a 2x4 wall; there is no room for another behind it. The front
comes forward to the finished face, so the thickness of the finish counts, but only on the box's own side.

Does not judge: Room for cable behind the box, though half an inch is good practice, and what else stands in the wall.
"""

from nailplate.calc import geometry
from nailplate.calc.framing import DEPTHS
from nailplate.plan import Box, RoomPlace, UnknownFact, Wall, WallPlace
from nailplate.plan.house import Layer
from nailplate.plan.words import Side, WallKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.survey import Survey, standing
from nailplate.survey.boxes import depth_of, front_at, fronts_near, fronts_on, least_front
from nailplate.survey.names import name_of
from nailplate.units import Inches, inches, shown, within

SLACK = 0.125
"""Inches that two fronts may lie over each other on a drawing and still pass each other."""


@rule(
    id="box-fits-wall",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.20, 314.23", note="flush boxes, and their support in the framing; numbers from memory")},
    needs=("at",),
    hazards=(Hazard.BURIED, Hazard.PINCHED_INSULATION),
)
def box_fits_wall(box: Box, job: Job) -> Outcome:
    """The box's depth behind the framing's face against the depth of the framing; two back to back at the later of them."""
    if isinstance(box.at, RoomPlace):
        return NotConcerned()
    wall = job.plan.walls[box.at.wall]
    if wall.kind in (WallKind.RAILING, WallKind.GLASS):
        return NotConcerned()
    room = _framing_depth(wall)
    own = _behind_face(box, wall, job.survey)
    if not within(own, room):
        return _too_deep(box, wall, own, room)
    back = _behind(box, wall, job.survey)
    if back is not None and not within(own + back[1], room):
        return _back_to_back(box, back[0], Inches(own + back[1]), room)
    _ask_for_height(box, wall, job.survey, Inches(room - own))
    return Pass(inches(own), inches(room))


def _framing_depth(wall: Wall) -> Inches:
    """Of the studs; else what the finish on both sides leaves of the wall, or at the most all of it. Raises UnknownFact."""
    if wall.knows("framing") and wall.framing.knows("member"):
        depth = DEPTHS[wall.framing.member]
        return Inches(min(depth, wall.thickness)) if wall.knows("thickness") else depth
    sides = [wall.finish.left, wall.finish.right] if wall.knows("finish") and wall.finish.knows("left", "right") else []
    return Inches(wall.thickness - sum(_thickness(layers) for layers in sides))


def _thickness(layers: tuple[Layer, ...]) -> float:
    return sum(layer.thickness for layer in layers if layer.knows("thickness"))


def _behind_face(box: Box, wall: Wall, survey: Survey) -> Inches:
    """How far the box reaches behind the framing's face: at the least, where it is not said how far its front stands out."""
    if box.knows("front_offset"):
        return Inches(depth_of(box) - box.front_offset)
    side = standing(survey, box).side
    layers = (wall.finish.left if side is Side.LEFT else wall.finish.right) if wall.knows("finish") else ()
    return Inches(depth_of(box) - _thickness(layers))


def _behind(box: Box, wall: Wall, survey: Survey) -> tuple[Box, Inches] | None:
    """An earlier box on the other face of the wall, behind this one, and how deep it reaches. Raises UnknownFact."""
    mine, order = front_at(survey, box), survey.once(_order)
    for other, front in fronts_near(survey, mine) if mine is not None else ():
        if mine is None or not isinstance(other, Box) or order[other.id] >= order[box.id]:
            continue
        along, up = mine.overlap(front.left, front.right, front.low, front.high)
        if within(along, SLACK) or within(up, SLACK) or standing(survey, other).side is standing(survey, box).side:
            continue
        return other, _behind_face(other, wall, survey)
    return None


def _ask_for_height(box: Box, wall: Wall, survey: Survey, left: Inches) -> None:
    """Raises UnknownFact where an earlier box may be behind this one, finds no room there, and a height that tells is not known.

    A box outdoors is such a one where no yard, porch or deck is drawn that its height counts from.
    """
    order, heights = survey.once(_order), survey.once(_unknown_heights, wall.id)
    if not heights or isinstance(box.at, RoomPlace) or not box.at.knows("along"):
        return
    half = least_front(box)[0] / 2 - SLACK
    for other in survey.once(_by_place, wall.id).near((box.at.along - half, 0.0, box.at.along + half, 0.0)):
        unknown = heights.get(other.id) or heights.get(box.id)
        if unknown is None or order[other.id] >= order[box.id] or standing(survey, other).side is standing(survey, box).side:
            continue
        if not within(_behind_face(other, wall, survey), left):
            raise unknown


def _unknown_heights(survey: Survey, wall_id: str) -> dict[str, UnknownFact]:
    fronts = fronts_on(survey, survey.plan.walls[wall_id])
    return {part.id: front for part, front in fronts if isinstance(part, Box) and isinstance(front, UnknownFact)}


def _by_place(survey: Survey, wall_id: str) -> geometry.Grid[Box]:
    """The boxes of a wall by where they are along it."""
    found = [part for part, _ in fronts_on(survey, survey.plan.walls[wall_id]) if isinstance(part, Box)]
    reach = [(each.at.along, least_front(each)[0] / 2, each) for each in found if isinstance(each.at, WallPlace)]
    return geometry.Grid((((along - half, 0.0, along + half, 0.0), each) for along, half, each in reach), cell=24.0)


def _order(survey: Survey) -> dict[str, int]:
    return {name: place for place, name in enumerate(survey.plan.boxes)}


def _too_deep(box: Box, wall: Wall, deep: Inches, room: Inches) -> Violation:
    return Violation(
        f"{name_of(box)} reaches {shown(inches(deep))} into wall {name_of(wall)}, whose framing is {shown(inches(room))} deep.",
        inches(deep),
        inches(room),
        (Remedy("Use a shallower box, set it out into the room with a ring, or fur the wall out."),),
        related=(wall.pointer,),
    )


def _back_to_back(box: Box, other: Box, deep: Inches, room: Inches) -> Violation:
    return Violation(
        f"{name_of(box)} and {name_of(other)} behind it together take {shown(inches(deep))}; the framing is {shown(inches(room))} deep.",
        inches(deep),
        inches(room),
        (Remedy("Move one of the two along the wall, past the stud, or use shallower boxes."),),
        related=(other.pointer,),
    )
