"""Circuits that supply an outlet or a device in the living spaces of a dwelling are protected from arc faults.

Why: a damaged cable or a loose joint arcs without drawing enough current to trip an ordinary breaker, and starts a fire in the
walls around people who sleep.

Fix: use a combination-type AFCI breaker, or a dual-function one where the circuit needs GFCI protection too.

Trap: a bathroom or porch light whose switch is in the hall or bedroom brings its circuit in, since devices count like outlets. Smoke
alarms are outlets. Kitchen and laundry circuits need this and GFCI protection; a multiwire circuit needs a two-pole device.

Does not judge: rooms that 210.12 does not name, such as bathrooms, garages and places outdoors (`gfci-locations`), circuits of
240 V, and receptacles that are replaced in an existing house. Whether a pantry, a stairway, storage or a laundry area that is
part of another room is meant is left to the authority having jurisdiction.

A laundry area that is only part of a bathroom or garage makes no laundry of the rest: what is not there for the washer is read two ways.
An outlet-type AFCI device counts where the plan states one; otherwise a circuit is judged by its breaker.
"""

from nailplate.plan import Circuit, Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import ALARMS, ARC_FAULT_ROOMS, LAUNDRY_MACHINES, METAL_AROUND
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Protects, Purpose, Regime, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.rules.protection.afci_at_outlet import at_outlet, remedies
from nailplate.rules.protection.sleeping_rooms import if_let_to_guests, is_other_building, is_slept_in
from nailplate.survey import Survey, standing
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.protection import Supplied, appliances_served, outlet_type_interrupter, supplied
from nailplate.units import reaches, within

_ORDINARY_VOLTS = 125.0

_GOES_WITH_LAUNDRY = frozenset({Use.LAUNDRY, Use.STORAGE, Use.UTILITY})
_PERHAPS_SIMILAR = frozenset({Use.PANTRY, Use.STAIRWAY, Use.STORAGE})
_MOST_NAMED = 5  # pointers of outlets without a circuit; naming all of them for each circuit would bury the rest


@rule(
    id="afci-rooms",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.AFCI,),
    cites={
        "nec-2017": Cite(
            "210.12(A)", seen=(2017, 2020), note="https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48886415"
        ),
        "nec-2023": Cite(
            "210.12(B)",
            seen=(2023,),
            note="https://www.thebuildingcodeforum.com/forum/threads/afci-protection-and-the-2023-nec.37931",
        ),
    },
    hazards=(Hazard.ARCING, Hazard.FIRE),
    dwelling_only=True,
    also_for=(Regime.MANUFACTURED_HOME, Regime.NOT_A_DWELLING),
    changes={
        "nec-2023": "210.12(A) became 210.12(B).",
    },
)
def afci_rooms(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit. A manufactured home follows 550.25, which asks for the same; elsewhere only rooms that are slept in do."""
    if not is_other_building(job):
        return _judged(circuit, job)
    on_it = supplied(job.survey, circuit)
    if not any(is_slept_in(room) for _, room in on_it.places):
        perhaps = on_it.unknown and any(is_slept_in(room) for room in job.plan.rooms.values()) and not _at_its_breaker(circuit)
        return Undetermined(on_it.unknown) if perhaps else NotConcerned()
    return if_let_to_guests(_judged(circuit, job), "210.12", "AFCI protection")


def _judged(circuit: Circuit, job: Job) -> Outcome:
    on_it = supplied(job.survey, circuit)
    plain = [place for place in on_it.places if _is_named(place, circuit, job)]
    similar = [place for place in on_it.places if _is_similar(place) or _is_in(place, ARC_FAULT_ROOMS)]
    unknown = () if plain else (*on_it.unknown, *_unfinished_or_not(on_it), *_without_circuit(job.survey))
    if not (plain or similar or unknown):
        return NotConcerned()
    if _at_its_breaker(circuit):
        return Pass()
    if not _in_scope(circuit, job) or _is_short_extension(circuit, job) or _is_welders_own(circuit, job):
        return NotConcerned()
    if not plain and unknown:
        return Undetermined(tuple(dict.fromkeys(unknown)))
    protects = circuit.breaker.protects  # unknown: the engine says so
    why = _why(plain or similar)
    interrupter = outlet_type_interrupter(job.survey, circuit)
    if interrupter is not None:
        return at_outlet(circuit, job, interrupter, why)
    return _at_breaker(circuit, protects, job, why, "" if plain else _how_not(similar))


def _at_its_breaker(circuit: Circuit) -> bool:
    return circuit.knows("breaker") and circuit.breaker.knows("protects") and circuit.breaker.protects.afci


def _in_scope(circuit: Circuit, job: Job) -> bool:
    if not _is_120_volts(circuit):
        return False
    rating = circuit.breaker.rating
    return any(reaches(rating, each) and within(rating, each) for each in job.ratings("afci_circuit_ratings"))


def _is_short_extension(circuit: Circuit, job: Job) -> bool:
    """210.12(D), from 2023 (E): an old circuit made no more than 6 ft longer, without a new outlet or device."""
    if not circuit.knows("extension"):
        return False
    return not circuit.extension.adds_outlets and within(circuit.extension.length, job.inches("extension_without_afci"))


def _is_welders_own(circuit: Circuit, job: Job) -> bool:
    """210.12(B), the exception for an individual circuit of an arc welder: by permit date in 2023, for good from 2026."""
    served = job.survey.appliances_on_circuit.get(circuit.id, [])
    is_own = circuit.is_(purpose=Purpose.INDIVIDUAL)
    if not (is_own and served and all(each.kind is ApplianceKind.WELDER for each in served)) or not job.holds(
        "welder_without_afci"
    ):
        return False
    return job.holds("welder_without_afci_permanently") or job.plan.basis.permit_date < job.day("welder_exemption_ends")


def _is_120_volts(circuit: Circuit) -> bool:
    if not circuit.knows("voltage") and circuit.knows("breaker") and circuit.breaker.knows("poles"):
        return circuit.breaker.poles == 1
    return within(circuit.voltage, _ORDINARY_VOLTS)


_Place = tuple[Device | Appliance, Room | None]


# Answers


def _at_breaker(circuit: Circuit, protects: Protects, job: Job, why: str, how_not: str) -> Outcome:
    message = (
        f"Circuit {name_of(circuit)} has no AFCI protection (its breaker is {'a GFCI' if protects.gfci else 'an ordinary one'}), "
        f"and no outlet-type AFCI device is stated on it; it supplies {why}."
    )
    other = how_not or _as_alarm_system(circuit, job)
    if other:
        readings = (Reading(f"AFCI protection is required: the circuit supplies {why}.", "violation"), Reading(other, "pass"))
        return Judgement(message, readings, remedies=remedies(circuit, protects))
    return Violation(message, remedies=remedies(circuit, protects))


def _how_not(places: list[_Place]) -> str:
    """The reading by which a circuit is let off that supplies nothing in a place that is surely named."""
    part_of = next((room for place in places if _is_in(place, ARC_FAULT_ROOMS) and (room := place[1])), None)
    if part_of is not None:
        return f"It is not: the laundry area is only part of {name_of(part_of)}, and what this circuit supplies is in another part."
    return "It is not: these places are not named in 210.12, and are not similar to those that are."


def _as_alarm_system(circuit: Circuit, job: Job) -> str:
    if _may_be_alarm_system(circuit, job):
        return "It is not: this is the individual circuit of a fire alarm system, in a metal raceway or metal-clad cable."
    return ""


def _may_be_alarm_system(circuit: Circuit, job: Job) -> bool:
    """Smoke alarms of a dwelling are outlets like any other; the exception is for the panel of a fire alarm system."""
    if not (circuit.knows("purpose", "conductor") and circuit.purpose is Purpose.ALARM and circuit.conductor.knows("type")):
        return False
    is_metal = circuit.conductor.type in METAL_AROUND
    return is_metal and not any(each.kind in ALARMS for each in job.survey.devices_on_circuit.get(circuit.id, []))


# What pulls a circuit in


def _is_in(place: _Place, uses: frozenset[Use]) -> bool:
    room = place[1]
    return room is not None and any(use in uses for use in room.uses)


def _is_named(place: _Place, circuit: Circuit, job: Job) -> bool:
    """Whether a place is named in 210.12; in a room that is laundry and bath at once only what is there for the laundry surely is."""
    if _is_in(place, ARC_FAULT_ROOMS - {Use.LAUNDRY}) or not _is_in(place, ARC_FAULT_ROOMS):
        return _is_in(place, ARC_FAULT_ROOMS)
    part, room = place
    if room is not None and set(room.uses) <= _GOES_WITH_LAUNDRY:
        return True
    of_laundry = circuit.is_(purpose=Purpose.LAUNDRY)
    served = (part,) if isinstance(part, Appliance) else appliances_served(job.survey, part)
    return of_laundry or any(each.kind in LAUNDRY_MACHINES for each in served)


def _is_similar(place: _Place) -> bool:
    room = place[1]
    return _is_in(place, _PERHAPS_SIMILAR) or (room is not None and Use.BASEMENT in room.uses and room.is_(finished=True))


def _unfinished_or_not(on_it: Supplied) -> tuple[Pointer, ...]:
    """A finished basement is much like a recreation room; an unfinished one is not meant."""
    rooms = dict.fromkeys(room for _, room in on_it.places if room is not None)
    return tuple(room.where("finished") for room in rooms if Use.BASEMENT in room.uses and not room.knows("finished"))


def _without_circuit(survey: Survey) -> tuple[Pointer, ...]:
    """The first few outlets and devices in listed rooms that may be on any circuit, since the plan does not say on which."""
    return survey.once(_unassigned)


def _unassigned(survey: Survey) -> tuple[Pointer, ...]:
    found: list[Pointer] = []
    for device in survey.plan.devices.values():
        if (
            len(found) < _MOST_NAMED
            and not device.knows("circuit")
            and _is_in((device, _room(survey, device)), ARC_FAULT_ROOMS)
        ):
            found.append(device.where("circuit"))
    return tuple(found)


def _room(survey: Survey, device: Device) -> Room | None:
    try:
        return standing(survey, device).room
    except UnknownFact:  # unknown: the rules for its kind ask where it is; only what is surely in such a room is named here
        return None


def _why(places: list[_Place]) -> str:
    part, room = places[0]
    kind = kind_words(part.kind)
    where = f" in {name_of(room)} ({', '.join(kind_words(use) for use in room.uses)})" if room else ""
    more = f" and {len(places) - 1} more in such places" if len(places) > 1 else ""
    return f"the {kind} {name_of(part)}{where}{more}"
