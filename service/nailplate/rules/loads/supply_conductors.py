"""In a vehicle, trailer, manufactured home or outbuilding the supply's conductors suit the overcurrent device that protects them.

Why: a conductor that is too thin for its breaker overheats before the breaker opens, whatever the building is called.

Fix: use larger conductors, or a smaller overcurrent device if the load allows it.

Trap: the 83 percent relief is for conductors that carry one whole dwelling from 100 A on: a manufactured home may have it, a vehicle, a
park trailer and an outbuilding may not.

Does not judge: dwellings, whose supplies `service-size` and `feeder-size` judge; flexible cord by Table 400.5, which stands for less than
cable in a wall; feeder taps (240.21).
"""

from collections.abc import Iterator
from functools import partial

from nailplate.plan import Supply
from nailplate.plan.words import Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.loads.supply_load import conductors_against_rating, judged_places
from nailplate.survey.loads import SOURCES, stands_for_a_dwelling


@rule(
    id="supply-conductors",
    over=Supply,
    severity=Severity.DANGER,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite("240.4, 310.15(B)(7)", seen=(2017, 2023), note="public copies of the code text on 240.4"),
        "nec-2020": "240.4, 310.12",
        "nec-2023": "240.4, 310.12",
        "nec-2026": "240.4, 310.12",
    },
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
    changes={"nec-2020": "The table for whole dwellings moved to 310.12."},
)
def supply_conductors(supply: Supply, job: Job) -> Iterator[Outcome]:
    """Judges one service, feeder or cord of what is no dwelling."""
    if supply.kind in SOURCES or stands_for_a_dwelling(job.survey):
        yield NotConcerned()
        return
    relief = job.plan.basis.regime is Regime.MANUFACTURED_HOME
    yield from judged_places(supply, job, ("conductors", partial(conductors_against_rating, relief=relief)))
