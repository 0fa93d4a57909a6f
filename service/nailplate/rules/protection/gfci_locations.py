"""Receptacles in wet, outdoor and kitchen places, and near sinks, tubs and showers, are protected from ground faults.

Why: where a person is wet, barefoot or touches plumbing, a faulty appliance sends its current through that person; an
interrupter cuts it off before it kills.

Fix: use a GFCI breaker, a GFCI receptacle, or feed the receptacle from the LOAD side of a GFCI device within reach.

Trap: protection is looked for upstream, not at the outlet alone, and lost where a cable goes round the device or is spliced ahead of
its LOAD side. A refrigerator's receptacle is in from 2023, not before. From 2020 a hall receptacle counts as near the basin
behind an open door, and a 240 V dryer's or range's counts where its place is listed.

Distances run along the path of a cord, seen from above; heights are left out, so the true path is never shorter. Exceptions
count only where the plan states what they rest on.
"""

from dataclasses import dataclass

from nailplate.codes import Edition, GfciItem, GfciLocation
from nailplate.plan import Device, Pointer, UnknownFact
from nailplate.plan.words import ApplianceKind, DeviceKind, Mount, Purpose, Use
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
)
from nailplate.rules.protection.gfci_remedies import remedies, unprotected
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.protection import (
    REACH,
    GfciPlace,
    GfciPlaces,
    GroundFaultProtection,
    appliances_served,
    ground_fault_protection,
    places_by_cord,
    places_by_room,
    receptacle_amperes,
    receptacle_volts,
)
from nailplate.units import Measure, inches, within

_HIGHEST_VOLTS = 250.0
_NO_ITEM = "no item"


@rule(
    id="gfci-locations",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.8(A)",
            seen=(2017, 2020, 2023),
            note="https://captaincode2017.leviton.com/node/122 (2017, cord path); "
            "https://www.eaton.com/us/en-us/company/news-insights/for-safetys-sake-blog/"
            "NEC-2020-increases-GFCI-protection.html (2020); "
            "https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48884919 (2023)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    dwelling_only=True,
    changes={
        "nec-2020": "Receptacles up to 250 V of any amperes came in, all of a basement, indoor damp places, and what a cord reaches "
        "through a doorway.",
        "nec-2023": "Every receptacle of a kitchen came in, areas with a sink where food or drink is prepared, and exceptions for "
        "alarm systems, ceiling fittings and bathroom exhaust fans everywhere.",
        "nec-2026": "Accessory buildings have an item of their own, whatever the height of their floor; the exception for exhaust "
        "fans is for all of them.",
    },
)
def gfci_locations(device: Device, job: Job) -> Outcome:
    """Judges one receptacle."""
    found = _judged(device, job)
    return _unprotected(device, job, found) if isinstance(found, _Lack) else found


@dataclass(frozen=True, slots=True)
class _Lack:
    """Where protection is missing, and how the code may be read so that it is not asked for."""

    place: GfciPlace
    protection: GroundFaultProtection
    other_reading: str


def _judged(device: Device, job: Job) -> Outcome | _Lack:
    if device.kind is not DeviceKind.RECEPTACLE:
        return NotConcerned()
    places, doubts = _places(device, job)
    if not (places.found or places.unknown or places.given_up):
        return NotConcerned()
    protection = ground_fault_protection(job.survey, device)
    if protection.source is not None:
        return Pass()
    places = _of_its_rating(places, device, job)
    if not (places.found or places.unknown or places.given_up):
        return NotConcerned()
    plain = next((place for place in places.found if not place.other_reading), None)
    if plain is None and (places.unknown or not places.found):
        return _undetermined((*places.unknown, *protection.unknown), places.given_up)
    place = plain or places.found[0]
    if protection.unknown:
        return Undetermined(protection.unknown, _needs_one(device, place))
    return _Lack(place, protection, place.other_reading or doubts)


def _of_its_rating(places: GfciPlaces, device: Device, job: Job) -> GfciPlaces:
    """The places whose item speaks of receptacles of this rating; every supply that a plan can state is 120 V to ground."""
    items = job.edition.gfci_locations.items
    found = tuple(place for place in places.found if _is_rated(device, job, items[place.item]))
    open_still = (places.unknown or places.given_up) and any(
        _is_rated(device, job, each) for each in items.values() if each.applies
    )
    return GfciPlaces(found, places.unknown if open_still else (), places.given_up and bool(open_still))


def _is_rated(device: Device, job: Job, listed: GfciLocation) -> bool:
    if within(_HIGHEST_VOLTS, listed.volts):
        if device.knows("voltage") and not within(device.voltage, listed.volts):
            return False
    elif not within(receptacle_volts(job.survey, device), listed.volts):
        return False
    return listed.amperes is None or within(receptacle_amperes(job.survey, device), listed.amperes)


def _lacking(device: Device, job: Job, lack: _Lack) -> tuple[Device, ...]:
    """This receptacle, and the others of its circuit that certainly lack protection too."""
    others = job.survey.once(_lacking_on, job.edition, device.circuit) if len(lack.protection.circuits) == 1 else ()
    return tuple(dict.fromkeys((device, *others)))


def _lacking_on(survey: Survey, edition: Edition, circuit_id: str) -> tuple[Device, ...]:
    job = Job(survey.plan, survey, edition)
    receptacles = [each for each in survey.devices_on_circuit[circuit_id] if each.kind is DeviceKind.RECEPTACLE]
    return tuple(each for each in receptacles if _certainly_lacks(each, job))


def _certainly_lacks(device: Device, job: Job) -> bool:
    try:
        found = _judged(device, job)
    except UnknownFact:
        return False
    return isinstance(found, _Lack) and not found.other_reading


# Places, less those that an exception takes out


def _places(device: Device, job: Job) -> tuple[GfciPlaces, str]:
    """The listed places without the excepted ones, cord paths only where needed; and what may yet be an exception."""
    listed = job.edition.gfci_locations
    by_room = _without_excepted(places_by_room(job.survey, device, listed), device, job)
    if any(not place.other_reading for place in by_room.found):
        return by_room, _doubts(device, job, by_room)
    by_cord = _without_excepted(places_by_cord(job.survey, device, listed), device, job)
    unknown = tuple(dict.fromkeys((*by_room.unknown, *by_cord.unknown)))
    places = GfciPlaces((*by_room.found, *by_cord.found), unknown, by_cord.given_up)
    return places, _doubts(device, job, places)


def _without_excepted(places: GfciPlaces, device: Device, job: Job) -> GfciPlaces:
    found = tuple(place for place in places.found if not _is_excepted(place.item, device, job))
    return GfciPlaces(found, places.unknown, places.given_up)


def _is_excepted(item: GfciItem, device: Device, job: Job) -> bool:
    return _feeds_alarm_system(item, device, job) or _holds_ceiling_fitting(item, device, job) or _is_in_fan(device, job)


def _feeds_alarm_system(item: GfciItem, device: Device, job: Job) -> bool:
    if not (job.edition.since(2023) or item is GfciItem.BASEMENT) or not device.knows("circuit"):
        return False
    circuit = job.plan.circuits[device.circuit]
    return circuit.knows("purpose") and circuit.purpose is Purpose.ALARM


def _holds_ceiling_fitting(item: GfciItem, device: Device, job: Job) -> bool:
    """A locking receptacle in the ceiling that carries a luminaire or fan: from 2020, then not in every place (from memory)."""
    if not job.edition.since(2020) or (
        not job.edition.since(2023) and item in (GfciItem.CRAWL_SPACE, GfciItem.TUB, GfciItem.DAMP)
    ):
        return False
    return device.knows("mount", "locking") and device.mount is Mount.CEILING and device.locking


def _is_in_fan(device: Device, job: Job) -> bool:
    """A receptacle built into an exhaust fan: of a bathroom in 2023, any from 2026."""
    if not job.edition.since(2023) or not device.knows("part_of"):
        return False
    fan = job.plan.appliances[device.part_of]
    if fan.kind is not ApplianceKind.EXHAUST_FAN:
        return False
    return job.edition.since(2026) or Use.BATHROOM in job.plan.rooms[fan.room].uses


def _doubts(device: Device, job: Job, places: GfciPlaces) -> str:
    """How the code may be read so that this receptacle needs no protection although its place is listed."""
    if device.knows("part_of"):
        return "the receptacle is a part of listed equipment, not one that is installed here"
    everywhere = job.edition.since(2023)
    if not (everywhere or all(place.item is GfciItem.OUTDOORS for place in places.found)) or not device.knows("circuit"):
        return ""
    circuit = job.plan.circuits[device.circuit]
    alone = circuit.knows("purpose") and circuit.purpose is Purpose.INDIVIDUAL
    hidden = device.knows("readily_accessible") and not device.readily_accessible
    other = any(each.kind is ApplianceKind.OTHER for each in appliances_served(job.survey, device))
    if alone and hidden and other:
        return "it supplies snow-melting, deicing or pipe-heating equipment that has its own ground-fault protection"
    return ""


# Answers


def _undetermined(needs: tuple[Pointer, ...], given_up: bool) -> Undetermined:
    wanted = tuple(dict.fromkeys(needs))
    if given_up:
        return Undetermined(
            wanted, "So many walls lie around this receptacle that no cord path could be found; nothing was decided."
        )
    return Undetermined(wanted)


def _needs_one(device: Device, place: GfciPlace) -> str:
    return (
        f"Receptacle {name_of(device)} needs GFCI protection, since {place.words}; the plan does not say whether it has it: what the "
        "breaker is, and which device's LOAD side feeds it, or that the circuit itself does."
    )


def _unprotected(device: Device, job: Job, lack: _Lack) -> Outcome:
    place = lack.place
    message = (
        f"Receptacle {name_of(device)} has no GFCI protection, and {place.words}. {_law(place, job)}. "
        f"Neither the receptacle, nor a device that feeds it, nor {_breakers(lack.protection)} gives any.{_round(lack.protection)}"
    )
    related = (place.fixture.pointer,) if place.fixture else ()
    measured, limit = _figures(place)
    ways = remedies(device, job, lack.protection, _lacking(device, job, lack))
    if lack.other_reading:
        readings = (
            Reading(f"GFCI protection is required: {place.words}.", "violation"),
            Reading(f"It is not: {lack.other_reading}.", "pass"),
        )
        return Judgement(message, readings, measured, limit, ways, related=related)
    return Violation(message, measured, limit, ways, related=related)


def _law(place: GfciPlace, job: Job) -> str:
    listed = job.edition.gfci_locations.items[place.item]
    section = "A local amendment" if listed.section == _NO_ITEM else listed.section
    return f"{section} lists {listed.what}"


def _figures(place: GfciPlace) -> tuple[Measure | None, Measure | None]:
    return (inches(place.length), inches(REACH)) if place.length is not None else (None, None)


def _breakers(protection: GroundFaultProtection) -> str:
    return " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in unprotected(protection.circuits))


def _round(protection: GroundFaultProtection) -> str:
    if protection.bypassed is None:
        return ""
    return (
        f" The plan names {name_of(protection.bypassed)} as the device whose LOAD side feeds it, but the cables drawn go from the "
        "panel to it without passing there."
    )
