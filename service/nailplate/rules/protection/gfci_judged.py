"""Whether a receptacle in a listed place is protected from ground faults, whichever section lists the places."""

from collections.abc import Callable
from dataclasses import dataclass

from nailplate.codes import Edition, GfciLocation, GfciLocations
from nailplate.plan import Device, Pointer, UnknownFact
from nailplate.plan.words import DeviceKind
from nailplate.remedies.ground_fault_devices import remedies, unprotected
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.protection import (
    GfciPlace,
    GfciPlaces,
    GroundFaultProtection,
    ground_fault_protection,
    receptacle_amperes,
    receptacle_volts,
)
from nailplate.units import Measure, inches, within

_HIGHEST_VOLTS = 250.0
_NO_ITEM = "no item"


@dataclass(frozen=True, slots=True)
class PlaceList:
    """A section that lists places: its list, and the places of a receptacle less those that it exempts.

    ``places`` also gives how the words can be read so that a listed receptacle needs no protection; empty where nobody would.
    """

    listed: GfciLocations
    places: Callable[[Device, Job], tuple[GfciPlaces, str]]


def judged_receptacle(device: Device, job: Job, listing: PlaceList) -> Outcome:
    """Judges one receptacle by one section's list."""
    found = _judged(device, job, listing)
    return _unprotected(device, job, listing, found) if isinstance(found, _Lack) else found


@dataclass(frozen=True, slots=True)
class _Lack:
    """Where protection is missing, and how the code may be read so that it is not asked for."""

    place: GfciPlace
    protection: GroundFaultProtection
    other_reading: str


def _judged(device: Device, job: Job, listing: PlaceList) -> Outcome | _Lack:
    if device.kind is not DeviceKind.RECEPTACLE:
        return NotConcerned()
    places, doubts = listing.places(device, job)
    if not (places.found or places.unknown or places.given_up):
        return NotConcerned()
    protection = ground_fault_protection(job.survey, device)
    if protection.source is not None:
        return Pass()
    places = _of_its_rating(places, device, job, listing)
    if not (places.found or places.unknown or places.given_up):
        return NotConcerned()
    plain = next((place for place in places.found if not place.other_reading), None)
    if plain is None and (places.unknown or not places.found):
        return _undetermined((*places.unknown, *protection.unknown), places.given_up)
    place = plain or places.found[0]
    if protection.unknown:
        return Undetermined(protection.unknown, _needs_one(device, place))
    return _Lack(place, protection, place.other_reading or doubts)


def _of_its_rating(places: GfciPlaces, device: Device, job: Job, listing: PlaceList) -> GfciPlaces:
    """The places whose item speaks of receptacles of this rating; every supply that a plan can state is 120 V to ground."""
    items = listing.listed.items
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


def _lacking(device: Device, job: Job, listing: PlaceList, lack: _Lack) -> tuple[Device, ...]:
    """This receptacle, and the others of its circuit that certainly lack protection too."""
    others = job.survey.once(_lacking_on, job.edition, listing, device.circuit) if len(lack.protection.circuits) == 1 else ()
    return tuple(dict.fromkeys((device, *others)))


def _lacking_on(survey: Survey, edition: Edition, listing: PlaceList, circuit_id: str) -> tuple[Device, ...]:
    job = Job(survey.plan, survey, edition)
    receptacles = [each for each in survey.devices_on_circuit[circuit_id] if each.kind is DeviceKind.RECEPTACLE]
    return tuple(each for each in receptacles if _certainly_lacks(each, job, listing))


def _certainly_lacks(device: Device, job: Job, listing: PlaceList) -> bool:
    try:
        found = _judged(device, job, listing)
    except UnknownFact:  # unknown: asked for at that receptacle itself; a remedy here covers what surely lacks protection
        return False
    return isinstance(found, _Lack) and not found.other_reading


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


def _unprotected(device: Device, job: Job, listing: PlaceList, lack: _Lack) -> Outcome:
    place = lack.place
    message = (
        f"Receptacle {name_of(device)} has no GFCI protection, and {place.words}. {_law(place, listing)}. "
        f"Neither the receptacle, nor a device that feeds it, nor {_breakers(lack.protection)} gives any.{_round(lack.protection)}"
    )
    related = (place.fixture.pointer,) if place.fixture else ()
    measured, limit = _figures(place, job)
    ways = remedies(device, job.survey, lack.protection, _lacking(device, job, listing, lack))
    if lack.other_reading:
        readings = (
            Reading(f"GFCI protection is required: {place.words}.", "violation"),
            Reading(f"It is not: {lack.other_reading}.", "pass"),
        )
        return Judgement(message, readings, measured, limit, ways, related=related)
    return Violation(message, measured, limit, ways, related=related)


def _law(place: GfciPlace, listing: PlaceList) -> str:
    listed = listing.listed.items[place.item]
    section = "A local amendment" if listed.section == _NO_ITEM else listed.section
    return f"{section} lists {listed.what}"


def _figures(place: GfciPlace, job: Job) -> tuple[Measure | None, Measure | None]:
    return (inches(place.length), job.measure("cord_to_water")) if place.length is not None else (None, None)


def _breakers(protection: GroundFaultProtection) -> str:
    return " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in unprotected(protection.circuits))


def _round(protection: GroundFaultProtection) -> str:
    if protection.bypassed is None:
        return ""
    return (
        f" The plan names {name_of(protection.bypassed)} as the device whose LOAD side feeds it, but the cables drawn go from the "
        "panel to it without passing there."
    )
