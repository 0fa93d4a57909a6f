"""A panel is protected at no more than its own rating.

Why: a bus that is fed by more than it is rated for overheats behind its cover while nothing trips.

Fix: choose a panel rated at least as high as the breaker ahead of it, or a smaller breaker.

Trap: the breaker that counts may stand elsewhere, at the start of the feeder. A main breaker in the panel counts too, also where the bus is
rated higher than it.

Does not judge: the panel's short-circuit rating, breakers of solar or other sources that feed back into the bus, and lugs that
feed through. Spaces and poles are judged by `panel-spaces`, the load by `service-size` and `feeder-size`.
"""

from nailplate.plan import Panel
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, shown, within


@rule(
    id="panel-rating",
    over=Panel,
    severity=Severity.CODE,
    subjects=(Subject.PANELS,),
    cites={
        "nec-2017": "408.36",
        "nec-2023": Cite("408.36", note="trade press on Article 408, of no stated edition"),
        "nec-2026": "408.36",
    },
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
    needs=("bus_rating",),
)
def panel_rating(panel: Panel, job: Job) -> Outcome:
    """Judges one panel by the smallest device ahead of its bus."""
    ahead = [rating for rating in (_main(panel), _at_start(panel, job)) if rating is not None]
    if not ahead:
        return Undetermined((panel.where("main_rating"),))
    least = min(ahead)
    if within(least, panel.bus_rating):
        return Pass(amperes(least), amperes(panel.bus_rating))
    no_main = "" if panel.knows("main_rating") else ", and no main breaker of its own is drawn"
    return Violation(
        f"{name_of(panel)} has a bus of {shown(amperes(panel.bus_rating))} behind {shown(amperes(least))}{no_main}.",
        amperes(least),
        amperes(panel.bus_rating),
        (Remedy(f"Choose a panel rated {least:g} A or more, or a main breaker of at most {panel.bus_rating:g} A."),),
    )


def _main(panel: Panel) -> Amperes | None:
    return panel.main_rating if panel.knows("main_rating") else None


def _at_start(panel: Panel, job: Job) -> Amperes | None:
    if not panel.knows("supply"):
        return None
    supply = job.plan.supplies[panel.supply]
    return supply.overcurrent if supply.knows("overcurrent") else None
