"""Where receptacles could be added to a room divider: on a half wall's face, beside a railing, low on the side of a counter."""

from nailplate.calc import geometry
from nailplate.calc.spacing import coverage
from nailplate.codes.tables import RunLimits
from nailplate.plan import Counter, Wall
from nailplate.remedies.added_receptacles import box_height
from nailplate.survey.receptacles import Judged, JudgedFace
from nailplate.survey.space import Stretch, Surface, run_of
from nailplate.units import Inches

BESIDE = 6.0
"""Inches off a railing at which a floor receptacle is proposed (common practice)."""
LOW_ENOUGH = 25.0
"""Inches below a counter's top at which a receptacle on a divider is proposed: more than 24."""
USUAL = 16.0


def divider_height(part: Wall | Counter) -> float:
    """How high above the floor a receptacle on a divider is proposed."""
    if isinstance(part, Wall):
        return box_height(part)
    return max(3.0, min(USUAL, part.height - LOW_ENOUGH)) if part.knows("height") else 3.0


def as_run(judged: JudgedFace, limits: RunLimits) -> Judged:
    """A half wall's face as one run, with the receptacles on it."""
    face = judged.face
    wall = face.part if isinstance(face.part, Wall) else None
    stretch = Stretch(face.room.id, 0, face.line, 0.0, face.length, Surface.WALL, wall, face.side)
    found = coverage(Inches(face.length), [Inches(each) for each in judged.places], limits)
    return Judged(run_of([stretch]), judged.places, (), found)


def free_places(judged: JudgedFace, limits: RunLimits) -> list[tuple[geometry.Point, float]]:
    """Points, and heights, for receptacles beside a railing or on the side of a counter, as few as will do."""
    face = judged.face
    suggested = coverage(Inches(face.length), [Inches(each) for each in judged.places], limits).suggested
    off, height = (BESIDE, 0.0) if isinstance(face.part, Wall) else (0.0, divider_height(face.part))
    line = geometry.offset_segment(face.line, off)
    return [(geometry.point_along(line, each), height) for each in suggested]
