"""What may give off carbon monoxide in a house: what burns fuel, and an attached garage that opens into it."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.plan import Part, Plan, Pointer, Room, UnknownFact
from nailplate.plan.trade import MAY_BURN_FUEL, OUTDOOR
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, FixtureKind, Fuel, Use
from nailplate.survey.index import Survey
from nailplate.survey.space import entrances

_BURNS = frozenset({FixtureKind.FIREPLACE, FixtureKind.STOVE})


@dataclass(frozen=True, slots=True)
class Sources:
    """What is there, with the room it is in; and the facts that would have to be known to say that nothing is."""

    found: tuple[tuple[Part, Room | None], ...]
    needs: tuple[Pointer, ...]


def carbon_monoxide_sources(survey: Survey) -> Sources:
    """Everything in the house that asks for carbon monoxide alarms."""
    return survey.once(_sources)


def sources_in(survey: Survey, room: Room) -> tuple[Part, ...]:
    """What burns fuel in a bedroom or in the bathroom that opens from it."""
    own = {room.id, *_baths_of(survey, room)}
    return tuple(part for part, where in carbon_monoxide_sources(survey).found if where is not None and where.id in own)


def _baths_of(survey: Survey, room: Room) -> Iterator[str]:
    """The bathrooms whose only doors lead to this room."""
    for way in entrances(survey, room.id):
        beyond = way.beyond
        if beyond is None or Use.BATHROOM not in beyond.uses:
            continue
        if all(back.beyond is room for back in entrances(survey, beyond.id)):
            yield beyond.id


def _sources(survey: Survey) -> Sources:
    found, needs = list[tuple[Part, Room | None]](), list[Pointer]()
    for appliance in survey.plan.appliances.values():
        room = survey.plan.rooms[appliance.room] if appliance.knows("room") else None
        if not _is_outdoors(appliance, room) and appliance.isnt(fuel=Fuel.NONE):
            found.append((appliance, room))
        elif not _is_outdoors(appliance, room) and not appliance.knows("fuel") and _may_burn(appliance, survey.plan):
            needs.append(appliance.where("fuel"))
    found += [(each, survey.plan.rooms[each.room]) for each in survey.plan.fixtures.values() if each.kind in _BURNS]
    for garage in (room for room in survey.plan.rooms.values() if Use.GARAGE in room.uses):
        try:
            if _opens_into_the_house(survey, garage):
                found.append((garage, None))
        except UnknownFact as unknown:
            needs.append(unknown.pointer)
    return Sources(tuple(found), tuple(needs))


def _may_burn(appliance: Appliance, plan: Plan) -> bool:
    """Whether something of its kind may burn fuel here; refrigerators do only away from the utility (common practice)."""
    if appliance.kind is ApplianceKind.REFRIGERATOR:
        return plan.basis.is_(utility_power=False) or plan.basis.is_(on_wheels=True)
    return appliance.kind in MAY_BURN_FUEL


def _is_outdoors(appliance: Appliance, room: Room | None) -> bool:
    if appliance.is_(outdoors=True):
        return True
    return room is not None and bool(OUTDOOR.intersection(room.uses))


def _by_stairs(survey: Survey, garage: Room) -> Iterator[Room]:
    """The rooms that a stair with a foot or head in the garage leads to."""
    for stair in survey.plan.stairs.values():
        ends = [each.room for each in (stair.entries if stair.knows("entries") else ()) if each.knows("room")]
        if garage.id in ends:
            yield from (survey.plan.rooms[each] for each in ends if each != garage.id)


def _opens_into_the_house(survey: Survey, garage: Room) -> bool:
    beyond = [way.beyond for way in entrances(survey, garage.id) if way.beyond is not None]
    beyond += _by_stairs(survey, garage)
    indoors = [room for room in beyond if not OUTDOOR.intersection(room.uses) and Use.GARAGE not in room.uses]
    return bool(indoors) and garage.attached
