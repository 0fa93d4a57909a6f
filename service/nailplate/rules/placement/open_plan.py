"""Which rooms of a level run into each other without a wall between them."""

from nailplate.calc import geometry
from nailplate.plan import Room
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.space import THICKEST, Surface, floor_line

_TOPS_BREAK = False  # no matter here: only where no wall stands is looked at


def open_to(survey: Survey, room: Room) -> tuple[Room, ...]:
    """The rooms that this one is open to, itself left out. Raises UnknownFact where its outline is not drawn."""
    return survey.once(_open_to, room.id)


def _open_to(survey: Survey, room_id: str) -> tuple[Room, ...]:
    room = survey.plan.rooms[room_id]
    found: dict[str, Room] = {}
    for stretch in survey.once(floor_line, room_id, _TOPS_BREAK):
        if stretch.surface is Surface.OPEN:
            beyond = geometry.offset_segment(stretch.segment, -THICKEST / 2)
            other = room_at(survey, room.level, geometry.point_along(beyond, (stretch.start + stretch.end) / 2))
            if other is not None and other is not room:
                found[other.id] = other
    return tuple(found.values())
