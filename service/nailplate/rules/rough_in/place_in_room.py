"""A box or device that is drawn in a room, off its walls, lies inside that room.

Why: what a room needs, and what protects its outlets, goes by the room that is named. Built at its point, it would be in another.

Fix: correct the point, or name the room that the point lies in.

Trap: coordinates are the level's, x to the right and y up, and not the room's own. A room that was moved leaves its lights behind.

Does not judge: parts on walls, parts without a point, and a point up to 6 in beyond the finished faces. What the room requires
is judged by the rules on that room; a box's height is judged by `box-height`.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Box, Device, Room, RoomPlace
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, replace
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.places import room_at
from nailplate.units import inches, shown

SLACK: Final = 6.0
"""Inches that a point may lie outside its room's finished faces: the depth of a wall (common practice)."""


@rule(
    id="place-in-room",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("210.52, 210.70", note="outlets count in the room they are in; from memory")},
    hazards=(Hazard.DARKNESS, Hazard.CORDS),
)
def place_in_room(room: Room, job: Job) -> Iterator[Outcome]:
    """One finding for each box, and each device without one, whose point is outside the room that it names."""
    placed = job.survey.once(_placed_in).get(room.id, [])
    if not placed:
        yield NotConcerned()
        return
    if not room.knows("outline"):
        yield Undetermined((room.where("outline"),))
        return
    outside = [(part, place) for part, place in placed if not geometry.contains(room.outline, place.point, SLACK)]
    for part, place in outside:
        yield _told(part, place, room, job.survey)
    if not outside:
        yield Pass()


def _placed_in(survey: Survey) -> dict[str, list[tuple[Box | Device, RoomPlace]]]:
    found: dict[str, list[tuple[Box | Device, RoomPlace]]] = {}
    parts: list[Box | Device] = [*survey.plan.boxes.values(), *survey.plan.devices.values()]
    for part in parts:
        place = part.at if part.knows("at") else None
        if isinstance(place, RoomPlace) and place.knows("point"):
            found.setdefault(place.room, []).append((part, place))
    return found


def _told(part: Box | Device, place: RoomPlace, room: Room, survey: Survey) -> Violation:
    off = geometry.distance_to_outline(place.point, room.outline)
    there = room_at(survey, room.level, place.point)
    where = f"; it lies in {name_of(there)}" if there is not None else ""
    fits = there is not None and not (
        isinstance(part, Device) and part.kind is DeviceKind.LUMINAIRE
    )  # a room may need its light
    patch = (replace(place.where("room"), there.id),) if there is not None and fits else ()
    words = f"Name {name_of(there)}, or correct the point." if there is not None else "Correct the point."
    return Violation(
        f"{name_of(part)} is drawn {shown(inches(off))} outside the room that it names, {name_of(room)}{where}.",
        inches(off),
        inches(SLACK),
        (Remedy(words, patch),),
        facet=f"{part.pointer.members[0]} {part.id}",
        at=part.pointer,
        related=(room.pointer,),
    )
