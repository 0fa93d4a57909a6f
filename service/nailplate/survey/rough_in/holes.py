"""Where steel is needed along a run: how near its holes or the cable itself come to each edge of the member.

What is stated as a distance and what follows from hole and member are both facts; the less of the two counts.
"""

from typing import Final

from nailplate.calc.framing import NM_SHEATHS, UF_SHEATHS, Sheath, hole_edges
from nailplate.plan import Cable, UnknownFact
from nailplate.plan.trade import RIGID_RACEWAYS
from nailplate.plan.words import CableType, How, Plates
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.members import depth_of
from nailplate.survey.rough_in.runs import Run
from nailplate.units import Inches, reaches, within

TOLERANCE: Final = Inches(0.0625)
"""Two statements of one distance that differ by no more agree: a tape shows sixteenths."""
SHEATHED: Final = (CableType.NM_B, CableType.UF_B)
FACES: Final = {Plates.NONE: 0, Plates.ONE_FACE: 1, Plates.BOTH_FACES: 2}


@record(frozen=True, slots=True)
class Edges:
    """From a hole or cable to the nearer and the farther edge of its member; None where the farther one is not known.

    ``required`` is what the edition in force requires without steel.
    """

    near: Inches
    far: Inches | None
    required: Inches

    @property
    def plates(self) -> int | None:
        """On how many faces steel is needed; None where it is one or two."""
        if reaches(self.near, self.required):
            return 0
        if self.far is None:
            return None
        return 1 if reaches(self.far, self.required) else 2


def needs_no_steel(run: Run) -> bool:
    """Whether it runs in a raceway that nails do not pierce. Raises UnknownFact where the kind of raceway is not said."""
    in_raceway = run.segment.how is How.RACEWAY or (run.cable.knows("type") and run.cable.type is CableType.RACEWAY)
    if in_raceway or run.segment.knows("raceway"):
        return run.segment.raceway in RIGID_RACEWAYS
    return False


def hole_distances(survey: Survey, run: Run) -> Edges:
    """A bored hole's distances to the member's edges. Raises UnknownFact where the nearer one cannot be told."""
    required = survey.inches("nail_distance")
    stated = run.segment.edge_distance if run.segment.knows("edge_distance") else None
    if not run.segment.knows("hole"):
        return Edges(run.segment.edge_distance, None, required)
    hole = run.segment.hole
    if hole.knows("centre_offset"):
        near, far = hole_edges(depth_of(run), hole.diameter, hole.centre_offset)
        return Edges(near if stated is None else Inches(min(near, stated)), far, required)
    centered, _ = hole_edges(depth_of(run), hole.diameter, Inches(0.0))
    if not reaches(centered, required):  # no place in the member is far enough from both edges
        near = centered if stated is None else Inches(min(centered, stated))
        return Edges(near, Inches(2 * centered - near), required)
    if stated is None:
        raise UnknownFact(hole.where("centre_offset"))
    return Edges(stated, Inches(2 * centered - stated), required)


def cable_distances(survey: Survey, run: Run) -> Edges:
    """From a cable along a member to its edges. Raises UnknownFact where the nearer one is not said."""
    required, near = survey.inches("nail_distance"), run.segment.edge_distance
    try:
        return Edges(near, Inches(depth_of(run) - near - sheath_of(run.cable).width), required)
    except UnknownFact:  # unknown: the farther edge matters only where the nearer is too near, and then it is asked for
        return Edges(near, None, required)


def plated_faces(run: Run) -> int:
    """On how many faces it is plated. Raises UnknownFact where the route does not say it."""
    return FACES[run.segment.plates]


def misstated_edge(run: Run) -> Inches | None:
    """The edge distance that hole and member give, where the route states another; None where they agree or are not all said."""
    segment = run.segment
    if segment.how is not How.BORED or not segment.knows("edge_distance", "hole") or not segment.hole.knows("centre_offset"):
        return None
    try:
        near, _ = hole_edges(depth_of(run), segment.hole.diameter, segment.hole.centre_offset)
    except UnknownFact:  # unknown: without the member there is nothing to compare
        return None
    return None if within(abs(near - segment.edge_distance), TOLERANCE) else near


def sheath_of(cable: Cable) -> Sheath:
    """A cable's outside dimensions: as stated from its maker, else those usual for its kind.

    Raises UnknownFact for what is missing: its type, size, number of conductors, or the width of a cable that is not listed.
    """
    if cable.knows("width", "thickness"):
        return Sheath(cable.width, cable.thickness)
    if cable.type not in SHEATHED:
        raise UnknownFact(cable.where("width"))
    usual = NM_SHEATHS if cable.type is CableType.NM_B else {**NM_SHEATHS, **UF_SHEATHS}
    known = usual.get((cable.size, cable.insulated))
    if known is None:
        raise UnknownFact(cable.where("width"))
    return known
