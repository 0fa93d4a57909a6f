"""What is said of a wall space in which a receptacle is missing: where, how far, and which walls."""

from nailplate.codes.tables import RunLimits
from nailplate.plan import Pointer, Room
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    Judged,
    Longest,
)
from nailplate.survey.space import WallSpace
from nailplate.units import inches, shown


def message_of(room: Room, judged: Judged, way: Longest, limits: RunLimits) -> str:
    """Which wall space it is and how much of it is out of reach."""
    space = judged.space
    where = f"In {name_of(room)} the wall space from {_spot(space, 0.0)} to {_spot(space, space.length)}"
    measured, limit = shown(inches(way.measured)), shown(inches(way.limit))
    if not judged.places:
        return f"{where}, {measured} long, has no receptacle; one of {limit} or more needs one."
    if way.inner:
        between = f"between {_spot(space, way.start)} and {_spot(space, way.end % space.length)}"
        return f"{where} has {measured} without a receptacle, {between}; {limit} is the most."
    end = way.start if way.end in judged.places else way.end
    return f"{where} runs {measured} past its last receptacle, to {_spot(space, end)}; {limit} is the most."


def _spot(space: WallSpace, at: float) -> str:
    stretch, along = space.place(at)
    place = shown(inches(stretch.along_wall(along)))
    return (
        f"{place} along wall {name_of(stretch.wall)}" if stretch.wall else f"{place} along edge {stretch.edge} of the outline"
    )


def facet_of(space: WallSpace, room: Room) -> str:
    """The facet of a wall space: where it begins in the room."""
    first = next(stretch for stretch in space.stretches if stretch.room == room.id)
    wall = first.wall.id if first.wall else f"edge {first.edge}"
    return f"{wall} {first.side}@{round(first.along_wall(first.start))}"


def walls_of(space: WallSpace, room: Room) -> tuple[Pointer, ...]:
    """The walls of a room that a wall space runs along."""
    return tuple(dict.fromkeys(each.wall.pointer for each in space.stretches if each.wall and each.room == room.id))
