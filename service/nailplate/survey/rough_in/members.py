"""The framing member that a run crosses or follows: as the route states it, and as the wall's framing does.

Where both speak of the same studs and differ, the weaker of the two is taken, and ``disagreements`` names them.
"""

from dataclasses import dataclass
from typing import Final

from nailplate.calc.framing import DEPTHS
from nailplate.plan import Pointer, UnknownFact
from nailplate.plan.house import Framing
from nailplate.plan.words import FramingMaterial, Member, MemberRole, WallKind
from nailplate.survey.rough_in.runs import Run
from nailplate.units import Inches

OF_WOOD: Final = (FramingMaterial.WOOD, FramingMaterial.LOG, FramingMaterial.ENGINEERED)
STUD_LIKE: Final = (MemberRole.STUD, MemberRole.PLATE)
"""Members that are as deep as their wall's framing says."""


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A fact of the framing that route and wall state differently."""

    what: str
    on_route: str
    in_wall: str
    route: Pointer
    wall: Pointer


def role_of(run: Run) -> MemberRole:
    """What the member does, as stated or by how the run goes."""
    return run.role


def member_of(run: Run) -> Member:
    """The member's nominal size. Raises UnknownFact where neither route nor wall states it."""
    stated = [run.segment.member] if run.segment.knows("member") else []
    framing = framing_of(run)
    if framing is not None and framing.knows("member"):
        stated.append(framing.member)
    if not stated:
        raise UnknownFact(run.segment.where("member"))
    return min(stated, key=lambda member: DEPTHS[member])


def depth_of(run: Run) -> Inches:
    """The member's actual depth. Raises UnknownFact like ``member_of``."""
    return DEPTHS[member_of(run)]


def material_of(run: Run) -> FramingMaterial:
    """What the member is made of. Raises UnknownFact where neither route nor wall states it."""
    if run.segment.knows("material"):
        return run.segment.material
    framing = framing_of(run)
    if framing is not None and framing.knows("material"):
        return framing.material
    raise UnknownFact(run.segment.where("material"))


def is_wood(run: Run) -> bool:
    """Whether the member is of wood. Raises UnknownFact like ``material_of``."""
    return material_of(run) in OF_WOOD


def is_bearing(run: Run) -> bool:
    """Whether the member carries load, as studs of an exterior wall are taken to. Raises UnknownFact where nothing states it."""
    if run.wall is not None and run.wall.kind is WallKind.EXTERIOR:
        return True
    said = [run.segment.bearing] if run.segment.knows("bearing") else []
    framing = framing_of(run)
    if framing is not None and framing.knows("bearing"):
        said.append(framing.bearing)
    if not said:
        raise UnknownFact(run.segment.where("bearing"))
    return any(said)


def framing_of(run: Run) -> Framing | None:
    """The framing of the run's wall, where the run's member is one of its studs or plates."""
    if run.wall is None or not run.wall.knows("framing") or role_of(run) not in STUD_LIKE:
        return None
    return run.wall.framing


def disagreements(run: Run) -> tuple[Disagreement, ...]:
    """Facts of the framing that the route and its wall state differently."""
    framing = framing_of(run)
    if framing is None:
        return ()
    names = [name for name in ("member", "material", "bearing") if run.segment.knows(name) and framing.knows(name)]
    return tuple(
        Disagreement(
            name,
            _word(getattr(run.segment, name)),
            _word(getattr(framing, name)),
            run.segment.where(name),
            framing.where(name),
        )
        for name in names
        if getattr(run.segment, name) != getattr(framing, name)
    )


def _word(value: object) -> str:
    if isinstance(value, bool):
        return "bearing" if value else "not bearing"
    return str(value)
