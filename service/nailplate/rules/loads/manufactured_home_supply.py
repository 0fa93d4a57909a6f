"""A manufactured home's cord or feeder carries its load, leg by leg.

Why: the home comes wired; what it hangs on has to carry it.

Fix: use one listed cord of 50 A, 40 A where heating and cooking burn gas or oil from the factory, and a permanent feeder above.

Trap: the site's own service equipment is rated 100 A or more whatever the cord is, and so is a permanent feeder to the home.

Does not judge: the site's service equipment, the wiring that the home comes with, and the cord's kind and plug. Conductors are
judged by `supply-conductors`, the cord's length by `cord-length`, its grounding conductor by `feeder-grounding`.
"""

from nailplate.calc.loads.supply import Regime as SupplyRegime
from nailplate.plan import Supply
from nailplate.plan.words import Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.loads.movable_supply import judged_supply


@rule(
    id="manufactured-home-supply",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite("550.10, 550.18, 550.33(B)", note="laws9.com/cfr/text/24/3280/803 (24 CFR 3280.803)"),
    },
    limits=("manufactured_home_feeder",),
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
)
def manufactured_home_supply(supply: Supply, job: Job) -> Outcome:
    """Judges one supply."""
    if not job.plan.basis.knows("regime") or job.plan.basis.regime is not Regime.MANUFACTURED_HOME:
        return NotConcerned()
    return judged_supply(supply, job, SupplyRegime.MANUFACTURED_HOME)
