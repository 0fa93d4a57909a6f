"""The layers of finish that cover the framing where a box is set."""

from nailplate.plan import Box, Room, RoomPlace, UnknownFact, Wall
from nailplate.plan.house import Layer
from nailplate.plan.trade import BARE_WHERE_UNFINISHED
from nailplate.plan.words import FramingMaterial, Side, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import standing


def finish_over(survey: Survey, box: Box) -> tuple[Layer, ...]:
    """The layers on the box's side of its wall, or on the ceiling of its room; none on bare framing. Raises UnknownFact."""
    if isinstance(box.at, RoomPlace):
        return _of_ceiling(survey, box.at)
    where, wall = standing(survey, box), survey.plan.walls[box.at.wall]
    if not wall.knows("finish") and where.room is not None and _is_bare(where.room):
        return ()
    layers = wall.finish
    return layers.left if where.side is Side.LEFT else layers.right


def is_without_framing(survey: Survey, box: Box) -> bool:
    """Whether the box is at a railing or glass, where nothing covers framing."""
    wall = _wall(survey, box)
    return wall is not None and wall.kind in (WallKind.RAILING, WallKind.GLASS)


def is_log(survey: Survey, box: Box) -> bool:
    """Whether the box is in a wall of logs."""
    wall = _wall(survey, box)
    framed = wall is not None and wall.knows("framing") and wall.framing.knows("material")
    return wall is not None and framed and wall.framing.material is FramingMaterial.LOG


def _wall(survey: Survey, box: Box) -> Wall | None:
    return None if isinstance(box.at, RoomPlace) else survey.plan.walls[box.at.wall]


def _is_bare(room: Room) -> bool:
    """A basement, attic or crawl space that is said to be unfinished; an unfinished garage has its drywall all the same."""
    return BARE_WHERE_UNFINISHED.issuperset(room.uses) and room.is_(finished=False)


def _of_ceiling(survey: Survey, place: RoomPlace) -> tuple[Layer, ...]:
    """The room's own finish, or else that of its level."""
    room = survey.plan.rooms[place.room]
    own = room.ceiling if room.knows("ceiling") else None
    if own is not None and own.knows("finish"):
        return own.finish
    level = survey.plan.levels[room.level]
    if _is_bare(room) and not (level.knows("ceiling") and level.ceiling.knows("finish")):
        return ()
    if level.knows("ceiling"):
        return level.ceiling.finish
    raise UnknownFact(own.where("finish") if own is not None else level.where("ceiling"))
