"""Circuits that supply an outlet or a device in the living spaces of a dwelling are protected from arc faults.

Why: a damaged cable or a loose joint arcs without drawing enough current to trip an ordinary breaker, and starts a fire in the
walls around people who sleep.

Put it right: use a combination-type AFCI breaker, or a dual-function one where the circuit needs GFCI protection too.

An outlet-type interrupter counts where the plan states one; otherwise a circuit is judged by its breaker.
"""

from nailplate.plan import Circuit, Device, Pointer, Room, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import BoxMaterial, CableType, DeviceKind, Protects, Purpose, Use
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Undetermined,
    Violation,
    replace,
    rule,
)
from nailplate.survey import Survey, standing
from nailplate.survey.names import name_of
from nailplate.survey.protection import HomeRun, Supplied, home_run, outlet_type_interrupter, supplied
from nailplate.units import inches, reaches, shown, within

_ORDINARY_VOLTS = 125.0
_AMPERES = (15.0, 20.0)
_AMPERES_2023 = (10.0, 15.0, 20.0)
_LONGEST_HOME_RUN = {"14 AWG": 600.0, "12 AWG": 840.0}
"""50 ft and 70 ft, in inches: how far an outlet-type interrupter may be from an ordinary breaker, in every edition here."""

_LISTED = frozenset(
    {
        Use.KITCHEN,
        Use.LIVING,
        Use.FAMILY,
        Use.DINING,
        Use.BREAKFAST,
        Use.BEDROOM,
        Use.LOFT_SLEEPING,
        Use.DEN,
        Use.LIBRARY,
        Use.OFFICE,
        Use.SUNROOM,
        Use.RECREATION,
        Use.CLOSET,
        Use.HALLWAY,
        Use.FOYER,
        Use.LAUNDRY,
    }
)
_PERHAPS_SIMILAR = frozenset({Use.PANTRY, Use.STAIRWAY, Use.STORAGE})
_MOST_NAMED = 5  # pointers of outlets without a circuit; naming all of them for each circuit would bury the rest


@rule(
    id="afci-rooms",
    over=Circuit,
    severity=Severity.CODE,
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
)
def afci_rooms(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit."""
    on_it = supplied(job.survey, circuit)
    plain = [place for place in on_it.places if _is_in(place, _LISTED)]
    similar = [place for place in on_it.places if _is_similar(place)]
    unknown = () if plain else (*on_it.unknown, *_unfinished_or_not(on_it), *_without_circuit(job.survey))
    if not (plain or similar or unknown):
        return NotConcerned()
    if circuit.knows("breaker") and circuit.breaker.knows("protects") and circuit.breaker.protects.afci:
        return Pass()
    if not _in_scope(circuit, job):
        return NotConcerned()
    if not plain and unknown:
        return Undetermined(tuple(dict.fromkeys(unknown)))
    protects = circuit.breaker.protects  # unknown: the engine says so
    why = _why(plain or similar)
    interrupter = outlet_type_interrupter(job.survey, circuit)
    if interrupter is not None:
        return _at_outlet(circuit, job, interrupter, why)
    return _at_breaker(circuit, protects, job, why, contested=not plain)


def _in_scope(circuit: Circuit, job: Job) -> bool:
    if not _is_120_volts(circuit):
        return False
    rating = circuit.breaker.rating
    return any(
        reaches(rating, each) and within(rating, each) for each in (_AMPERES_2023 if job.edition.since(2023) else _AMPERES)
    )


def _is_120_volts(circuit: Circuit) -> bool:
    if not circuit.knows("voltage") and circuit.knows("breaker") and circuit.breaker.knows("poles"):
        return circuit.breaker.poles == 1
    return within(circuit.voltage, _ORDINARY_VOLTS)


# Answers


def _at_breaker(circuit: Circuit, protects: Protects, job: Job, why: str, *, contested: bool) -> Outcome:
    message = (
        f"Circuit {name_of(circuit)} has no AFCI protection (its breaker protects: {protects}), and no outlet-type interrupter "
        f"is stated on it; it supplies {why}."
    )
    other = _other_reading(circuit, job, contested=contested)
    if other:
        readings = (Reading(f"AFCI protection is required: the circuit supplies {why}.", "violation"), Reading(other, "pass"))
        return Judgement(message, readings, remedies=_remedies(circuit, protects))
    return Violation(message, remedies=_remedies(circuit, protects))


def _other_reading(circuit: Circuit, job: Job, *, contested: bool) -> str:
    if contested:
        return "It is not: these places are not named in 210.12, and are not similar to those that are."
    if _may_be_alarm_system(circuit, job):
        return "It is not: this is the individual circuit of a fire alarm system, in a metal raceway or metal-clad cable."
    return ""


def _may_be_alarm_system(circuit: Circuit, job: Job) -> bool:
    """Smoke alarms of a dwelling are outlets like any other; the exception is for the panel of a fire alarm system."""
    if not (circuit.knows("purpose", "conductor") and circuit.purpose is Purpose.ALARM and circuit.conductor.knows("type")):
        return False
    alarms = {DeviceKind.SMOKE_ALARM, DeviceKind.HEAT_ALARM, DeviceKind.CO_ALARM}
    is_metal = circuit.conductor.type in (CableType.MC, CableType.AC, CableType.RACEWAY)
    return is_metal and not any(each.kind in alarms for each in job.survey.devices_on_circuit.get(circuit.id, []))


def _at_outlet(circuit: Circuit, job: Job, interrupter: Device, why: str) -> Outcome:
    """An outlet-type interrupter serves at the first outlet only, and on conditions that a plan seldom shows."""
    run, remedies = home_run(job.survey, circuit), _remedies(circuit, circuit.breaker.protects)
    said = f"Circuit {name_of(circuit)} supplies {why} and relies on the outlet-type AFCI {name_of(interrupter)}"
    if run is not None and not run.ends_at(interrupter):
        return Violation(f"{said}, which is not at its first outlet.", remedies=remedies, related=(interrupter.pointer,))
    if run is not None and _is_in_metal(run):
        return Pass()
    if run is not None and _is_too_long(run):
        long = shown(inches(run.cable.length))
        message = f"{said}, but its home run of {long} is longer than such a device allows with {run.cable.size}."
        limit = inches(_LONGEST_HOME_RUN[run.cable.size])
        return Violation(message, inches(run.cable.length), limit, remedies, related=(interrupter.pointer,))
    readings = (
        Reading(
            "Breaker and device are listed to work together, the device is at the first outlet in a marked box, and the "
            "home run is unbroken and no longer than 50 ft (14 AWG) or 70 ft (12 AWG); or it is in metal or concrete.",
            "pass",
        ),
        Reading("One of these conditions is not met.", "violation"),
    )
    return Judgement(f"{said}; the plan does not show all that this rests on.", readings, related=(interrupter.pointer,))


def _is_in_metal(run: HomeRun) -> bool:
    if not run.cable.knows("type") or run.cable.type not in (CableType.MC, CableType.AC):
        return False
    return run.box is not None and run.box.knows("material") and run.box.material is BoxMaterial.METAL


def _is_too_long(run: HomeRun) -> bool:
    cable = run.cable
    in_metal_or_raceway = not cable.knows("type") or cable.type in (CableType.MC, CableType.AC, CableType.RACEWAY)
    if in_metal_or_raceway or not cable.knows("length", "size") or cable.size not in _LONGEST_HOME_RUN:
        return False
    return not within(cable.length, _LONGEST_HOME_RUN[cable.size])


def _remedies(circuit: Circuit, protects: Protects) -> tuple[Remedy, ...]:
    new = Protects.DUAL if protects.gfci else Protects.AFCI
    kind = "dual-function (AFCI and GFCI)" if protects.gfci else "combination-type AFCI"
    both = "; a multiwire circuit takes a two-pole one for both halves" if circuit.knows("multiwire") else ""
    patch = (replace(circuit.breaker.where("protects"), new.value),)
    return (Remedy(f"Protect circuit {name_of(circuit)} with a {kind} breaker{both}.", patch),)


# What pulls a circuit in

_Place = tuple[Device | Appliance, Room | None]


def _is_in(place: _Place, uses: frozenset[Use]) -> bool:
    room = place[1]
    return room is not None and any(use in uses for use in room.uses)


def _is_similar(place: _Place) -> bool:
    room = place[1]
    return _is_in(place, _PERHAPS_SIMILAR) or (
        room is not None and Use.BASEMENT in room.uses and room.knows("finished") and room.finished
    )


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
        if len(found) < _MOST_NAMED and not device.knows("circuit") and _is_in((device, _room(survey, device)), _LISTED):
            found.append(device.where("circuit"))
    return tuple(found)


def _room(survey: Survey, device: Device) -> Room | None:
    try:
        return standing(survey, device).room
    except UnknownFact:
        return None


def _why(places: list[_Place]) -> str:
    part, room = places[0]
    kind = part.kind.replace("_", " ")
    where = f" in {name_of(room)} ({', '.join(use.replace('_', ' ') for use in room.uses)})" if room else ""
    more = f" and {len(places) - 1} more in such places" if len(places) > 1 else ""
    return f"the {kind} {name_of(part)}{where}{more}"
