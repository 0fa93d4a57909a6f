"""Luminaires and fans over and around a tub or shower are of a kind that may be there.

Why: who stands in the water reaches what hangs nearby, and steam and spray get into a luminaire that is not made for them.

Fix: hang pendants, track and paddle fans 3 ft away or 8 ft above the rim; over the tub itself use a luminaire listed for damp
places, or for wet ones where the shower sprays it.

Trap: 8 ft counts from the rim or threshold, not from the floor, and from the lowest part of what hangs. A curtain or shower glass does
not shrink the zone. A flush luminaire beside the tub is allowed; the three feet bar hanging kinds only.

Does not judge: exhaust fans, which are none of the kinds named, receptacles (`tub-receptacle`) and switches (`wet-switch`). How
far the spray reaches, and a zone that goes through a doorway, are left to the authority having jurisdiction.

A full wall ends the zone here, and a closed door is contested, since the words name neither. No part may be in the zone, so
that the width of a luminaire or a fan's blades counts.
"""

from collections.abc import Iterator

from nailplate.plan import Device, Fixture, RoomPlace, UnknownFact
from nailplate.plan.trade import LIGHTS_AND_FANS
from nailplate.plan.words import DeviceKind, Enclosure, Exposure, FixtureKind, LuminaireMount
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.rules.protection.tub_spots import TubSpot
from nailplate.survey import standing
from nailplate.survey.names import name_of, sentence
from nailplate.survey.receptacles import (
    Between,
    baths_in,
    baths_near,
    baths_near_line,
    has_baths,
    place_point,
    undrawn_baths,
)
from nailplate.units import inches, reaches, shown

_HANGING = frozenset({LuminaireMount.PENDANT, LuminaireMount.TRACK})
_WIDEST = 36.0  # inches from the middle to the edge of the widest luminaire or fan in a house (common practice)


@rule(
    id="tub-luminaire",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.TUB_ZONES,),
    cites={
        "nec-2017": Cite(
            "410.10(D)",
            note="https://rapidrepairs247.com/fixture-installation-in-bathrooms; "
            "https://forums.mikeholt.com/threads/bathroom-luminaire.124830/latest (older texts, alike)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={"nec-2017": "No change of this requirement in any of the four editions was found in print."},
)
def tub_luminaire(device: Device, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one luminaire, track or paddle fan."""
    if device.kind not in LIGHTS_AND_FANS or not has_baths(job.survey):
        return NotConcerned()
    where = standing(job.survey, device)
    undrawn = undrawn_baths(job.survey, where.room)
    if undrawn:
        return Undetermined(undrawn, f"How far {_name(device)} is from the tub or shower, the drawing does not show.")
    reach = job.inches("tub_zone_across") + _WIDEST
    if device.knows("track") or (device.kind is DeviceKind.TRACK and baths_in(job.survey, where.room)):
        near = baths_near_line(job.survey, where.level, device.track, reach)
    else:
        near = baths_near(job.survey, where.level, [place_point(where)], reach)
    if not near:
        return Pass(limit=job.measure("tub_zone_across")) if baths_in(job.survey, where.room) else NotConcerned()
    return (_judged(TubSpot(device, job, where, each)) for each in near)


def _name(device: Device) -> str:
    kinds = {DeviceKind.LUMINAIRE: "luminaire", DeviceKind.TRACK: "track", DeviceKind.FAN: "fan"}
    return f"{kinds[device.kind]} {name_of(device)}"


def _judged(spot: TubSpot) -> Outcome:
    try:
        if spot.near.between is Between.TOO_MUCH_DRAWN:
            return Undetermined((), "So many walls lie around this place that its way to the tub was not found.", spot.bath.id)
        if spot.near.between is Between.DOOR and reaches(spot.near.across, spot.limit.value):
            return spot.passes(spot.near.across)  # however wide it is, the walls beside the doorway keep it out
        return _hanging(spot) if _hangs(spot.device) else _fixed(spot)
    except UnknownFact as missing:
        return Undetermined((missing.pointer,), facet=spot.bath.id)


def _hangs(device: Device) -> bool:
    return device.kind in (DeviceKind.TRACK, DeviceKind.FAN) or device.luminaire_mount in _HANGING


# What hangs


def _hanging(spot: TubSpot) -> Outcome:
    radius = _radius(spot.device)
    across = spot.near.across - (radius or 0.0)
    outside = reaches(across, spot.limit.value)
    if outside and (radius is not None or reaches(across - _WIDEST, spot.limit.value)):
        return spot.passes(across)
    if _is_high(spot):
        return spot.passes(across)
    return _too_wide(spot) if outside else _in_zone(spot, max(0.0, across))


def _is_high(spot: TubSpot) -> bool:
    """Whether its lowest part is 8 ft above the rim; how far it hangs down matters only under a ceiling that high."""
    height = spot.where.height
    return spot.is_over_zone(height) and spot.is_over_zone(height - spot.device.suspended_length)


def _too_wide(spot: TubSpot) -> Undetermined:
    need = spot.device.where("blade_span" if spot.device.kind is DeviceKind.FAN else "width")
    message = f"No part of {_name(spot.device)} may be in the zone; how wide it is, is not stated."
    return Undetermined((need,), message, spot.bath.id)


def _radius(device: Device) -> float | None:
    """From the middle to the edge, if the plan says it; track is as wide as nothing here."""
    if device.kind is DeviceKind.TRACK:
        return 0.0
    name = "blade_span" if device.kind is DeviceKind.FAN else "width"
    return getattr(device, name) / 2 if device.knows(name) else None


def _in_zone(spot: TubSpot, across: float) -> Outcome:
    far = f"{shown(inches(across))} from the {spot.called}, measured level," if across else f"over the {spot.called}"
    message = (
        f"A part of {_name(spot.device)} is {far} and less than 8 ft above its {spot.rim}; nothing that hangs, no track and no "
        "paddle fan may be there."
    )
    remedies = (
        Remedy(f"Use a luminaire mounted flush, or hang this one {shown(spot.limit)} away or 8 ft above the {spot.rim}."),
    )
    if spot.near.between is Between.DOOR:
        readings = (
            Reading("The zone goes through a doorway.", "violation"),
            Reading("A closed door ends the zone, as a wall does.", "pass"),
        )
        return Judgement(
            message, readings, inches(across), spot.limit, remedies, facet=spot.bath.id, related=(spot.bath.pointer,)
        )
    return Violation(message, inches(across), spot.limit, remedies, facet=spot.bath.id, related=(spot.bath.pointer,))


# What is fixed


def _fixed(spot: TubSpot) -> Outcome:
    if not spot.near.over:
        return Pass(facet=spot.bath.id)
    if spot.is_over_zone(spot.where.height) and spot.is_over_zone(_lowest_part(spot)):
        return Pass(facet=spot.bath.id)
    if spot.device.location_rating is Exposure.WET:
        return Pass(facet=spot.bath.id)
    if spot.device.location_rating is Exposure.DRY:
        return _not_damp(spot)
    return _perhaps_sprayed(spot) if _has_shower(spot.bath) else Pass(facet=spot.bath.id)


def _lowest_part(spot: TubSpot) -> float:
    surface = spot.device.luminaire_mount is not LuminaireMount.RECESSED and isinstance(spot.where.place, RoomPlace)
    return spot.where.height - (spot.device.projection if surface else 0.0)


def _has_shower(bath: Fixture) -> bool:
    """A tub with a curtain or glass has a shower; one with nothing around it has none."""
    return bath.kind is FixtureKind.SHOWER or bath.enclosure is not Enclosure.NONE


def _not_damp(spot: TubSpot) -> Violation:
    rating = Exposure.WET if _has_shower(spot.bath) else Exposure.DAMP
    return Violation(
        f"{sentence(_name(spot.device))} is over the {spot.called}, less than 8 ft above its {spot.rim}, and is listed for dry "
        "places only.",
        remedies=(
            Remedy(
                f"Use a luminaire that is listed for {rating} places.", (state(spot.device, "location_rating", rating.value),)
            ),
        ),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )


def _perhaps_sprayed(spot: TubSpot) -> Judgement:
    return Judgement(
        f"{sentence(_name(spot.device))} is over the {spot.called}, less than 8 ft above its {spot.rim}, and is listed for damp "
        "places; where the shower sprays it, a listing for wet places is required.",
        readings=(
            Reading("The shower's spray does not get as far as the luminaire; damp is enough.", "pass"),
            Reading("All over a shower is subject to its spray.", "violation"),
        ),
        remedies=(Remedy("Use a luminaire that is listed for wet places.", (state(spot.device, "location_rating", "wet"),)),),
        facet=spot.bath.id,
        related=(spot.bath.pointer,),
    )
