"""No more than 3 percent of the voltage is lost on the way to a circuit's farthest outlet, and no more than 5 with the feeder.

Why: long thin wires make lights dim, motors hot and heaters slow, and waste what is paid for.

Fix: use the next larger wire for the home run, or bring the load nearer to the panel; enlarge the grounding conductor with it.

Trap: both figures stand in informational notes and are advice, not law. A breaker sized for the wire says nothing of its length.

Does not judge: the utility's conductors, the start of motors, and a feeder that carries a part of the house or whose length or
conductors are not stated: its share is left out of the sum. Whether the wire is large enough for its breaker is judged by
`conductor-protection`.

Everything is taken to run at once: appliances and luminaires by their nameplates, and 180 VA at each receptacle for general use, together
no more than half the circuit's rating (common practice). Lengths are those stated, or of the routes drawn, or estimated along framing;
the finding says which.
"""

from nailplate.calc.electrodes import circular_mils
from nailplate.calc.steps import CalculationError
from nailplate.calc.voltage_drop import ADVISED, Run, voltage_drop
from nailplate.plan import Circuit, Pointer, Supply, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.circuits.circuit_drop import CircuitDrop, circuit_drop
from nailplate.survey.loads import carries_whole_dwelling, has_one_leg, house_load
from nailplate.survey.names import name_of
from nailplate.survey.wiring import LengthFrom, cables_carrying, may_carry_too
from nailplate.units import Amperes, Measure, Unit, Volts, amperes, inches, shown, volts, within

_BRANCH, _WHOLE = ADVISED
_LINE, _LEG = Volts(240.0), Volts(120.0)


@rule(
    id="voltage-drop",
    over=Circuit,
    severity=Severity.ADVICE,
    subjects=(Subject.VOLTAGE_DROP,),
    limits=("voltage_drop_in_all",),
    cites={
        "nec-2017": Cite(
            "210.19(A) informational note 4, 215.2(A)(1) informational note 2",
            seen=(2017,),
            note="https://forums.mikeholt.com/threads/5-rule.4076",
        ),
        "nec-2020": Cite(
            "210.19(A) informational note 3, 215.2(A)(1) informational note 2", seen=(2020,), note="a public reprint"
        ),
        "nec-2023": Cite(
            "210.19 informational note, 215.2(A)(2) informational note 2",
            seen=(2023,),
            note="a public copy of the 2023 code text",
        ),
        "nec-2026": "210.19 informational note, 215.2(A)(2) informational note 2",
    },
    hazards=(Hazard.OVERHEATING,),
    changes={
        "nec-2020": "The note to 210.19(A) has number 3; its figures are the same.",
        "nec-2023": "One unnumbered note to 210.19 names both figures.",
    },
)
def voltage_drop_of_circuit(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit."""
    try:
        found = circuit_drop(job.survey, circuit, job.edition)
    except CalculationError as error:
        return Undetermined((circuit.pointer,), f"The drop on {name_of(circuit)} is not evaluated: {error}.")
    if found is None:
        return NotConcerned()
    if not within(found.percent, _BRANCH):
        unsaid = _perhaps_shared(circuit, job)
        return Undetermined(unsaid) if unsaid else _too_much(circuit, found, job)
    return _with_feeder(circuit, found, job)


def _perhaps_shared(circuit: Circuit, job: Job) -> tuple[Pointer, ...]:
    """Of cables that may carry the other half of a multiwire circuit, with which only one way counts, what is missing."""
    if not circuit.knows("multiwire"):
        return ()
    partner = job.plan.circuits[circuit.multiwire.partner]
    found = (may_carry_too(each, partner) for each in cables_carrying(job.survey, circuit.id))
    return tuple(filter(None, found))


def _with_feeder(circuit: Circuit, found: CircuitDrop, job: Job) -> Outcome:
    lost = _of_feeder(circuit, job)
    whole = found.percent + lost
    if within(whole, _WHOLE):
        return Pass(_percent(whole if lost else found.percent), _percent(_WHOLE if lost else _BRANCH))
    return Violation(
        f"{found.percent:.1f} % is lost on {name_of(circuit)} and {lost:.1f} % on its feeder; together {_WHOLE:g} % is advised.",
        _percent(whole),
        _percent(_WHOLE),
        (Remedy("Use larger conductors for the feeder or the circuit, and larger grounding conductors with them."),),
    )


def _of_feeder(circuit: Circuit, job: Job) -> float:
    """Percent lost on the feeder ahead; none where it says too little or carries a part of the house, of which the load is not known."""
    if not circuit.knows("panel") or not job.plan.panels[circuit.panel].knows("supply"):
        return 0.0
    supply = job.plan.supplies[job.plan.panels[circuit.panel].supply]
    if not supply.knows("length", "conductors") or not supply.conductors.knows("size", "material"):
        return 0.0
    try:
        run = _feeder_run(supply, job) if carries_whole_dwelling(job.survey, supply) else None
        return voltage_drop(run, job.edition).percent if run else 0.0
    except (
        UnknownFact,
        CalculationError,
    ):  # unknown: the feeder is left out, and its facts are asked for by the rules on loads
        return 0.0


def _feeder_run(supply: Supply, job: Job) -> Run:
    found, alone = house_load(job.survey, job.edition).standard, has_one_leg(supply)
    return Run(
        voltage=_LEG if alone else _LINE,
        current=Amperes(found.total / _LEG) if alone else found.current,
        length=supply.length,
        size=supply.conductors.size,
        material=supply.conductors.material,
    )


def _too_much(circuit: Circuit, found: CircuitDrop, job: Job) -> Violation:
    about = {LengthFrom.ESTIMATED: "an estimated ", LengthFrom.DERIVED: "a derived "}.get(found.length.source, "")
    message = (
        f"{shown(volts(round(found.volts, 1)))}, {found.percent:.1f} % of {shown(volts(circuit.voltage))}, is lost on "
        f"{name_of(circuit)} on the way to {name_of(found.outlet)}, {about}{shown(inches(round(found.length.inches)))} of cable, "
        f"with {shown(amperes(round(found.current, 1)))} on the circuit; {_BRANCH:g} % is advised."
    )
    return Violation(
        message, _percent(found.percent), _percent(_BRANCH), (_larger(circuit, found, job),), related=(found.outlet.pointer,)
    )


def _larger(circuit: Circuit, found: CircuitDrop, job: Job) -> Remedy:
    size = circuit.conductor.size if circuit.knows("conductor") and circuit.conductor.knows("size") else None
    if size is None:
        return Remedy("Use larger wire for the home run.")
    wanted = circular_mils(size, job.edition) * found.percent / _BRANCH
    rows = job.edition.conductors
    larger = next((each for each in rows.rising(rows.area) if rows.area[each] >= wanted), None)
    return Remedy(f"Use {larger} all the way, or shorten the run." if larger else "Shorten the run.")


def _percent(value: float) -> Measure:
    return Measure(round(value, 2), Unit.PERCENT)
