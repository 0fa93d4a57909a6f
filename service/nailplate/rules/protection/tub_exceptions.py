"""The zone around a tub or shower: how it may be read so that a receptacle is in it or not, and what is excepted from it."""

from nailplate.calc.geometry import distance_to_outline
from nailplate.plan.words import ApplianceKind, Enclosure, FixtureKind
from nailplate.rulekit import Judgement, Outcome, Reading, Remedy
from nailplate.rules.protection.tub_spots import TubSpot
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served
from nailplate.survey.receptacles import Between, basins_reached, baths_in, deepest, has_place_outside, is_on_farthest_wall
from nailplate.units import inches, reaches, shown


def doubt_about(spot: TubSpot, *, below: bool) -> tuple[str, str] | None:
    """How the zone may be read so that the receptacle is in it, and so that it is not."""
    named = spot.job.holds("tub_zone_to_floor")
    if spot.near.between is Between.DOOR:
        return "The zone goes through a doorway.", "A room door ends the zone, as the 2023 edition says."
    if spot.near.between is Between.HALF_WALL:
        return (
            "A half wall leaves the space over it open and ends no zone.",
            "A half wall is a fixed barrier, and it ends the zone.",
        )
    if named and spot.bath.enclosure in (Enclosure.GLASS, Enclosure.WALL):
        return "Glass with a door in it leaves the zone as it is.", "Glass or a wall around a shower is a fixed barrier."
    if below and not named:
        return (
            "The zone goes down to the floor, as the 2023 edition says.",
            "The zone begins at the rim and goes up from there.",
        )
    return None


def contested(spot: TubSpot, what: str, inside: str, outside: str) -> Judgement:
    """That it may be read either way."""
    return Judgement(
        f"Receptacle {name_of(spot.device)} is {what}; whether that is within the zone is contested.",
        (Reading(inside, "violation"), Reading(outside, "pass")),
        inches(spot.near.across),
        spot.limit,
        (farther(spot),),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )


def farther(spot: TubSpot) -> Remedy:
    """The receptacle moved out of the zone."""
    return Remedy(f"Move it so that it is {shown(spot.limit)} or more from the {spot.called}, measured level from its edge.")


def exception(spot: TubSpot) -> Outcome | None:
    """What an exception makes of a receptacle in the zone; None where none is for it. Raises UnknownFact."""
    if spot.near.over:
        return None
    return _for_electronic_toilet(spot) or _in_small_bath(spot)


def _for_electronic_toilet(spot: TubSpot) -> Outcome | None:
    """One single receptacle beyond the toilet as seen from the tub; in 2020 by an amendment between editions."""
    kinds = {each.kind for each in appliances_served(spot.job.survey, spot.device)}
    if ApplianceKind.ELECTRONIC_TOILET not in kinds or spot.device.contacts != 1 or not _is_beyond_toilet(spot):
        return None
    if spot.job.holds("tub_zone_to_floor"):
        return spot.passes()
    what = f"{shown(inches(spot.near.across))} from the {spot.called} and serves an electronic toilet"
    with_it = "TIA 20-15 of December 2021 allows it, where it was adopted with the code."
    return contested(spot, what, "The 2020 edition as printed has no such exception.", with_it)


def _is_beyond_toilet(spot: TubSpot) -> bool:
    fixtures = spot.job.survey.fixtures_in_room.get(spot.bath.room, [])
    toilets = [each.outline for each in fixtures if each.kind is FixtureKind.TOILET]
    point = spot.where.point
    nearest = min(toilets, key=lambda outline: distance_to_outline(point, outline), default=None)
    return nearest is not None and reaches(
        distance_to_outline(point, spot.bath.outline), max(distance_to_outline(corner, spot.bath.outline) for corner in nearest)
    )


def _in_small_bath(spot: TubSpot) -> Outcome | None:
    """The receptacle for the basin, on the farthest wall of a bathroom that has not three feet to spare."""
    room = spot.where.room
    if room is None or spot.bath.room != room.id:
        return None
    basins = basins_reached(spot.job.survey, room, spot.where.point)
    if not basins:
        return None
    if not reaches(deepest(room, spot.bath), spot.limit.value):
        return spot.passes() if is_on_farthest_wall(room, spot.bath, spot.where.point) else None
    baths = [each for each in baths_in(spot.job.survey, room) if each.knows("outline")]
    if any(has_place_outside(spot.job.survey, room, baths, basin) for basin in basins):
        return None
    what = f"{shown(inches(spot.near.across))} from the {spot.called}, and no wall place at the basin is farther away"
    inside = "The room is deeper than the zone, so that nothing is excepted; move the basin or the tub."
    return contested(spot, what, inside, "A bathroom without a place for the basin's receptacle outside the zone is excepted.")
