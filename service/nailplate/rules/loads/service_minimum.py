"""The disconnect of a one-family dwelling's service, or of a feeder to such a dwelling, is rated at least 100 A.

Why: the least rating leaves room for what every dwelling comes to need; a smaller one is outgrown and then overloaded.

Fix: bring in a service or feeder with a disconnect of 100 A or more, three-wire, even where the calculated load is small.

Trap: 35 A by calculation does not make a 60 A service lawful for a house. A vehicle or park trailer on a cord and inlet is not meant;
whether a dwelling that is fed by cord is meant is contested. Apartments on feeders within a building are sized by their load alone.

Does not judge: a feeder that starts in a panel of this plan is within the house and not meant.
"""

from nailplate.plan import Supply
from nailplate.plan.words import BuildingKind, SupplyKind, SupplyVoltage
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Violation
from nailplate.survey.names import name_of
from nailplate.units import Amperes, Measure, amperes, reaches, shown

_ONE_FAMILY = (BuildingKind.ONE_FAMILY, BuildingKind.TOWNHOUSE)


@rule(
    id="service-minimum",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite(
            "230.79(C), 225.39(C)", seen=(2017,), note="https://forums.mikeholt.com/threads/minimum-service-size.143299"
        ),
        "nec-2020": "230.79(C), 225.39(C)",
        "nec-2023": Cite("230.79(C), 225.39(C)", seen=(2023,), note="a public copy of the 2023 code text (225.39)"),
        "nec-2026": "230.79(C), 225.39(C)",
        "irc-2018": "E3602.1",
    },
    hazards=(Hazard.OVERLOAD,),
    dwelling_only=True,
)
def service_minimum(supply: Supply, job: Job) -> Outcome:
    """Judges one supply."""
    if supply.kind not in (SupplyKind.SERVICE, SupplyKind.FEEDER, SupplyKind.CORD_INLET) or supply.knows("starts_at"):
        return NotConcerned()
    if job.plan.basis.knows("building") and job.plan.basis.building not in _ONE_FAMILY:
        return NotConcerned()
    least = job.edition.dwelling_load.minimums.one_family_dwelling
    rating = supply.disconnect.rating if supply.knows("disconnect") and supply.disconnect.knows("rating") else supply.rating
    if not reaches(rating, least):
        return _too_small(supply, rating, least)
    return _two_wire(supply, rating, least) if supply.voltage is SupplyVoltage.V120 else Pass(amperes(rating), amperes(least))


def _too_small(supply: Supply, rating: Amperes, least: Amperes) -> Violation | Judgement:
    stated = supply.knows("disconnect") and supply.disconnect.knows("rating")
    about = "The disconnect of " if stated else ""
    unsaid = "" if stated else ", and nothing else is said of its disconnect"
    message = (
        f"{about}{name_of(supply)} is rated {shown(amperes(rating))}{unsaid}; the disconnect of a one-family dwelling is rated "
        f"{shown(amperes(least))} or more, three-wire."
    )
    return _told(supply, message, amperes(rating), amperes(least))


def _two_wire(supply: Supply, rating: Amperes, least: Amperes) -> Violation | Judgement:
    message = (
        f"{name_of(supply)} is two-wire at 120 V, although its disconnect is rated {shown(amperes(rating))}; a one-family dwelling "
        f"takes {shown(amperes(least))} or more, three-wire."
    )
    return _told(supply, message)


def _told(supply: Supply, message: str, measured: Measure | None = None, limit: Measure | None = None) -> Violation | Judgement:
    remedies = (at_supply(supply, "Bring in a supply with a disconnect of 100 A or more at 120/240 V."),)
    if supply.kind is SupplyKind.SERVICE:
        return Violation(message, measured, limit, remedies)
    return Judgement(message, _readings(supply), measured, limit, remedies)


def _readings(supply: Supply) -> tuple[Reading, Reading]:
    if supply.kind is SupplyKind.CORD_INLET:
        meant = "A dwelling fed by cord is fed by a feeder, and 225.39 requires 100 A."
        not_meant = "The cord ends the feeder; the house has none."
    else:
        meant = "225.39(C): the disconnect of a feeder to a one-family dwelling is rated 100 A."
        not_meant = (
            "The dwelling is no separate structure on its own feeder, or its disconnect is rated 100 A on a smaller breaker."
        )
    return Reading(meant, "violation"), Reading(not_meant, "pass")
