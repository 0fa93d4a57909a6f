"""A dwelling's bathroom receptacles are on a 20 A circuit that is theirs.

Why: a hair dryer draws 12 A or more; on a circuit with lights or bedroom receptacles it trips it and leaves a wet room dark.

Fix: run a 20 A circuit of 12 AWG copper to the bathroom receptacles; one may serve several bathrooms, or one alone and what
else is in it.

Trap: in 2017 every receptacle of a bathroom is meant; from 2020 those within reach of a basin and at counters. A 20 A circuit of its own
for one receptacle, as for an electronic toilet seat, will do as well. A toilet room without a basin is no bathroom.

Does not judge: other outlets on this circuit are for `circuit-kept-apart` to tell, a basin without a receptacle for
`bath-receptacle`. Receptacles that serve a bathroom's counter from its wall, farther than 3 ft from a basin, are not told from
others here.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device, Plan, Room
from nailplate.plan.words import Provision, Purpose
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, each_of
from nailplate.rules.circuits.reserved import enough, off_circuit, rated, receptacles_told
from nailplate.survey.loads import bathroom_receptacles, bathrooms, circuits_for, serves_bathrooms

WHAT = "bathroom"


@rule(
    id="bathroom-circuit",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(3), 210.52(D)",
            seen=(2020, 2023),
            note="https://ecmweb.com/national-electrical-code/article/21246942/; "
            "https://www.jadelearning.com/blog/category/2020-nec/; a public copy of the 2023 code text",
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.DARKNESS),
    provisions=("bathroom_circuit_at_basins_only",),
    dwelling_only=True,
)
def bathroom_circuit(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Whether there is one, its rating, and whether the receptacles that belong on it are."""
    rooms = bathrooms(job.survey)
    if not rooms:
        washes = plan.basis.knows("provisions") and Provision.SANITATION in plan.basis.provisions
        said = "It has provisions for sanitation, but no bathroom is drawn."
        yield Undetermined((plan.where("rooms"),), said) if washes else NotConcerned()
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    circuits = circuits_for(job.survey, Purpose.BATHROOM)
    outcomes = list(each_of(rooms, _of_room, circuits, job))
    served = any(isinstance(each, Pass) for each in outcomes)
    meant = receptacles_told(rooms, lambda room: _receptacles(room, job))
    yield Pass(facet="count") if served else enough(plan, circuits, WHAT, job, meant)
    for circuit in circuits:
        yield rated(circuit, WHAT, job)
    if circuits or served:
        yield from outcomes


def _receptacles(room: Room, job: Job) -> Iterator[Device]:
    return (each.device for each in bathroom_receptacles(job.survey, room, job.edition))


def _of_room(room: Room, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    yield from each_of(_receptacles(room, job), _of_receptacle, circuits, job)


def _of_receptacle(device: Device, circuits: list[Circuit], job: Job) -> Outcome:
    served = serves_bathrooms(job.survey, job.plan.circuits[device.circuit])
    return Pass() if served else off_circuit(device, WHAT, circuits, job)
