"""A motor's or air conditioner's circuit is rated for what its nameplate asks at least, and no more than it allows.

Why: a compressor starts with several times its running current; a breaker under the nameplate's least opens, one over its most lets a
stalled motor burn.

Fix: go by the nameplate: wire for its minimum circuit ampacity, a breaker between that and its maximum.

Trap: the breaker of a listed condenser may be larger than its wire would have elsewhere; and 12 AWG on 25 A is right where the nameplate
says so. A bare motor counts by its horsepower in Table 430.248, a listed appliance by its amperes. A room air conditioner on a cord takes
no more than 80 percent of its circuit, and half of one that it shares.

Does not judge: Where a machine has its circuit to itself, its wire against the nameplate's least and its breaker against the
most are `conductor-protection`'s matter, and not told twice. Fans of rooms and hoods are too small to be looked at.
"""

from collections.abc import Iterator

from nailplate.calc.motors import full_load_current
from nailplate.calc.overcurrent import next_standard, rating_not_over
from nailplate.calc.steps import CalculationError
from nailplate.plan import Appliance, Circuit
from nailplate.plan.trade import COOLING
from nailplate.plan.words import ApplianceKind, Connection
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.circuits.wire_bears import Asked, wire_outcome
from nailplate.survey.loads import Trade, amperes_drawn, circuit_id_of, fed_by, trade_of
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, reaches, shown, within

_LISTED = frozenset({ApplianceKind.DISPOSER, ApplianceKind.COMPACTOR, ApplianceKind.GARAGE_DOOR_OPENER})
"""What is sold as a listed appliance alone (common practice)."""


@rule(
    id="motor-circuit",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "430.6(A)(1), 430.22, 430.52, 440.4, 440.62",
            seen=(2017, 2023),
            note="430.6: https://forums.mikeholt.com/threads/air-handling-unit-breakers.2576423",
        )
    },
    hazards=(Hazard.OVERHEATING, Hazard.OVERLOAD, Hazard.FIRE),
)
def motor_circuit(appliance: Appliance, job: Job) -> Iterator[Outcome]:
    """By the two figures of the nameplate, or by its amperes; horsepower alone leaves it open."""
    if trade_of(appliance) is not Trade.MOTOR:
        yield NotConcerned()
        return
    circuit = job.plan.circuits[circuit_id_of(job.survey, appliance) or appliance.circuit]
    if appliance.kind in COOLING and appliance.is_(connection=Connection.CORD):
        yield _room_unit(appliance, circuit, job)
    elif appliance.kind in COOLING or appliance.knows("minimum_circuit", "max_overcurrent"):
        yield from _by_nameplate(appliance, circuit, job)
    else:
        yield from _by_current(appliance, circuit, job)


# Two figures on the nameplate


def _by_nameplate(machine: Appliance, circuit: Circuit, job: Job) -> Iterator[Outcome]:
    unsaid = tuple(machine.where(name) for name in ("minimum_circuit", "max_overcurrent") if not machine.knows(name))
    if unsaid:
        yield Undetermined(unsaid, f"The nameplate of {name_of(machine)} gives both figures.")
        return
    rating, least = circuit.breaker.rating, machine.minimum_circuit
    yield Pass(amperes(rating), amperes(least), "least") if reaches(rating, least) else _too_small(machine, circuit, least, job)
    if fed_by(job.survey, circuit).outlets > 1:
        yield _largest(machine, circuit, machine.max_overcurrent, job)


def _too_small(machine: Appliance, circuit: Circuit, least: float, job: Job) -> Violation:
    rating = circuit.breaker.rating
    wanted = next_standard(Amperes(least), job.edition.overcurrent)
    most = machine.max_overcurrent if machine.knows("max_overcurrent") else wanted
    fits = wanted is not None and most is not None and within(wanted, most)
    return Violation(
        f"{name_of(machine)} requires a circuit of at least {shown(amperes(least))}; {name_of(circuit)} has a {shown(amperes(rating))} "
        "breaker.",
        amperes(rating),
        amperes(least),
        on_breaker(circuit, wanted, job.survey, least) if fits and wanted else (),
        facet="least",
        related=(circuit.pointer,),
    )


def _largest(machine: Appliance, circuit: Circuit, most: Amperes, job: Job) -> Outcome:
    rating = circuit.breaker.rating
    if within(rating, most):
        return Pass(amperes(rating), amperes(most), "most")
    allowed = rating_not_over(most, job.edition.overcurrent)
    return Violation(
        f"{name_of(machine)} is on a {shown(amperes(rating))} breaker; {shown(amperes(most))} is the most that it may have.",
        amperes(rating),
        amperes(most),
        on_breaker(circuit, allowed, job.survey) if allowed else (),
        facet="most",
        related=(circuit.pointer,),
    )


# One figure


def _by_current(motor: Appliance, circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """By horsepower or by the nameplate's amperes; where it is not said which, both are tried."""
    try:
        ways = [list(_of_current(motor, circuit, drawn, job)) for drawn in _currents(motor, circuit, job)]
    except CalculationError as error:
        yield Undetermined((motor.where("current"),), f"The current of {name_of(motor)} is not evaluated: {error}.", "least")
        return
    yield from ways[0] if [type(each) for each in ways[0]] == [type(each) for each in ways[-1]] else [_either(motor)]


def _either(motor: Appliance) -> Undetermined:
    said = "By horsepower and by the amperes of the nameplate the answer differs; which counts is not said (430.6(A)(1))."
    return Undetermined((motor.where("listed_appliance"),), f"{name_of(motor)}: {said}", "least")


def _currents(motor: Appliance, circuit: Circuit, job: Job) -> tuple[float, ...]:
    """430.6(A)(1): Table 430.248 by horsepower; the nameplate's amperes for a listed appliance that is marked with both."""
    if not motor.knows("hp"):
        return (amperes_drawn(motor),)
    listed = motor.listed_appliance if motor.knows("listed_appliance") else motor.kind in _LISTED or None
    if listed and motor.knows("current"):
        return (motor.current,)
    volts = motor.volts if motor.knows("volts") else circuit.voltage
    by_table = full_load_current(motor.hp, volts, job.edition)
    both = motor.knows("current") and listed is None
    return (by_table, motor.current) if both else (by_table,)


def _of_current(motor: Appliance, circuit: Circuit, drawn: float, job: Job) -> Iterator[Outcome]:
    least = drawn * job.share("motor_conductor_share")
    rating = circuit.breaker.rating
    yield Pass(amperes(rating), amperes(least), "least") if reaches(rating, least) else _too_small(motor, circuit, least, job)
    if reaches(rating, least):
        want = Asked(least, least)
        yield wire_outcome(circuit, want, f"{name_of(motor)}, 125 % of its current,", job, (circuit.pointer,))
    if not within(rating, job.amperes("motors_on_general_circuits")):
        limit = next_standard(Amperes(drawn * job.share("motor_breaker_share")), job.edition.overcurrent)
        yield _largest(motor, circuit, limit, job) if limit is not None else NotConcerned(facet="most")


# Room air conditioners


def _room_unit(unit: Appliance, circuit: Circuit, job: Job) -> Outcome:
    drawn, rating = amperes_drawn(unit), circuit.breaker.rating
    alone = fed_by(job.survey, circuit).outlets == 1
    limit = Amperes(rating * job.share("room_unit_alone_share" if alone else "room_unit_shared_share"))
    if within(drawn, limit):
        return Pass(amperes(drawn), amperes(limit), "cord")
    share = "80 percent of a circuit of its own" if alone else "half of a circuit that it shares"
    words = "Give it a circuit of its own." if not alone else "Give it a larger circuit of its own, if its plug suits that."
    return Violation(
        f"{name_of(unit)} draws {shown(amperes(drawn))} on {name_of(circuit)}; a room air conditioner on a cord may take {share}, "
        f"{shown(amperes(limit))}.",
        amperes(drawn),
        amperes(limit),
        (Remedy(words),),
        facet="cord",
        related=(circuit.pointer,),
    )
