"""The disconnect of an outbuilding's service or feeder is rated at least 60 A, or less where it has one or two circuits.

Why: the least rating leaves room for what a workshop or garage comes to need, and fits the equipment that is sold.

Fix: use a disconnect, or a panel with a main breaker, of 60 A or more; the feeder and its breaker at the other end may be smaller.

Trap: it is the rating of the disconnect that counts, not that of the feeder: a 30 A feeder may end at a 60 A main breaker.

Does not judge: dwellings, which `service-minimum` judges, and houses on wheels, which are no buildings. Ratings of several disconnects,
which may be added together, are stated as their sum.
"""

from nailplate.plan import Supply
from nailplate.plan.words import Regime, SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.loads import circuits_behind
from nailplate.survey.names import name_of
from nailplate.units import Amperes, Volts, amperes, reaches, shown, within, written

_TWO_WIRE = Volts(130.0)


@rule(
    id="building-disconnect",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite(
            "225.39, 230.79",
            seen=(2017,),
            note="https://forums.mikeholt.com/threads/225-39-d-where-is-feeder-disconnect-permitted.2574608; figures of (A) and (B) from memory",
        ),
    },
    hazards=(Hazard.OVERLOAD,),
)
def building_disconnect(supply: Supply, job: Job) -> Outcome:
    """Judges one service or feeder of what is stated to be no dwelling."""
    if supply.kind not in (SupplyKind.SERVICE, SupplyKind.FEEDER) or supply.knows("starts_at"):
        return NotConcerned()
    if not job.plan.basis.is_(regime=Regime.NOT_A_DWELLING):
        return NotConcerned()
    stated = supply.knows("disconnect") and supply.disconnect.knows("rating")
    least = _least(supply, job)
    rating = supply.disconnect.rating if stated else supply.rating
    if reaches(rating, least):
        return Pass(amperes(rating), amperes(least))
    if not stated:
        said = f"{name_of(supply)} is rated {shown(amperes(rating))}; the rating of its disconnect, {shown(amperes(least))} or more, is not said."
        return Undetermined((supply.where("disconnect") / "rating",), said)
    change = (state(supply.disconnect, "rating", written(amperes(least))),)
    return Violation(
        f"The disconnect of {name_of(supply)} is rated {shown(amperes(rating))}; {shown(amperes(least))} or more is required here.",
        amperes(rating),
        amperes(least),
        (Remedy(f"Use a disconnect or main breaker of {shown(amperes(least))} or more.", change),),
    )


def _least(supply: Supply, job: Job) -> Amperes:
    """By the number of circuits; where none is drawn, what holds for any."""
    circuits = circuits_behind(job.survey, supply)
    two_wire = all(
        each.knows("voltage") and within(each.voltage, _TWO_WIRE) and not each.knows("multiwire") for each in circuits
    )
    if len(circuits) == 1:
        return job.amperes("building_disconnect_one_circuit")
    return job.amperes("building_disconnect_two_circuits" if len(circuits) == 2 and two_wire else "building_disconnect_others")
