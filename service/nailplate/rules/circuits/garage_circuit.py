"""A garage with power has a 20 A circuit for the receptacles of its vehicle bays.

Why: compressors, saws and chargers are used at the car; on a circuit with the house's outlets they trip it, and dim its lights.

Fix: run a 20 A circuit of 12 AWG copper to the garage and feed a receptacle in each bay from it.

Trap: in 2017 every receptacle for use in the garage is meant, from 2020 one in each bay. The receptacle of a door opener, a freezer or a
vehicle charger may be on another circuit. A shed, and a detached garage without power, need none.

Does not judge: other outlets on this circuit are for `circuit-kept-apart` to tell, a bay without a receptacle for
`garage-receptacles`.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device, Plan, Room
from nailplate.plan.words import Purpose
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, each_of
from nailplate.rules.circuits.reserved import enough, moved, off_circuit, rated, receptacles_told
from nailplate.survey.loads import bays_off, circuits_for, garage_receptacles, garages
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import InRoom
from nailplate.units import count

WHAT = "garage"


@rule(
    id="garage-circuit",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(4), 210.52(G)(1)",
            seen=(2017, 2023),
            note="https://captaincode2017.leviton.com/node/126; https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/"
            "48886361; a public copy of the 2023 code text",
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.CORDS),
    dwelling_only=True,
    changes={
        "nec-2017": "A garage has a 20 A circuit of its own for its receptacles.",
        "nec-2020": "Only the receptacles that are required in the bays must be on it.",
        "nec-2023": "Further receptacles of the garage may be on other circuits of 15 A or more; any outdoor receptacle may share it, and "
        "in a garage for one vehicle what else is in the garage.",
    },
)
def garage_circuit(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Whether there is one, its rating, and whether the receptacles of the bays are on it."""
    rooms = garages(job.survey)
    if not rooms:
        yield NotConcerned()
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    unsaid = [each.where("attached") for each in rooms if not each.knows("attached")]
    circuits = circuits_for(job.survey, Purpose.GARAGE)
    if unsaid and len(unsaid) == len(rooms) and not circuits and not any(each.is_(has_power=True) for each in rooms):
        yield Undetermined(tuple(unsaid))
        return
    meant = receptacles_told(rooms, lambda room: (each.device for each in garage_receptacles(job.survey, room)))
    yield enough(plan, circuits, WHAT, job, meant)
    for circuit in circuits:
        yield rated(circuit, WHAT, job)
    yield from each_of(rooms if circuits else (), _of_room, circuits, job)


def _of_room(room: Room, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    found = list(garage_receptacles(job.survey, room))
    ids = {each.id for each in circuits}
    on = [each for each in found if each.device.circuit in ids]
    off = [each for each in found if each.device.circuit not in ids]
    if not job.holds("garage_circuit_one_a_bay"):
        yield from (off_circuit(each.device, WHAT, circuits, job) for each in off if not _has_its_own(each.device, job))
        yield from (Pass(facet=each.device.id) for each in on)
        return
    short = bays_off(job.survey, room, off, on)
    yield _bays(room, off, len(short), circuits, job) if short else Pass(facet=room.id)


def _has_its_own(device: Device, job: Job) -> bool:
    return job.plan.circuits[device.circuit].purpose is Purpose.INDIVIDUAL


def _bays(room: Room, off: list[InRoom], short: int, circuits: list[Circuit], job: Job) -> Outcome:
    wanted, device = room.vehicle_bays, off[0].device
    on = job.plan.circuits[device.circuit]
    remedies = (
        (moved(device, circuits[0], job),) if short == 1 else (Remedy(f"Feed one in each bay from {name_of(circuits[0])}."),)
    )
    return Violation(
        f"{name_of(room)} has {wanted} vehicle bay{'' if wanted == 1 else 's'}; what is for use in {short} of them is on other circuits, "
        f"such as {name_of(device)} on {name_of(on)}.",
        count(wanted - short),
        count(wanted),
        remedies,
        facet=room.id,
        at=room.pointer,
        related=(device.pointer,),
    )
