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

from nailplate.plan import Device, UnknownFact
from nailplate.plan.words import DeviceKind, Mount
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.protection.tub_exceptions import contested, doubt_about, exception, farther
from nailplate.rules.protection.tub_spots import TubSpot
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    Between,
    baths_in,
    baths_near,
    has_baths,
    place_point,
    undrawn_baths,
)
from nailplate.units import inches, reaches, shown


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
    return (_judged(TubSpot(device, job, where, each)) for each in near)


def _carries_luminaire(device: Device, job: Job) -> bool:
    """A locking receptacle in the ceiling that a luminaire or fan hangs from, excepted from 2023."""
    return device.is_(mount=Mount.CEILING, locking=True) and job.holds("tub_zone_to_floor")


def _judged(spot: TubSpot) -> Outcome:
    try:
        return _by_zone(spot) if spot.job.holds("tub_zone") else _by_outline(spot)
    except UnknownFact as missing:
        return Undetermined((missing.pointer,), facet=spot.bath.id)


def _by_outline(spot: TubSpot) -> Outcome:
    if spot.near.over:
        return _violation(spot, f"within or over the {spot.called}")
    return spot.passes()


def _by_zone(spot: TubSpot) -> Outcome:
    near = spot.near
    if near.between is Between.TOO_MUCH_DRAWN:
        return Undetermined((), "So many walls lie around this receptacle that its way to the tub was not found.", spot.bath.id)
    behind_door = near.between is Between.DOOR and spot.job.holds("tub_zone_to_floor")
    if not near.over and (behind_door or reaches(near.across, spot.limit.value)):
        return spot.passes()
    below = _is_below_rim(spot)
    if below is None:
        return spot.passes()
    excepted = exception(spot)
    return excepted if excepted is not None else _in_zone(spot, below=below)


def _is_below_rim(spot: TubSpot) -> bool | None:
    """Whether it stands below the rim or threshold; None where it stands 8 ft above it or more."""
    height = spot.where.height
    if (
        spot.job.holds("tub_zone_to_floor")
        and not spot.bath.knows("rim_height")
        and not reaches(height, spot.job.inches("tub_zone_height"))
    ):
        return False
    return None if spot.is_over_zone(height) else not reaches(spot.near.rise(height), 0.0)


def _in_zone(spot: TubSpot, *, below: bool) -> Outcome:
    what = f"{shown(inches(spot.near.across))} from the {spot.called}, measured level, and less than 8 ft above its {spot.rim}"
    if spot.near.over:
        return _violation(spot, f"within or over the {spot.called}")
    doubt = doubt_about(spot, below=below)
    return contested(spot, what, *doubt) if doubt else _violation(spot, what)


def _violation(spot: TubSpot, what: str) -> Violation:
    return Violation(
        f"Receptacle {name_of(spot.device)} is {what}.",
        inches(spot.near.across),
        spot.limit if spot.job.holds("tub_zone") else None,
        (farther(spot),),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )
