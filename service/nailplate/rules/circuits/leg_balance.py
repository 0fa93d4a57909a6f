"""The loads of a panel are spread over both of its legs.

Why: a leg that carries much more than the other trips a small main while the other has room, and loads the neutral.

Fix: move 120 V circuits between the legs until both carry about the same, the large ones first: kettle and microwave, air
conditioner and water heater on opposite legs.

Trap: on a 50 A supply 6000 VA on one leg trip it although 12000 VA are free in total. 240 V loads weigh on both legs alike. A
panel on a 120 V supply has one leg, and nothing to balance.

Does not judge: the calculated load of a service or feeder (`service-size`, `feeder-size`), and which loads run at the same time
(`simultaneous-use`). A circuit without a drawn appliance is taken at half its rating; how the house is really used is not
known.

Weighed are appliances by their nameplates and, for each circuit without any, half its rating (common practice: 20 percent of the
supply's rating as the difference that is worth a word).
"""

from nailplate.plan import Panel
from nailplate.plan.words import Leg
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.loads import circuits_of, has_one_leg, leg_loads
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, shown, within

MOST_APART = 0.2
"""Part of the supply's rating; common practice."""


@rule(
    id="leg-balance",
    over=Panel,
    severity=Severity.ADVICE,
    subjects=(Subject.PANELS,),
    cites={
        "nec-2017": Cite("210.11(B)", note="branch-circuit loads are evenly proportioned; how even is common practice"),
        "nec-2023": Cite("210.11(B)", seen=(2023,), note="a public copy of the 2023 code text; how even is common practice"),
        "nec-2026": "210.11(B)",
    },
    hazards=(Hazard.OVERLOAD, Hazard.LOST_NEUTRAL),
)
def leg_balance(panel: Panel, job: Job) -> Outcome:
    """Judges one panel."""
    circuits = circuits_of(job.survey, panel)
    if not circuits or _has_one_leg(panel, job):
        return NotConcerned()
    unknown = tuple(circuit.where("legs") for circuit in circuits if not circuit.knows("legs"))
    if unknown:
        return Undetermined(unknown)
    legs = leg_loads(job.survey, panel)
    apart, most = abs(legs[Leg.A] - legs[Leg.B]), _rating(panel, job) * MOST_APART
    if within(apart, most):
        return Pass(amperes(apart), amperes(most))
    elsewhere = tuple(circuit.where("panel") for circuit in job.plan.circuits.values() if not circuit.knows("panel"))
    if elsewhere:
        return Undetermined(elsewhere)
    return Violation(
        f"{name_of(panel)}: leg A carries {shown(amperes(legs[Leg.A]))} and leg B {shown(amperes(legs[Leg.B]))} by nameplates and half "
        f"ratings; {shown(amperes(most))} apart is as much as is good practice.",
        amperes(apart),
        amperes(most),
        (Remedy("Move 120 V circuits to the lighter leg."),),
    )


def _has_one_leg(panel: Panel, job: Job) -> bool:
    return panel.knows("supply") and has_one_leg(job.plan.supplies[panel.supply])


def _rating(panel: Panel, job: Job) -> Amperes:
    if panel.knows("supply") and job.plan.supplies[panel.supply].knows("rating"):
        return job.plan.supplies[panel.supply].rating
    return panel.main_rating
