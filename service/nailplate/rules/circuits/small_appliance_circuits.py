"""Two 20 A circuits or more serve the receptacles of kitchen and dining places, and nothing else.

Why: kettles, toasters and coffee makers run together; on one circuit, or one that feeds lights too, it trips or overheats.

Fix: give kitchen, pantry, breakfast and dining places at least two 20 A circuits of their own, both at the counter.

Does not judge: where the receptacles are (`wall-counter`, `island-peninsula`), their protection (`gfci-locations`,
`afci-rooms`) and the wire (`conductor-protection`). In a room that is kitchen and living room at once, which receptacles belong
to the kitchen is left to the authority having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.plan import ROOT, Cable, Circuit, Plan
from nailplate.plan.supplies import Conductors
from nailplate.plan.trade import FOOD_ROOMS
from nailplate.plan.words import DeviceKind, Provision, Purpose, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, each_of, state
from nailplate.rules.circuits.kitchen_counter import counter_fed
from nailplate.rules.circuits.kitchen_outlets import outlet_settled, wired_in, zones
from nailplate.rules.circuits.kitchen_receptacles import room_told
from nailplate.rules.circuits.reserved import rated
from nailplate.survey.names import name_of
from nailplate.terms import Material
from nailplate.units import count, reaches, shown, written


@rule(
    id="small-appliance-circuits",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(1), 210.52(B)", seen=(2017, 2023), note="trade answers and a public copy of the 2023 code text"
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    dwelling_only=True,
)
def small_appliance_circuits(plan: Plan, job: Job) -> Iterator[Outcome]:
    """How many, of what rating, what is on them that should not be, what is not on them that should be, and the counter."""
    if not any(FOOD_ROOMS.intersection(room.uses) for room in plan.rooms.values()):
        cooks = plan.basis.knows("provisions") and Provision.COOKING in plan.basis.provisions
        undrawn = Undetermined((ROOT / "rooms",), "It has provisions for cooking, but no kitchen is drawn.")
        yield undrawn if cooks else NotConcerned()
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    circuits = [each for each in plan.circuits.values() if each.is_(purpose=Purpose.SMALL_APPLIANCE)]
    yield _enough(plan, circuits, job)
    for circuit in circuits:
        yield rated(circuit, "small-appliance", job, _to_rating)
        yield from _one_kitchen(circuit, job)
    yield from each_of(plan.devices.values(), outlet_settled, circuits, job)
    yield from zones(plan, circuits, job)
    yield from wired_in(plan, circuits)
    for room in plan.rooms.values():
        if Use.KITCHEN in room.uses:
            yield counter_fed(room, circuits, job)


# The circuits themselves


def _enough(plan: Plan, circuits: list[Circuit], job: Job) -> Outcome:
    least = job.measure("small_circuits_for_kitchen")
    if len(circuits) >= least.value:
        return Pass(count(len(circuits)), least, facet="count")
    unknown = tuple(each.where("purpose") for each in plan.circuits.values() if not each.knows("purpose"))
    if len(circuits) + len(unknown) >= least.value:
        return Undetermined(unknown, facet="count")
    wanted = f"{least.value:g} of {shown(job.measure('reserved_circuit_rating'))}"
    said = f"Small-appliance circuits: {len(circuits)}; a kitchen has at least {wanted}."
    words = "Add 20 A circuits for the kitchen and dining receptacles, and divide the counter's receptacles between them."
    return Violation(said, count(len(circuits)), least, (Remedy(words),), facet="count", at=plan.where("circuits"))


def _to_rating(circuit: Circuit, job: Job) -> tuple[Remedy, ...]:
    """A larger breaker is proposed only where all the wire is known to bear it."""
    rating = job.measure("reserved_circuit_rating")
    change = (state(circuit.breaker, "rating", written(rating)),)
    if reaches(circuit.breaker.rating, rating.value):
        return (Remedy(f"Use a {shown(rating)} breaker.", change),)
    if _wire_bears_it(circuit, job):
        return (Remedy(f"Use a {shown(rating)} breaker; the wire is large enough for it.", change),)
    wire = job.size("kitchen_circuit_wire")
    return (Remedy(f"Pull {wire} copper or larger all the way, and use a {shown(rating)} breaker."),)


def _wire_bears_it(circuit: Circuit, job: Job) -> bool:
    cables = job.survey.cables_on_circuit.get(circuit.id, [])
    wires: list[Cable | Conductors] = [*cables, *([circuit.conductor] if circuit.knows("conductor") else [])]
    larger = job.edition.conductors.larger
    return bool(wires) and all(
        each.knows("size", "material")
        and each.material is Material.COPPER
        and not larger(job.size("kitchen_circuit_wire"), each.size)
        for each in wires
    )


def _one_kitchen(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.52(B)(3): no such circuit serves more than one kitchen."""
    kitchens = []
    for device in job.survey.devices_on_circuit.get(circuit.id, []):
        room = room_told(device, job)
        if device.kind is DeviceKind.RECEPTACLE and room is not None and Use.KITCHEN in room.uses:
            kitchens.append(room)
    each = list(dict.fromkeys(kitchens))
    if len(each) > 1:
        names = " and ".join(name_of(room) for room in each)
        said = f"{name_of(circuit)}, a small-appliance circuit, serves {len(each)} kitchens, {names}; it serves one."
        remedies = (Remedy("Give each kitchen small-appliance circuits of its own."),)
        yield Violation(said, count(len(each)), count(1), remedies=remedies, facet=f"{circuit.id} kitchens", at=circuit.pointer)
