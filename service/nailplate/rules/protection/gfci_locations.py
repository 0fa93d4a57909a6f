"""Receptacles in wet, outdoor and kitchen places, and near sinks, tubs and showers, are protected from ground faults.

Why: where a person is wet, barefoot or touches plumbing, a faulty appliance sends its current through that person; an
interrupter cuts it off before it kills.

Put it right: use a GFCI breaker, a GFCI receptacle, or feed the receptacle from the LOAD side of a GFCI device within reach.

Distances run along the path of a cord, seen from above; heights are left out, so the true path is never shorter. Exceptions
count only where the plan states what they rest on.
"""

from nailplate.plan import Circuit, Device, Pointer
from nailplate.plan.words import ApplianceKind, DeviceKind, Mount, Protects, Purpose, Use
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Operation,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Undetermined,
    Violation,
    add,
    replace,
    rule,
    state,
)
from nailplate.survey.cords import REACH
from nailplate.survey.gfci_places import GfciPlace, GfciPlaces, Item, places_by_cord, places_by_room
from nailplate.survey.names import name_of
from nailplate.survey.protection import (
    GroundFaultProtection,
    appliances_served,
    ground_fault_protection,
    protects_people,
    receptacle_amperes,
    receptacle_volts,
)
from nailplate.units import Measure, inches, within

_ORDINARY_VOLTS = 125.0
_ORDINARY_AMPERES = 20.0
_HIGHEST_VOLTS = 250.0


@rule(
    id="gfci-locations",
    over=Device,
    severity=Severity.DANGER,
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
)
def gfci_locations(device: Device, job: Job) -> Outcome:
    """Judges one receptacle."""
    if device.kind is not DeviceKind.RECEPTACLE:
        return NotConcerned()
    places, doubts = _places(device, job)
    if not (places.found or places.unknown or places.given_up):
        return NotConcerned()
    protection = ground_fault_protection(job.survey, device)
    if protection.source is not None:
        return Pass()
    if not _in_scope(device, job):
        return NotConcerned()
    plain = next((place for place in places.found if not place.other_reading), None)
    if plain is None and (places.unknown or not places.found):
        return _undetermined((*places.unknown, *protection.unknown), places.given_up)
    if protection.unknown:
        return Undetermined(protection.unknown, _needs_one(device, plain or places.found[0]))
    return _unprotected(device, job, plain or places.found[0], protection, doubts)


def _in_scope(device: Device, job: Job) -> bool:
    """Whether the edition speaks of receptacles of these ratings; every supply that a plan can state is 120 V to ground."""
    if job.edition.since(2020):
        return not device.knows("voltage") or within(device.voltage, _HIGHEST_VOLTS)
    if not within(receptacle_volts(job.survey, device), _ORDINARY_VOLTS):
        return False
    return within(receptacle_amperes(job.survey, device), _ORDINARY_AMPERES)


# Places, less those that an exception takes out


def _places(device: Device, job: Job) -> tuple[GfciPlaces, str]:
    """The listed places without the excepted ones, cord paths only where needed; and what may yet be an exception."""
    year = job.edition.year
    by_room = _without_excepted(places_by_room(job.survey, device, year), device, job)
    if any(not place.other_reading for place in by_room.found):
        return by_room, _doubts(device, job, by_room)
    by_cord = _without_excepted(places_by_cord(job.survey, device, year), device, job)
    unknown = tuple(dict.fromkeys((*by_room.unknown, *by_cord.unknown)))
    places = GfciPlaces((*by_room.found, *by_cord.found), unknown, by_cord.given_up)
    return places, _doubts(device, job, places)


def _without_excepted(places: GfciPlaces, device: Device, job: Job) -> GfciPlaces:
    found = tuple(place for place in places.found if not _is_excepted(place.item, device, job))
    return GfciPlaces(found, places.unknown, places.given_up)


def _is_excepted(item: Item, device: Device, job: Job) -> bool:
    return _feeds_alarm_system(item, device, job) or _holds_ceiling_fitting(item, device, job) or _is_in_fan(device, job)


def _feeds_alarm_system(item: Item, device: Device, job: Job) -> bool:
    if not (job.edition.since(2023) or item is Item.BASEMENT) or not device.knows("circuit"):
        return False
    circuit = job.plan.circuits[device.circuit]
    return circuit.knows("purpose") and circuit.purpose is Purpose.ALARM


def _holds_ceiling_fitting(item: Item, device: Device, job: Job) -> bool:
    """A locking receptacle in the ceiling that carries a luminaire or fan: from 2020, then not in every place (from memory)."""
    if not job.edition.since(2020) or (not job.edition.since(2023) and item in (Item.CRAWL_SPACE, Item.TUB, Item.DAMP)):
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
    if not (everywhere or all(place.item is Item.OUTDOORS for place in places.found)) or not device.knows("circuit"):
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
    return f"Receptacle {name_of(device)} needs GFCI protection, since {place.words}; the plan does not say whether it has it."


def _unprotected(device: Device, job: Job, place: GfciPlace, protection: GroundFaultProtection, doubts: str) -> Outcome:
    message = (
        f"Receptacle {name_of(device)} has no GFCI protection, and {place.words}. 210.8(A) lists {place.item}. "
        f"Neither the receptacle, nor a device that feeds it, nor {_breakers(protection.circuits)} gives any."
    )
    related = (place.fixture.pointer,) if place.fixture else ()
    measured, limit = _figures(place)
    other = place.other_reading or doubts
    if other:
        readings = (
            Reading(f"GFCI protection is required: {place.words}.", "violation"),
            Reading(f"It is not: {other}.", "pass"),
        )
        return Judgement(message, readings, measured, limit, _remedies(device, job, protection), related=related)
    return Violation(message, measured, limit, _remedies(device, job, protection), related=related)


def _figures(place: GfciPlace) -> tuple[Measure | None, Measure | None]:
    return (inches(place.length), inches(REACH)) if place.length is not None else (None, None)


def _breakers(circuits: tuple[Circuit, ...]) -> str:
    return " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in circuits if not protects_people(circuit))


def _remedies(device: Device, job: Job, protection: GroundFaultProtection) -> tuple[Remedy, ...]:
    names = " and ".join(name_of(circuit) for circuit in protection.circuits)
    patch = tuple(_with_gfci(circuit) for circuit in protection.circuits)
    at_origin = Remedy(f"Protect circuit {names} with a breaker that is a GFCI (dual function where it is an AFCI).", patch)
    if len(protection.circuits) > 1 or not _has_gfci_type(device, job):
        return (at_origin,)
    words = "Use a GFCI receptacle here, or feed this one from the LOAD side of a GFCI device in a readily accessible place."
    return (at_origin, Remedy(words, (state(device, "gfci", value=True),)))


def _with_gfci(circuit: Circuit) -> Operation:
    if not circuit.knows("breaker"):
        return add(circuit.where("breaker"), {"protects": Protects.GFCI.value})
    path = circuit.breaker.where("protects")
    if not circuit.breaker.knows("protects"):
        return add(path, Protects.GFCI.value)
    return replace(path, (Protects.DUAL if circuit.breaker.protects.afci else Protects.GFCI).value)


def _has_gfci_type(device: Device, job: Job) -> bool:
    """GFCI receptacles are made for 125 V and up to 20 A (common practice); one that holds no device of its own is left out."""
    amperes = device.rating if device.knows("rating") else None
    circuit = job.plan.circuits[device.circuit] if device.knows("circuit") else None
    if amperes is None and circuit and circuit.knows("breaker") and circuit.breaker.knows("rating"):
        amperes = circuit.breaker.rating
    volts = device.voltage if device.knows("voltage") else circuit.voltage if circuit and circuit.knows("voltage") else 0.0
    return within(amperes or 0.0, _ORDINARY_AMPERES) and within(volts, _ORDINARY_VOLTS)
