"""Two 20 A circuits or more serve the receptacles of kitchen and dining places, and nothing else.

Why: kettles, toasters and coffee makers run together; on one circuit, or one that feeds lights too, it trips or overheats.

Put it right: give kitchen, pantry, breakfast and dining places at least two 20 A circuits of their own, both at the counter.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Device, Plan, UnknownFact
from nailplate.plan.words import Connection, DeviceKind, Fuel, Mount, Purpose, Use
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
    rule,
    state,
)
from nailplate.survey import place_of, standing
from nailplate.units import count, reaches, within

SERVED = frozenset({Use.KITCHEN, Use.PANTRY, Use.BREAKFAST, Use.DINING})
RATING = 20.0
FEWEST = 2
HIGHEST = 66.0
"""5 1/2 ft: a receptacle higher up is none of 210.52(A)."""
COUNTER_HEIGHT = 34.0
"""Inches above the floor from which a kitchen's wall receptacle serves a counter; lower ones serve the floor."""
NO_OUTLETS = frozenset(
    {DeviceKind.SWITCH, DeviceKind.DIMMER, DeviceKind.SENSOR, DeviceKind.TIMER, DeviceKind.BLANK_GFCI, DeviceKind.DISCONNECT}
)


@rule(
    id="small-appliance-circuits",
    over=Plan,
    severity=Severity.CODE,
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
    if not any(Use.KITCHEN in room.uses for room in plan.rooms.values()):
        yield NotConcerned()
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    circuits = [each for each in plan.circuits.values() if each.knows("purpose") and each.purpose is Purpose.SMALL_APPLIANCE]
    yield _enough(plan, circuits)
    yield from (_rated(circuit) for circuit in circuits)
    for device in plan.devices.values():
        outcome = _settled(device, circuits, job)
        if outcome:
            yield outcome
    yield from _wired_in(plan, circuits)
    yield from _counter(plan, circuits, job)


def _enough(plan: Plan, circuits: list[Circuit]) -> Outcome:
    if len(circuits) >= FEWEST:
        return Pass(count(len(circuits)), count(FEWEST), facet="count")
    unknown = tuple(each.where("purpose") for each in plan.circuits.values() if not each.knows("purpose"))
    if len(circuits) + len(unknown) >= FEWEST:
        return Undetermined(unknown, facet="count")
    said = f"There are {len(circuits)} small-appliance circuits; a kitchen has at least {FEWEST} of 20 A."
    remedy = Remedy(
        "Add 20 A circuits for the kitchen and dining receptacles, and divide the counter's receptacles between them."
    )
    return Violation(said, count(len(circuits)), count(FEWEST), remedies=(remedy,), facet="count", at=plan.where("circuits"))


def _rated(circuit: Circuit) -> Outcome:
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return Undetermined((circuit.pointer / "breaker" / "rating",), facet=circuit.id, at=circuit.pointer)
    if circuit.breaker.rating == RATING:
        return Pass(facet=circuit.id)
    said = f"This small-appliance circuit has a {circuit.breaker.rating:g} A breaker; such a circuit is rated 20 A."
    return Violation(said, facet=circuit.id, at=circuit.pointer)


def _settled(device: Device, circuits: list[Circuit], job: Job) -> Outcome | None:
    """What is to be said of one device, if anything."""
    try:
        served = _serves_kitchen(device, job)
        if served and not device.knows("circuit"):
            return Undetermined((device.where("circuit"),), facet=device.id, at=device.pointer)
    except UnknownFact as unknown:
        return (
            Undetermined((unknown.pointer,), facet=device.id, at=device.pointer)
            if device.kind is DeviceKind.RECEPTACLE
            else None
        )
    on_them = device.knows("circuit") and any(device.circuit == circuit.id for circuit in circuits)
    if on_them and not served and device.kind not in NO_OUTLETS and not _gas_igniter(device, job):
        return _stranger(device)
    if served and not on_them and not _excepted(device, job):
        return _missing(device, circuits)
    return Pass(facet=device.id) if served else None


def _serves_kitchen(device: Device, job: Job) -> bool:
    """A receptacle of 210.52(A) or (C), or the refrigerator's, in one of the places served."""
    if (
        device.kind is not DeviceKind.RECEPTACLE
        or device.knows("part_of")
        or (device.knows("in_cabinet") and device.in_cabinet)
    ):
        return False
    room = standing(job.survey, device).room
    if room is None or not SERVED.intersection(room.uses):
        return False
    ordinary = device.voltage < 130 and device.rating in (15.0, RATING)
    return ordinary and within(place_of(job.survey, device).height, HIGHEST)


def _excepted(device: Device, job: Job) -> bool:
    """An appliance's own circuit, a gas range's igniter, or a switched receptacle on a general circuit outside the kitchen."""
    circuit = job.plan.circuits[device.circuit]
    if circuit.knows("purpose") and circuit.purpose is Purpose.INDIVIDUAL:
        return reaches(circuit.breaker.rating, 15.0)
    room = standing(job.survey, device).room
    switched = any(device.id in control.outlets for control in job.survey.controls_of.get(device.id, []))
    return _gas_igniter(device, job) or (switched and room is not None and Use.KITCHEN not in room.uses)


def _gas_igniter(device: Device, job: Job) -> bool:
    served = [job.plan.appliances[each] for each in (device.serves if device.knows("serves") else ())]
    return bool(served) and all(each.knows("fuel") and each.fuel in (Fuel.PROPANE, Fuel.NATURAL_GAS) for each in served)


def _stranger(device: Device | Appliance) -> Outcome:
    name = device.label if device.knows("label") else device.id
    said = f"{name} is on a small-appliance circuit, which serves only receptacles of kitchen, pantry, breakfast and dining places."
    remedy = Remedy("Feed it from another circuit.")
    return Violation(said, remedies=(remedy,), facet=device.id, at=device.pointer)


def _missing(device: Device, circuits: list[Circuit]) -> Outcome:
    name = device.label if device.knows("label") else device.id
    said = f"{name} is in a kitchen or dining place but not on a small-appliance circuit."
    patch = (state(device, "circuit", circuits[0].id),) if circuits else ()
    return Violation(
        said, remedies=(Remedy("Feed it from a small-appliance circuit.", patch),), facet=device.id, at=device.pointer
    )


def _wired_in(plan: Plan, circuits: list[Circuit]) -> Iterator[Outcome]:
    """Appliances that are fed straight from one of them, without an outlet of their own in the plan."""
    for appliance in plan.appliances.values():
        wired = appliance.knows("connection") and appliance.connection is Connection.HARD_WIRED
        alone = wired and not appliance.knows("outlet") and appliance.knows("circuit")
        if alone and any(appliance.circuit == circuit.id for circuit in circuits):
            yield _stranger(appliance)


def _counter(plan: Plan, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    found = [device for device in plan.devices.values() if _at_counter(device, circuits, job)]
    on = {device.circuit for device in found if device.knows("circuit")}
    if not found or len(on) >= FEWEST:
        yield Pass(facet="counter") if found else NotConcerned(facet="counter")
    elif len(found) == 1:
        yield Judgement(
            "The kitchen counter has one receptacle outlet, on one small-appliance circuit.",
            (
                Reading(
                    "Both small-appliance circuits must reach the counter, so it needs a second outlet or a two-circuit yoke.",
                    "violation",
                ),
                Reading("The spacing rule asks for one outlet here, and one outlet is on one circuit.", "pass"),
            ),
            facet="counter",
            at=found[0].pointer,
        )
    else:
        said = f"All {len(found)} receptacles of the kitchen counter are on one small-appliance circuit; at least two serve it."
        yield Violation(said, count(1), count(FEWEST), facet="counter", at=found[0].pointer)


def _at_counter(device: Device, circuits: list[Circuit], job: Job) -> bool:
    if (
        not device.knows("circuit")
        or all(device.circuit != circuit.id for circuit in circuits)
        or device.knows("dedicated_space")
    ):
        return False
    try:
        room = standing(job.survey, device).room
        high = (device.knows("mount") and device.mount is Mount.COUNTERTOP) or reaches(
            place_of(job.survey, device).height, COUNTER_HEIGHT
        )
        return device.kind is DeviceKind.RECEPTACLE and room is not None and Use.KITCHEN in room.uses and high
    except UnknownFact:
        return False
