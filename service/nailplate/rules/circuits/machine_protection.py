"""Motors, cooling equipment and welders go by their nameplates: their breaker may be larger than their wire's ampacity (240.4(G))."""

from nailplate.calc.overcurrent import rating_not_over
from nailplate.plan import Appliance, Cable, Circuit, Device
from nailplate.plan.trade import COOLING, LIGHTS_AND_FANS, MOTOR_DRIVEN
from nailplate.plan.words import ApplianceKind, DeviceKind
from nailplate.remedies.rewired import larger_size, resized
from nailplate.rulekit import Job, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.wiring import MOST_NAMED, Wire, bearing, has_ampacity, open_facts, under_least
from nailplate.units import amperes, reaches, shown, within, written

OUTLETS_FOR_OTHERS = LIGHTS_AND_FANS | {DeviceKind.RECEPTACLE}


def machine_on(circuit: Circuit, job: Job) -> Appliance | None:
    """The motor, cooling machine or welder that has the circuit to itself."""
    appliances = job.survey.appliances_on_circuit.get(circuit.id, [])
    if len(appliances) != 1 or any(
        _serves_others(each, appliances[0]) for each in job.survey.devices_on_circuit.get(circuit.id, [])
    ):
        return None
    machine = appliances[0]
    driven = machine.knows("hp") or machine.kind in MOTOR_DRIVEN | COOLING or machine.is_(listed_hvac=True)
    return machine if driven or machine.kind is ApplianceKind.WELDER else None


def _serves_others(device: Device, machine: Appliance) -> bool:
    own = device.knows("serves") and machine.id in device.serves
    own = own or (device.knows("dedicated_space") and device.dedicated_space == machine.id)
    own = own or (machine.knows("outlet") and machine.outlet == device.id)
    return device.kind in OUTLETS_FOR_OTHERS and not own


def goes_by_nameplate(machine: Appliance) -> bool:
    """Whether the nameplate's figures are known, and govern: listed cooling or heating equipment, a motor, or a welder."""
    governed = machine.knows("hp") or machine.is_(listed_hvac=True) or machine.kind is ApplianceKind.WELDER
    return governed and machine.knows("minimum_circuit", "max_overcurrent")


def unless_a_machine(outcome: Outcome, machine: Appliance | None) -> Outcome:
    """A machine's breaker may be larger than its wire's ampacity, by how much its nameplate says."""
    if machine is None or not isinstance(outcome, Violation):
        return outcome
    if machine.is_(listed_hvac=False) and not machine.knows("hp"):
        return outcome
    by_figures = machine.knows("hp") or machine.kind is ApplianceKind.WELDER
    names = ["minimum_circuit", "max_overcurrent", *(() if by_figures else ("listed_hvac",))]
    said = (
        "A motor's, cooling machine's or welder's breaker may be larger than the ampacity of its wire (240.4(G)); the nameplate tells by "
        "how much."
    )
    return Undetermined(
        tuple(machine.where(name) for name in names if not machine.knows(name)), said, facet=outcome.facet, at=outcome.at
    )


def by_nameplate(circuit: Circuit, machine: Appliance, cables: list[Cable], job: Job) -> Outcome:
    """Every wire of the circuit bears what the nameplate asks for, and the breaker is no larger than it allows."""
    wires = [Wire(circuit, cable, cable.size, cable, job.survey, job.edition) for cable in cables]
    if not cables or (circuit.knows("conductor") and circuit.conductor.knows("size")):
        wires.append(Wire(circuit, None, circuit.conductor.size, circuit, job.survey, job.edition))
    wires = [wire for wire in wires if not under_least(wire)]
    if not wires:
        return NotConcerned()
    unfit = next((wire for wire in wires if not has_ampacity(wire)), None)
    if unfit is not None:
        return no_ampacity(unfit)
    best, worst = (min(bearing(wire, strict=True, worst=worst).ampacity for wire in wires) for worst in (False, True))
    rating, most, least = circuit.breaker.rating, machine.max_overcurrent, machine.minimum_circuit
    if within(rating, most) and reaches(worst, least):
        return Pass(amperes(rating), amperes(most))
    if within(rating, most) and reaches(best, least):
        return Undetermined(tuple(dict.fromkeys(each for wire in wires for each in open_facts(wire)))[:MOST_NAMED])
    said = (
        f"The nameplate requires a circuit of at least {shown(amperes(least))} and a breaker of at most {shown(amperes(most))}; "
        f"the wire has an ampacity of {shown(amperes(best))} and the breaker is {shown(amperes(rating))}."
    )
    measured, limit = (best, least) if within(rating, most) else (rating, most)
    return Violation(said, amperes(measured), amperes(limit), remedies=_to_the_nameplate(machine, wires))


def _to_the_nameplate(machine: Appliance, wires: list[Wire]) -> tuple[Remedy, ...]:
    circuit, edition = wires[0].circuit, wires[0].edition
    words, patch, held = [], [], True
    if not within(circuit.breaker.rating, machine.max_overcurrent):
        rating = rating_not_over(machine.max_overcurrent, edition.overcurrent)
        if rating is None:
            return ()
        words.append(f"a {shown(amperes(rating))} breaker")
        patch.append(state(circuit.breaker, "rating", written(amperes(rating))))
    for wire in wires:
        if not reaches(bearing(wire, strict=True, worst=True).ampacity, machine.minimum_circuit):
            size = larger_size(wire, machine.minimum_circuit)
            if size is None:
                return ()
            words.append(f"{size} wire")
            wired = resized((wire,), size)
            held = held and bool(wired)
            patch += wired
    return (Remedy(f"By the nameplate, use {' and '.join(dict.fromkeys(words))}.", tuple(patch) if held else ()),)


def no_ampacity(wire: Wire) -> Outcome:
    """Wire under the least of any circuit is ``smallest-conductor``'s to tell of; larger than the tables it is not judged."""
    if under_least(wire):
        return NotConcerned(wire.facet)
    said = f"The ampacity of {wire.size} wire stands in no table here; its breaker is not judged."
    return Undetermined((), said, facet=wire.facet, at=wire.at.pointer)
