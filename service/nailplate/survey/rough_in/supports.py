"""How runs are secured: the interval their kind allows, what supports them in bored framing, and their ends at boxes and panels."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import BoxEnd, Cable, UnknownFact
from nailplate.plan.cables import End
from nailplate.plan.words import BoxMaterial, BoxShape, CableType, Clamps, How
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.members import framing_of
from nailplate.survey.rough_in.runs import Run, course_of
from nailplate.units import Inches

_SPACINGS: Final = {
    CableType.NM_B: "support_spacing",
    CableType.UF_B: "support_spacing",
    CableType.SE: "support_spacing",
    CableType.AC: "support_spacing",
    CableType.MC: "support_spacing_of_mc",
}


def spacing_allowed(survey: Survey, cable: Cable) -> Inches | None:
    """The most between supports of a cable; None for kinds that have none of their own. Raises UnknownFact without its type."""
    name = _SPACINGS.get(cable.type)
    return survey.inches(name) if name is not None else None


def spacing_of(run: Run) -> Inches:
    """Between supports: as stated; through bored or notched studs their spacing. Raises UnknownFact where neither is known."""
    if run.segment.knows("supports") and run.segment.supports.knows("spacing"):
        return run.segment.supports.spacing
    framing = framing_of(run)
    if run.segment.how in (How.BORED, How.NOTCH) and not run.upright and framing is not None and framing.knows("spacing"):
        return framing.spacing
    if run.segment.knows("supports"):
        raise UnknownFact(run.segment.supports.where("spacing"))
    raise UnknownFact(run.segment.where("supports"))


def end_runs(survey: Survey, cable: Cable) -> Iterator[tuple[Run, End]]:
    """The first and the last run of a route, drawn or worked out, each with what it ends at."""
    found = course_of(survey, cable)
    if found:
        yield found[0], cable.ends[0]
        yield found[-1], cable.ends[1]


def is_clampless(survey: Survey, end: End) -> bool:
    """Whether it is a nonmetallic one-gang box that needs no clamp. Raises UnknownFact where the box does not say enough."""
    if not isinstance(end, BoxEnd):
        return False
    box = survey.plan.boxes[end.box]
    if box.knows("material") and box.material is BoxMaterial.METAL:
        return False
    if box.knows("shape") and box.shape is not BoxShape.DEVICE:
        return False
    if box.knows("gangs") and box.gangs > 1:
        return False
    if box.clamps is not Clamps.NONE:
        return False
    needed = [name for name in ("material", "gangs") if not box.knows(name)]
    if needed:
        raise UnknownFact(box.where(needed[0]))
    return True
