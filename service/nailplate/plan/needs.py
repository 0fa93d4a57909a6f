"""What people will use in the house and where, in the owner's words: a kettle at the counter, a computer in the loft."""

from typing import Annotated

from nailplate.plan.facts import Doc, Facts, Key, Needed, Part, drawn
from nailplate.plan.marks import Count, CounterId, Length, Point, Power, RoomId


@drawn
class NeedPlace(Facts):
    """Where something will be used."""

    room: Annotated[RoomId, Doc("the room"), Needed]
    counter: Annotated[CounterId, Doc("the counter that it will stand on")]
    point: Annotated[Point, Doc("the place in the plane of the level, where one is known")]


@drawn
class Need(Part):
    """Something that will be plugged in."""

    what: Annotated[str, Doc("what it is, in the owner's words: `kettle`, `computer`, `phone charger`"), Needed]
    place: Annotated[NeedPlace, Key("where"), Doc("where it will be used"), Needed]
    cord_length: Annotated[Length, Doc("of its cord, from where it stands to the plug"), Needed]
    power: Annotated[Power, Doc("that one of it takes, by its nameplate")]
    count: Annotated[Count, Doc("how many of them; one unless said")]
    later: Annotated[bool, Doc("whether it will come later, so that a place is kept for it")]
