"""A dwelling with a laundry has a 20 A circuit for its receptacles.

Why: a washing machine starts hard and an iron draws nearly all that a circuit gives; with anything else on it the circuit trips.

Fix: run a 20 A circuit of 12 AWG copper to the laundry and feed the washer's receptacle from it.

Trap: a gas dryer or a washer of 120 V plugs into it; an electric dryer has a 240 V circuit of its own that does not take its place.
A washing machine's own individual circuit of 20 A is a laundry circuit by another name. A house without a laundry needs none.

Does not judge: other outlets on this circuit are for `circuit-kept-apart` to tell, a laundry without a receptacle for
`laundry-receptacle`.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Device, Plan, Room
from nailplate.plan.words import Purpose
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, each_of
from nailplate.rules.circuits.reserved import enough, off_circuit, rated
from nailplate.survey.loads import is_shared_laundry, laundry_circuits, laundry_rooms, washers
from nailplate.survey.receptacles import receptacles_in

WHAT = "laundry"


@rule(
    id="laundry-circuit",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(2), 210.52(F)",
            seen=(2023,),
            note="https://forums.mikeholt.com/threads/2562086; a public copy of the 2023 code text",
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    dwelling_only=True,
)
def laundry_circuit(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Whether there is one, its rating, and whether the washer's receptacle, or one of the laundry, is on it."""
    machines, rooms = washers(job.survey), laundry_rooms(job.survey)
    if not (machines or rooms) or (is_shared_laundry(job.survey) and not machines):
        yield NotConcerned()
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    circuits = laundry_circuits(job.survey)
    yield enough(plan, circuits, WHAT, job, _receptacles(machines, rooms, job))
    for circuit in circuits:
        yield rated(circuit, WHAT, job)
    if circuits and machines:
        yield from each_of(machines, _of_machine, circuits, job)
    elif circuits:
        yield from each_of(rooms, _of_room, circuits, job)


def _receptacles(machines: list[Appliance], rooms: list[Room], job: Job) -> list[Device]:
    """What belongs on it: the machines' receptacles, or those of the laundry."""
    used = [job.plan.devices[each.outlet] for each in machines if each.knows("outlet")]
    return used or [each.device for room in rooms for each in receptacles_in(job.survey, room).found]


def _of_machine(machine: Appliance, circuits: list[Circuit], job: Job) -> Outcome:
    device = job.plan.devices[machine.outlet]
    on = job.plan.circuits[device.circuit]
    if on in circuits or on.purpose is Purpose.LAUNDRY:
        return Pass()
    return off_circuit(device, WHAT, [each for each in circuits if each.purpose is not Purpose.INDIVIDUAL], job)


def _of_room(room: Room, circuits: list[Circuit], job: Job) -> Outcome:
    """One of the laundry's receptacles is on it, whichever."""
    here = receptacles_in(job.survey, room)
    devices = [each.device for each in here.found]
    if any(each.knows("circuit") and each.circuit in {circuit.id for circuit in circuits} for each in devices):
        return Pass()
    unsaid = (*(each.where("circuit") for each in devices if not each.knows("circuit")), *here.unplaced)
    if unsaid:
        return Undetermined(unsaid[:_NAMED])
    return off_circuit(devices[0], WHAT, circuits, job) if devices else NotConcerned()


_NAMED = 5
