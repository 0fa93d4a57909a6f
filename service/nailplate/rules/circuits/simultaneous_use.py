"""What is likely to run at the same time does not trip its circuit, or a small supply.

Why: a kettle and a microwave oven on one circuit trip it every other morning; on a 30 A cord the whole house goes dark.

Fix: plug them into circuits on opposite legs, or give one of them a circuit of its own.

Trap: two small-appliance circuits satisfy the code and do not help where kettle, toaster and microwave oven are all plugged into one. A
breaker holds a small overload for a long time, until it is warm.

Does not judge: what the plan does not draw, lights and tools, how long appliances run, and supplies over 50 A. The code's own
limits are judged by `permissible-load` and `continuous-load`.

Advice, not law: the code requires circuits and leaves their use to people. Judged are appliances that the plan draws; on supplies of up
to 50 A refrigerators, air conditioning, water heating, fixed heat and cooking are counted with them, all at once.
"""

from collections.abc import Iterator, Mapping

from nailplate.plan import Appliance, Circuit, Plan, Supply, UnknownFact
from nailplate.plan.trade import COOLING, COUNTER_HEATERS, HEAT_MAKERS
from nailplate.plan.words import ApplianceKind, Leg, Purpose, SupplyVoltage
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Line, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey import Survey
from nailplate.survey.loads import CircuitLoad, Trade, circuit_id_of, circuits_behind, circuits_for, fed_by
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, shown, within

ALWAYS_ON = frozenset({ApplianceKind.REFRIGERATOR, ApplianceKind.FREEZER})
LARGE = frozenset({Trade.WATER, Trade.HEAT, Trade.COOKING})
SMALL_SUPPLY = Amperes(50.0)
_PERCENT = 100.0


@rule(
    id="simultaneous-use",
    over=Plan,
    severity=Severity.ADVICE,
    subjects=(Subject.BRANCH_LOADS,),
    cites={
        "nec-2017": Cite(
            "210.23",
            note="no section requires it; kettle and microwave: https://www.rvtravel.com/rv-electricity-jam-appliance-power-update, other "
            "currents: https://www.doityourselfrv.com/120-volt-rv-appliances-current-draw; which run together is common practice",
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.DARKNESS),
)
def simultaneous_use(plan: Plan, job: Job) -> Iterator[Outcome]:
    """One outcome for each circuit that such an appliance is on, and each small supply."""
    drawn = [each for each in plan.appliances.values() if each.kind in HEAT_MAKERS]
    if not drawn:
        yield NotConcerned()
        return
    for appliance in drawn:
        if circuit_id_of(job.survey, appliance) is None:
            yield Undetermined((appliance.where("circuit"),), facet=appliance.id, at=appliance.pointer)
    for circuit_id in dict.fromkeys(circuit_id_of(job.survey, each) for each in drawn):
        if circuit_id is not None:
            yield _settled(plan.circuits[circuit_id], job)
    for supply in plan.supplies.values():
        yield _of_supply(supply, job)


# One circuit


def _settled(circuit: Circuit, job: Job) -> Outcome:
    try:
        return _of_circuit(circuit, job)
    except UnknownFact as missing:
        return Undetermined((missing.pointer,), facet=circuit.id, at=circuit.pointer)


def _of_circuit(circuit: Circuit, job: Job) -> Outcome:
    loads = _at_once(job.survey, circuit)
    unknown = tuple(need for each in loads for need in each.needs if each.least < each.most)
    drawn, rating = sum(each.least for each in loads), circuit.breaker.rating
    if not within(drawn, rating):
        return _too_much(circuit, loads, drawn, job)
    if unknown:
        return Undetermined(unknown, facet=circuit.id, at=circuit.pointer)
    return Pass(amperes(drawn), amperes(rating), circuit.id)


def _at_once(survey: Survey, circuit: Circuit) -> list[CircuitLoad]:
    return [each for each in fed_by(survey, circuit).loads if _is(each, HEAT_MAKERS | ALWAYS_ON)]


def _is(load: CircuitLoad, kinds: frozenset[ApplianceKind]) -> bool:
    return isinstance(load.part, Appliance) and load.part.kind in kinds


def _too_much(circuit: Circuit, loads: list[CircuitLoad], drawn: float, job: Job) -> Violation:
    rating = circuit.breaker.rating
    return Violation(
        f"{_listed(loads)} at once draw {shown(amperes(drawn))} on {name_of(circuit)}, {_PERCENT * drawn / rating:.0f} % of its "
        f"{shown(amperes(rating))}.",
        amperes(drawn),
        amperes(rating),
        _elsewhere(circuit, loads, drawn, job),
        _lines(loads),
        circuit.id,
        circuit.pointer,
        tuple(each.part.pointer for each in loads),
    )


def _elsewhere(circuit: Circuit, loads: list[CircuitLoad], drawn: float, job: Job) -> tuple[Remedy, ...]:
    """The least load that would help, on another small-appliance circuit that has room for it."""
    for each in sorted(loads, key=lambda load: load.least):
        if _is(each, COUNTER_HEATERS) and within(drawn - each.least, circuit.breaker.rating):
            other = _with_room(circuit, each.least, job)
            if other is not None:
                part = each.part
                patch = () if part.knows("outlet") else (state(part, "circuit", other.id),)
                return (Remedy(f"Plug {name_of(part)} into a receptacle of {name_of(other)}.", patch),)
    return (Remedy("Plug one of them into a receptacle of another circuit, or give it a circuit of its own."),)


def _with_room(circuit: Circuit, amount: float, job: Job) -> Circuit | None:
    """Another small-appliance circuit, the one with most to spare, if that is enough."""
    for other, spare in job.survey.once(_by_spare):
        if other is not circuit:
            return other if within(amount, spare) else None
    return None


def _by_spare(survey: Survey) -> list[tuple[Circuit, float]]:
    """Small-appliance circuits with what is left of each beside what is taken to run, the most first."""
    found = []
    for circuit in circuits_for(survey, Purpose.SMALL_APPLIANCE):
        if circuit.knows("breaker") and circuit.breaker.knows("rating"):
            taken = sum(each.least for each in _at_once(survey, circuit))
            found.append((circuit, circuit.breaker.rating - taken))
    return sorted(found, key=lambda each: -each[1])


# A small supply


def _of_supply(supply: Supply, job: Job) -> Outcome:
    if not supply.knows("rating") or not within(supply.rating, SMALL_SUPPLY):
        return NotConcerned(facet=supply.id)
    try:
        by_leg = _by_leg(supply, job)
    except UnknownFact as missing:
        return Undetermined((missing.pointer,), facet=supply.id, at=supply.pointer)
    loads = max(by_leg.values(), key=_amperes)
    drawn = _amperes(loads)
    if within(drawn, supply.rating):
        return Pass(amperes(drawn), amperes(supply.rating), supply.id)
    leg = "" if len(by_leg) == 1 else " on one leg"
    return Violation(
        f"{_listed(loads)} at once draw {shown(amperes(drawn))}{leg} of {name_of(supply)}, {_PERCENT * drawn / supply.rating:.0f} % of "
        f"its {shown(amperes(supply.rating))}.",
        amperes(drawn),
        amperes(supply.rating),
        (
            Remedy(
                "Heat water or rooms with another fuel, put the large loads on opposite legs, or let a controller shed some."
            ),
        ),
        _lines(loads),
        supply.id,
        supply.pointer,
    )


def _by_leg(supply: Supply, job: Job) -> Mapping[Leg, list[CircuitLoad]]:
    """The loads of each leg; on a 120 V supply all are on one."""
    found: dict[Leg, list[CircuitLoad]] = {Leg.A: []}
    one = supply.voltage is SupplyVoltage.V120
    for circuit in circuits_behind(job.survey, supply):
        loads = [each for each in fed_by(job.survey, circuit).loads if _counts(each)]
        for leg in ((Leg.A,) if one else circuit.legs) if loads else ():
            found.setdefault(leg, []).extend(loads)
    return found


def _counts(load: CircuitLoad) -> bool:
    return load.trade in LARGE or _is(load, HEAT_MAKERS | ALWAYS_ON | COOLING)


def _amperes(loads: list[CircuitLoad]) -> float:
    return sum(each.least for each in loads)


def _listed(loads: list[CircuitLoad]) -> str:
    names = [f"{name_of(each.part)} ({shown(amperes(each.least))})" for each in loads]
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]


def _lines(loads: list[CircuitLoad]) -> tuple[Line, ...]:
    return tuple(Line(name_of(each.part), 1, amperes(each.least), amperes(each.least), "nameplate") for each in loads)
