"""No receptacle stands over or close to a tub or shower.

Why: a hair dryer or heater that can be plugged in beside the water falls into it, and a wet hand reaches the contacts.

Fix: put the receptacle at least 3 ft from the tub or shower, measured level from its outside edge.

Trap: the three feet are no circle on paper. They count from the outside edge, from the floor to 8 ft above the rim or threshold, and
end at a wall or a closed room door. The space over the tub itself is barred as well, and a GFCI does not make up for it.

A full wall or a window ends the zone here in every edition; the 2020 words are silent about walls, those of 2023 name them. A half
wall, glass around a shower and, in 2020, a door are contested, and so is what lies below the rim in 2020. Exceptions count only
where the plan states what they rest on.

Does not judge: the exception for a hydromassage tub's own receptacle.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc.geometry import distance_to_outline
from nailplate.plan import Device, Fixture, UnknownFact
from nailplate.plan.words import ApplianceKind, DeviceKind, Enclosure, FixtureKind, Mount
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey import Standing, standing
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served
from nailplate.survey.receptacles import (
    Between,
    NearBath,
    basins_reached,
    baths_in,
    baths_near,
    deepest,
    has_baths,
    has_place_outside,
    is_on_farthest_wall,
    place_point,
    undrawn_baths,
)
from nailplate.units import Measure, inches, reaches, shown


@rule(
    id="tub-receptacle",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.TUB_ZONES,),
    cites={
        "nec-2017": Cite(
            "406.9(C)",
            seen=(2017, 2020, 2023),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1494 "
            "(2017, 2020); https://captaincode2020.leviton.com/node/251 (2020); "
            "https://rocky-iaei.org/tia-tentative-interim-amendment/ (TIA 20-15); a manufacturer's 2023 change booklet (2023)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={
        "nec-2020": "A bathroom with less room than the zone may have one on its farthest wall. TIA 20-15 adds a single receptacle for "
        "an electronic toilet.",
        "nec-2023": "In a small bathroom only the receptacle for the basin is excepted.",
    },
)
def tub_receptacle(device: Device, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one receptacle."""
    if device.kind is not DeviceKind.RECEPTACLE or not has_baths(job.survey) or _carries_luminaire(device, job):
        return NotConcerned()
    where = standing(job.survey, device)
    near = baths_near(job.survey, where.level, [place_point(where)], job.inches("tub_zone_across"))
    undrawn = undrawn_baths(job.survey, where.room)
    if undrawn:
        return Undetermined(
            undrawn, f"How far receptacle {name_of(device)} is from the tub or shower, the drawing does not show."
        )
    if not near:
        return Pass(limit=job.measure("tub_zone_across")) if baths_in(job.survey, where.room) else NotConcerned()
    return (_judged(_Spot(device, job, where, each)) for each in near)


def _carries_luminaire(device: Device, job: Job) -> bool:
    """A locking receptacle in the ceiling that a luminaire or fan hangs from, excepted from 2023."""
    return device.is_(mount=Mount.CEILING, locking=True) and job.holds("tub_zone_to_floor")


@dataclass(frozen=True, slots=True)
class _Spot:
    """One receptacle near one tub or shower."""

    device: Device
    job: Job
    where: Standing
    near: NearBath

    @property
    def bath(self) -> Fixture:
        return self.near.fixture

    @property
    def to_floor(self) -> bool:
        return self.job.holds("tub_zone_to_floor")

    @property
    def across(self) -> Measure:
        return self.job.measure("tub_zone_across")

    def passes(self) -> Pass:
        return Pass(inches(self.near.across), self.across, self.bath.id)


def _judged(spot: _Spot) -> Outcome:
    try:
        return _by_zone(spot) if spot.job.holds("tub_zone") else _by_outline(spot)
    except UnknownFact as missing:
        return Undetermined((missing.pointer,), facet=spot.bath.id)


def _by_outline(spot: _Spot) -> Outcome:
    if spot.near.over:
        return _violation(spot, f"within or over the {_bath(spot)}")
    return spot.passes()


def _by_zone(spot: _Spot) -> Outcome:
    near = spot.near
    if near.between is Between.TOO_MUCH_DRAWN:
        return Undetermined((), "So many walls lie around this receptacle that its way to the tub was not found.", spot.bath.id)
    behind_door = near.between is Between.DOOR and spot.to_floor
    if not near.over and (behind_door or reaches(near.across, spot.across.value)):
        return spot.passes()
    below = _is_below_rim(spot)
    if below is None:
        return spot.passes()
    excepted = _exception(spot)
    return excepted if excepted is not None else _in_zone(spot, below=below)


def _is_below_rim(spot: _Spot) -> bool | None:
    """Whether it stands below the rim or threshold; None where it stands 8 ft above it or more."""
    height = spot.where.height
    if spot.to_floor and not spot.bath.knows("rim_height") and not reaches(height, spot.job.inches("tub_zone_height")):
        return False
    rise = spot.near.rise(height)
    return None if reaches(rise, spot.job.inches("tub_zone_height")) else not reaches(rise, 0.0)


def _in_zone(spot: _Spot, *, below: bool) -> Outcome:
    what = (
        f"{shown(inches(spot.near.across))} from the {_bath(spot)}, measured level, and less than 8 ft above its {_rim(spot)}"
    )
    if spot.near.over:
        return _violation(spot, f"within or over the {_bath(spot)}")
    doubt = _doubt(spot, below=below)
    return _judgement(spot, what, *doubt) if doubt else _violation(spot, what)


def _doubt(spot: _Spot, *, below: bool) -> tuple[str, str] | None:
    """How the zone may be read so that the receptacle is in it, and so that it is not."""
    named = spot.to_floor
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


def _rim(spot: _Spot) -> str:
    return "rim" if spot.bath.kind is FixtureKind.TUB else "threshold"


def _bath(spot: _Spot) -> str:
    return f"{spot.bath.kind} {name_of(spot.bath)}"


def _violation(spot: _Spot, what: str) -> Violation:
    return Violation(
        f"Receptacle {name_of(spot.device)} is {what}.",
        inches(spot.near.across),
        spot.across if spot.job.holds("tub_zone") else None,
        (_remedy(spot),),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )


def _judgement(spot: _Spot, what: str, inside: str, outside: str) -> Judgement:
    return Judgement(
        f"Receptacle {name_of(spot.device)} is {what}; whether that is within the zone is contested.",
        (Reading(inside, "violation"), Reading(outside, "pass")),
        inches(spot.near.across),
        spot.across,
        (_remedy(spot),),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )


def _remedy(spot: _Spot) -> Remedy:
    return Remedy(f"Move it so that it is {shown(spot.across)} or more from the {_bath(spot)}, measured level from its edge.")


# Exceptions


def _exception(spot: _Spot) -> Outcome | None:
    if spot.near.over:
        return None
    return _for_electronic_toilet(spot) or _in_small_bath(spot)


def _for_electronic_toilet(spot: _Spot) -> Outcome | None:
    """One single receptacle beyond the toilet as seen from the tub; in 2020 by an amendment between editions."""
    kinds = {each.kind for each in appliances_served(spot.job.survey, spot.device)}
    if ApplianceKind.ELECTRONIC_TOILET not in kinds or spot.device.contacts != 1 or not _is_beyond_toilet(spot):
        return None
    if spot.to_floor:
        return spot.passes()
    what = f"{shown(inches(spot.near.across))} from the {_bath(spot)} and serves an electronic toilet"
    with_it = "TIA 20-15 of December 2021 allows it, where it was adopted with the code."
    return _judgement(spot, what, "The 2020 edition as printed has no such exception.", with_it)


def _is_beyond_toilet(spot: _Spot) -> bool:
    fixtures = spot.job.survey.fixtures_in_room.get(spot.bath.room, [])
    toilets = [each.outline for each in fixtures if each.kind is FixtureKind.TOILET]
    point = spot.where.point
    nearest = min(toilets, key=lambda outline: distance_to_outline(point, outline), default=None)
    return nearest is not None and reaches(
        distance_to_outline(point, spot.bath.outline), max(distance_to_outline(corner, spot.bath.outline) for corner in nearest)
    )


def _in_small_bath(spot: _Spot) -> Outcome | None:
    """The receptacle for the basin, on the farthest wall of a bathroom that has not three feet to spare."""
    room = spot.where.room
    if room is None or spot.bath.room != room.id:
        return None
    basins = basins_reached(spot.job.survey, room, spot.where.point)
    if not basins:
        return None
    if not reaches(deepest(room, spot.bath), spot.across.value):
        return spot.passes() if is_on_farthest_wall(room, spot.bath, spot.where.point) else None
    baths = [each for each in baths_in(spot.job.survey, room) if each.knows("outline")]
    if any(has_place_outside(spot.job.survey, room, baths, basin) for basin in basins):
        return None
    what = f"{shown(inches(spot.near.across))} from the {_bath(spot)}, and no wall place at the basin is farther away"
    inside = "The room is deeper than the zone, so that nothing is excepted; move the basin or the tub."
    return _judgement(spot, what, inside, "A bathroom without a place for the basin's receptacle outside the zone is excepted.")
