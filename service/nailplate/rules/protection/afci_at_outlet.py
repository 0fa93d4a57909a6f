"""Arc-fault protection by an outlet-type device at a circuit's first outlet, and the breaker that does without one."""

from nailplate.plan import Circuit, Device
from nailplate.plan.trade import METAL_AROUND
from nailplate.plan.words import BoxMaterial, CableType, DeviceKind, Protects
from nailplate.rulekit import Job, Judgement, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.protection import HomeRun, home_run
from nailplate.units import Measure, inches, shown, within


def at_outlet(circuit: Circuit, job: Job, interrupter: Device, why: str) -> Outcome:
    """An outlet-type interrupter serves at the first outlet only, and on conditions that a plan seldom shows."""
    if circuit.knows("extension"):
        return _at_outlet_of_old_circuit(circuit, job, interrupter, why)
    run, ways = home_run(job.survey, circuit), remedies(circuit, circuit.breaker.protects)
    said = f"Circuit {name_of(circuit)} supplies {why} and relies on the outlet-type AFCI {name_of(interrupter)}"
    if run is not None and not run.ends_at(interrupter):
        return Violation(f"{said}, which is not at its first outlet.", remedies=ways, related=(interrupter.pointer,))
    if run is not None and _is_in_metal(run):
        return Pass()
    if run is not None and _is_too_long(run, job):
        long = shown(inches(run.cable.length))
        message = f"{said}, but its home run of {long} is longer than such a device allows with {run.cable.size}."
        return Violation(
            message, inches(run.cable.length), _longest_run(run.cable.size, job), ways, related=(interrupter.pointer,)
        )
    readings = (
        Reading(
            "Breaker and device are listed to work together, the device is at the first outlet in a marked box, and the "
            "home run is unbroken and no longer than 50 ft (14 AWG) or 70 ft (12 AWG); or it is in metal or concrete.",
            "pass",
        ),
        Reading("One of these conditions is not met.", "violation"),
    )
    return Judgement(f"{said}; the plan does not show all that this rests on.", readings, related=(interrupter.pointer,))


def _at_outlet_of_old_circuit(circuit: Circuit, job: Job, interrupter: Device, why: str) -> Outcome:
    """Where a circuit is extended, an outlet-type device at its first receptacle will do, from 2026 at its first switch too."""
    switch_too, run = job.holds("afci_at_first_switch"), home_run(job.survey, circuit)
    able = {DeviceKind.RECEPTACLE, DeviceKind.SWITCH} if switch_too else {DeviceKind.RECEPTACLE}
    what = "receptacle or switch" if switch_too else "receptacle"
    said = f"Circuit {name_of(circuit)} is extended, supplies {why} and relies on the outlet-type AFCI {name_of(interrupter)}"
    if interrupter.kind not in able:
        message = f"{said}, which is no {what}."
        return Violation(message, remedies=remedies(circuit, circuit.breaker.protects), related=(interrupter.pointer,))
    if run is not None and run.ends_at(interrupter):
        return Pass()
    readings = (
        Reading(f"The device is at the first {what} of the circuit that stands already.", "pass"),
        Reading("It is not.", "violation"),
    )
    return Judgement(f"{said}; the plan does not show that it is the first {what}.", readings, related=(interrupter.pointer,))


def _is_in_metal(run: HomeRun) -> bool:
    return (
        run.cable.is_among(type=(CableType.MC, CableType.AC))
        and run.box is not None
        and run.box.is_(material=BoxMaterial.METAL)
    )


def _is_too_long(run: HomeRun, job: Job) -> bool:
    cable = run.cable
    if not cable.knows("type", "length", "size") or cable.type in METAL_AROUND:
        return False
    longest = _longest_run(cable.size, job)
    return longest is not None and not within(cable.length, longest.value)


def _longest_run(size: str, job: Job) -> Measure | None:
    """How far the device may be from an ordinary breaker; None for a size that the code does not name."""
    match size:
        case "14 AWG":
            return job.measure("home_run_to_afci_14")
        case "12 AWG":
            return job.measure("home_run_to_afci_12")
        case _:
            return None


def remedies(circuit: Circuit, protects: Protects) -> tuple[Remedy, ...]:
    """A breaker that sees arcs, and ground faults where the one there does."""
    new = Protects.DUAL if protects.gfci else Protects.AFCI
    kind = "dual-function (AFCI and GFCI)" if protects.gfci else "combination-type AFCI"
    both = "; a multiwire circuit takes a two-pole one for both halves" if circuit.knows("multiwire") else ""
    patch = (state(circuit.breaker, "protects", new.value),)
    return (Remedy(f"Protect circuit {name_of(circuit)} with a {kind} breaker{both}.", patch),)
