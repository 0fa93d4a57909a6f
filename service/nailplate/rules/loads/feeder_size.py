"""A feeder or supply cord carries the calculated load of what it feeds, and its conductors suit what protects them.

Why: a feeder is pulled once and buried; one that is too thin overheats behind a breaker that never trips.

Fix: size the feeder by the load calculation, its conductors by their ampacity at the terminals, and its breaker by both.

Trap: the 83 percent relief is for conductors that carry one whole dwelling, from 100 A to 400 A: a 30, 50 or 60 A feeder to a small house
has none. Nor may the optional method size a feeder under 100 A. On 120 V one leg carries all of it: twice the amperes.

Does not judge: a feeder that carries a part of the house: which loads those are is not known, and it is passed only if the
whole house's load would fit it. Its grounding conductor is judged by `feeder-grounding`, the least rating by `service-minimum`,
the drop by `voltage-drop`; how it is routed and buried is not judged, nor a neutral of reduced size.
"""

from collections.abc import Iterator

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.loads.supply_load import conductors_against_rating, judged_places, load_against_rating


@rule(
    id="feeder-size",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    provisions=("charging_nameplate_alone", "charging_outside_pool", "garages_count", "garages_count_in_both_methods"),
    cites={
        "nec-2017": Cite("215.2(A), 310.15(B)(7)", seen=(2017,), note="https://electricalcodeconnection.com/?p=3533 (83 %)"),
        "nec-2020": "215.2(A), 310.12",
        "nec-2023": Cite("215.2(A), 310.12", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "215.2(A), 310.12",
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING, Hazard.FIRE),
    dwelling_only=True,
    changes={
        "nec-2020": "The table for whole dwellings moved to 310.12.",
        "nec-2026": "Article 220 became 120, with 2 VA for each square foot.",
    },
)
def feeder_size(supply: Supply, job: Job) -> Iterator[Outcome]:
    """Judges one feeder or cord."""
    if supply.kind not in (SupplyKind.FEEDER, SupplyKind.CORD_INLET):
        yield NotConcerned()
    else:
        yield from judged_places(supply, job, ("load", load_against_rating), ("conductors", conductors_against_rating))
