"""Breaker and wire carry 125 percent of what runs for three hours or more, and all of the rest.

Why: a breaker warms up behind its panel's cover and opens early under a load that never pauses; its terminals heat the wire.

Fix: use the next breaker that reaches 125 percent of the load, with wire that suits it.

Trap: a vehicle charger of 32 A takes a 40 A circuit, one of 40 A a 50 A circuit. A dwelling's lighting is not taken as continuous.

Whether anything else runs three hours or more is what the plan says of it; it is asked only where it decides, and not of
washing machines, refrigerators and the like, which pause (common practice).

Does not judge: Water heaters, fixed heat, cooking, motors and cooling have rules of their own.
"""

from collections.abc import Iterator

from nailplate.calc.overcurrent import next_standard
from nailplate.plan import Appliance, Circuit, Pointer
from nailplate.plan.trade import NEVER_LONG
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.circuits.wire_bears import Asked, wire_outcome
from nailplate.survey.loads import Attached, CircuitLoad, Trade, fed_by
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED
from nailplate.units import Amperes, amperes, reaches, shown, within

OWN_RULES = frozenset({Trade.WATER, Trade.HEAT, Trade.COOKING, Trade.MOTOR})


@rule(
    id="continuous-load",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.BRANCH_LOADS,),
    limits=("continuous_load_share",),
    cites={
        "nec-2017": Cite("210.20(A), 210.19(A)(1)", note="625.42 and, from 2020, 625.41 for vehicle charging: from memory"),
        "nec-2020": Cite("210.20(A), 210.19(A)(1)", seen=(2020,), note="a public reprint of the 2020 code text"),
        "nec-2023": Cite("210.20(A), 210.19(A)(1)", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "210.20(A), 210.19(A)(1)",
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.OVERLOAD),
)
def continuous_load(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """The breaker, and where it suits its wire the wire."""
    loads = [each for each in fed_by(job.survey, circuit).loads if each.attached is not Attached.CARRIED]
    concerned = [each for each in loads if _may_be_continuous(each)]
    if not concerned or any(each.trade in OWN_RULES for each in loads):
        yield NotConcerned()
        return
    if _is_too_much_anyway(circuit, loads):
        yield NotConcerned()  # permissible-load tells of it
        return
    want = _asked(loads, concerned, job)
    yield _breaker(circuit, want, job)
    if reaches(circuit.breaker.rating, want.most):
        yield wire_outcome(circuit, want, "its load", job)


def _asked(loads: list[CircuitLoad], concerned: list[CircuitLoad], job: Job) -> Asked:
    """125 percent of what is continuous, at most of what may be, with all of the rest."""
    least = sum(each.least * (job.share("continuous_load_share") if _is_continuous(each) else 1.0) for each in loads)
    most = sum(each.most * (job.share("continuous_load_share") if each in concerned else 1.0) for each in loads)
    return Asked(least, most, _needs(loads, concerned))


def _is_too_much_anyway(circuit: Circuit, loads: list[CircuitLoad]) -> bool:
    charging = any(each.trade is Trade.CHARGING for each in loads)
    return not charging and not within(sum(each.least for each in loads), circuit.breaker.rating)


def _is_continuous(load: CircuitLoad) -> bool:
    part = load.part
    stated = isinstance(part, Appliance) and part.is_(continuous=True)
    return stated or load.trade is Trade.CHARGING


def _may_be_continuous(load: CircuitLoad) -> bool:
    part = load.part
    open_ones = isinstance(part, Appliance) and not part.knows("continuous") and part.kind not in NEVER_LONG
    return _is_continuous(load) or open_ones


def _needs(loads: list[CircuitLoad], concerned: list[CircuitLoad]) -> tuple[Pointer, ...]:
    unsaid = [each.part.where("continuous") for each in concerned if not _is_continuous(each)]
    return tuple(dict.fromkeys((*(need for each in loads for need in each.needs if not need.endswith("fastened")), *unsaid)))


def _breaker(circuit: Circuit, want: Asked, job: Job) -> Outcome:
    rating, least = circuit.breaker.rating, want.least
    if reaches(rating, want.most):
        return Pass(amperes(rating), amperes(least), "breaker")
    if reaches(rating, least):
        return Undetermined(want.needs[:MOST_NAMED], facet="breaker")
    wanted = next_standard(Amperes(least), job.edition.overcurrent)
    return Violation(
        f"{name_of(circuit)} has a {shown(amperes(rating))} breaker; with 125 % of what runs three hours or more its load comes to "
        f"{shown(amperes(least))}.",
        amperes(rating),
        amperes(least),
        on_breaker(circuit, wanted, job.survey, want.least) if wanted else (),
        facet="breaker",
    )
