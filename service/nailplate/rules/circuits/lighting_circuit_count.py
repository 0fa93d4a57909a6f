"""There are enough general circuits for the dwelling's lights and receptacles, 3 VA for each square foot.

Why: too few circuits for a house's lights and receptacles are overloaded from the first day, whatever is plugged in.

Fix: add general circuits until their ratings reach the load; two are good practice in any house, so that one trip does not
leave it dark.

Trap: the count takes the whole rating of a circuit, not 80 percent of it; a dwelling's lighting is not taken as continuous. In 2026 the
service counts 2 VA for each square foot, the circuits still 3.

Does not judge: small-appliance, laundry, bathroom, garage, individual and alarm circuits, and circuits of 240 V: they are not
counted here, and rules of their own judge them. Whether the outlets are spread evenly over the general circuits is not judged;
the load of each is, by `permissible-load`.
"""

from nailplate.calc.loads.general import lighting_circuits
from nailplate.calc.loads.legs import LEG_VOLTAGE
from nailplate.plan import Circuit, Plan, Pointer
from nailplate.plan.trade import LINE_TO_NEUTRAL
from nailplate.plan.words import Purpose
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.space import counted_area
from nailplate.units import Amperes, Measure, Unit, amperes, reaches, shown, volt_amperes, within

RATING = Amperes(15.0)
"""Circuits that a remedy adds (common practice)."""
_SQUARE_FOOT = 144.0
_NAMED = 5


@rule(
    id="lighting-circuit-count",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(A), Table 220.12", note="https://www.electricianmath.com/neccalculations/minimumcircuits.htm (the count)"
        ),
        "nec-2020": Cite(
            "210.11(A), 220.14(J)", note="the count: https://www.electricianmath.com/neccalculations/minimumcircuits.htm"
        ),
        "nec-2023": Cite("210.11(A), 220.41", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": Cite(
            "210.11(A), 120.13",
            seen=(2026,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1844",
        ),
    },
    hazards=(Hazard.OVERLOAD, Hazard.DARKNESS),
    dwelling_only=True,
    changes={
        "nec-2026": "The service counts 2 VA for each square foot; the number of circuits is still worked out with 3.",
    },
)
def lighting_circuit_count(plan: Plan, job: Job) -> Outcome:
    """The ratings of all general circuits together against the area."""
    if not plan.circuits:
        return Undetermined((plan.where("circuits"),), "No circuit is drawn.")
    area = counted_area(job.survey, garages=job.holds("garages_count")).area / _SQUARE_FOOT
    load = area * job.edition.dwelling_load.unit_load.circuits
    sure = sum(_volt_amperes(each) for each in plan.circuits.values() if _is_general(each) and _is_rated(each))
    unsaid = _unsaid(plan)
    if reaches(sure, load):
        return Pass(volt_amperes(sure), volt_amperes(load))
    return Undetermined(unsaid) if unsaid else _too_few(plan, area, sure, load, job)


def _is_general(circuit: Circuit) -> bool:
    line = not circuit.knows("voltage") or within(circuit.voltage, LINE_TO_NEUTRAL)
    return circuit.is_(purpose=Purpose.GENERAL) and line


def _is_rated(circuit: Circuit) -> bool:
    return circuit.knows("breaker") and circuit.breaker.knows("rating")


def _volt_amperes(circuit: Circuit) -> float:
    return circuit.breaker.rating * LEG_VOLTAGE


def _unsaid(plan: Plan) -> tuple[Pointer, ...]:
    purposes = [each.where("purpose") for each in plan.circuits.values() if not each.knows("purpose")]
    ratings = [
        each.pointer / "breaker" / "rating" for each in plan.circuits.values() if _is_general(each) and not _is_rated(each)
    ]
    return tuple((*purposes, *ratings)[:_NAMED])


def _too_few(plan: Plan, area: float, sure: float, load: float, job: Job) -> Violation:
    needed = lighting_circuits(area, RATING, job.edition)
    more = lighting_circuits((load - sure) / job.edition.dwelling_load.unit_load.circuits, RATING, job.edition)
    square_feet = shown(Measure(round(area), Unit.SQUARE_FOOT))
    return Violation(
        f"{square_feet} take {shown(volt_amperes(round(load)))} of general lighting and receptacles, {_circuits(needed)}; the "
        f"general circuits shown give {shown(volt_amperes(sure))}.",
        volt_amperes(sure),
        volt_amperes(load),
        (Remedy(f"Add {_circuits(more)} for general lighting, and spread the outlets evenly."),),
        at=plan.where("circuits"),
    )


def _circuits(number: int) -> str:
    rated = shown(amperes(RATING))
    return f"one {rated} circuit" if number == 1 else f"{number} circuits of {rated} each"
