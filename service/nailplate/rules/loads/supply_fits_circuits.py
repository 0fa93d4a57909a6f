"""A recreational vehicle's supply suits the number of its circuits.

Why: one cord and inlet has to carry all of it; a cord that is too small overheats at its plug first.

Fix: up to five circuits of 15 A or 20 A take a 30 A supply at 120 V, more a 50 A supply at 120/240 V; an energy management
system, or a converter on the sixth circuit, changes the count.

Trap: the article goes by the number of circuits, not by volt-amperes. Two thermostatically controlled 120 V appliances are the most on 30
A.

Does not judge: the load in volt-amperes, which the article does not go by (`simultaneous-use` gives advice), and a vehicle on
a permanent feeder. Conductors are judged by `supply-conductors`, the cord by `cord-length`, the inlet by `inlet-place`.
"""

from nailplate.calc.loads.supply import Regime as SupplyRegime
from nailplate.plan import Supply
from nailplate.plan.words import Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.loads.movable_supply import judged_supply


@rule(
    id="supply-fits-circuits",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite(
            "551.42",
            note="codebookcity.com/codearticles/nec/necarticle551-1.htm for the existence of the o"
            "ptions; their wording from memory",
        ),
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
)
def supply_fits_circuits(supply: Supply, job: Job) -> Outcome:
    """Judges one supply."""
    if not job.plan.basis.knows("regime") or job.plan.basis.regime is not Regime.RECREATIONAL_VEHICLE:
        return NotConcerned()
    return judged_supply(supply, job, SupplyRegime.RECREATIONAL_VEHICLE)
