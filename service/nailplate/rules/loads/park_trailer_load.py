"""A park trailer's cord or feeder carries its load, leg by leg.

Why: a leg that carries more than the cord's rating heats its plug and inlet, although the sum over both legs looks small.

Fix: up to five circuits may stand on 30 A; with more, work the load out by legs, and take 50 A or a permanent feeder.

Trap: lighting counts 3 VA for each square foot here in every edition; the dwelling's other methods do not hold. 6000 VA on one leg trip
50 A although 12000 VA are free in total.

Does not judge: the load on a cord that feeds up to five circuits, which goes by their number (a permanent feeder goes by the load
on its legs); the site's equipment, the wiring that the trailer comes with, and the cord's kind and plug. Conductors are judged by
`supply-conductors`, the cord's length by `cord-length`, the class of the house by `dwelling-class`.
"""

from nailplate.calc.loads.supply import Regime as SupplyRegime
from nailplate.plan import Supply
from nailplate.plan.words import Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.loads.movable_supply import judged_supply


@rule(
    id="park-trailer-load",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite(
            "552.43, 552.46, 552.47",
            note="regulations.justia.com/states/indiana/title-675/article-15/rule-2/section-100, a"
            "n older sister text; figures from memory",
        ),
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
)
def park_trailer_load(supply: Supply, job: Job) -> Outcome:
    """Judges one supply."""
    if not job.plan.basis.knows("regime") or job.plan.basis.regime is not Regime.PARK_TRAILER:
        return NotConcerned()
    return judged_supply(supply, job, SupplyRegime.PARK_TRAILER)
