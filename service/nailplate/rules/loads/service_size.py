"""A service carries the dwelling's calculated load, and its conductors suit its rating.

Why: a service that is too small trips on a cold evening; conductors that are too thin for their main breaker overheat before it opens.

Fix: work out the load before the service is ordered, and take the next standard size that carries it; take service conductors
from the table for whole dwellings, or by their ampacity.

Trap: the optional method is open only where conductors of 100 A or more carry the whole dwelling; the conductors that the table for whole
dwellings gives for 100 A are taken to be such. Garages count in the area from 2023 for
the standard method, not for the optional one until 2026. The code has no rule for lofts: a finished loft to live or sleep in is counted.

Does not judge: several services, of which the plan does not tell the parts that they carry; loads added to an existing house by
its measured demand; a neutral of reduced size; and what the utility requires. The least rating is judged by `service-minimum`,
the electrode by `electrode`, the disconnect outdoors by `emergency-disconnect`.

Either method that is open may be used; the figure told is the standard one. The sum stands line by line in the finding.
"""

from collections.abc import Iterator

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, Undetermined, rule
from nailplate.rules.loads.supply_load import conductors_against_rating, judged_places, load_against_rating
from nailplate.survey.loads import others_of_its_kind
from nailplate.survey.names import name_of


@rule(
    id="service-size",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    provisions=("charging_nameplate_alone", "charging_outside_pool", "garages_count", "garages_count_in_both_methods"),
    cites={
        "nec-2017": Cite(
            "230.42, 310.15(B)(7), 220.82", seen=(2017,), note="https://electricalcodeconnection.com/?p=3533 (83 %)"
        ),
        "nec-2020": "230.42, 310.12, 220.82",
        "nec-2023": Cite("230.42, 310.12, 220.82", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "230.42, 310.12, 120.82",
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    dwelling_only=True,
    changes={
        "nec-2020": "The table for whole dwellings moved to 310.12; appliances under 500 W no longer count among the four.",
        "nec-2023": "Vehicle charging equipment counts for at least 7200 VA.",
        "nec-2026": "Article 220 became 120, with 2 VA for each square foot and 8 kVA as the optional method's first tier.",
    },
)
def service_size(supply: Supply, job: Job) -> Iterator[Outcome]:
    """Judges one service."""
    if supply.kind is not SupplyKind.SERVICE:
        yield NotConcerned()
    elif others_of_its_kind(job.survey, supply):
        message = f"Several services are drawn; which part of the load {name_of(supply)} carries cannot be told from the plan."
        yield Undetermined((), message)
    else:
        yield from judged_places(supply, job, ("load", load_against_rating), ("conductors", conductors_against_rating))
