"""Runs one rule over its parts. A missing fact is an answer, and so is a rule that fails."""

import logging
import traceback
from collections.abc import Iterable, Iterator
from functools import cache

from nailplate.calc.work import WorkSpent, at_work_on, doing, spend
from nailplate.plan import Facts, Fault, FaultCode, Plan, PlanRefused, Pointer, UnknownFact
from nailplate.records import record
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Pass, Rule, Undetermined, Violation

log = logging.getLogger("nailplate.review")

_OUTCOMES = (Pass, NotConcerned, Violation, Undetermined, Judgement)


class OverBudget(PlanRefused):
    """A plan that takes more steps than a check may: what was being done then and at which part, and how many steps it had.

    The same plan, packs and budget always end here at the same place.
    """

    def __init__(self, part: Pointer, budget: int) -> None:
        self.doing, self.part, self.budget = at_work_on(), part, budget
        said = f"{self.doing} went past the {budget} steps of work that one check may take"
        super().__init__((Fault(part, FaultCode.LIMIT_EXCEEDED, said),))


@record(frozen=True, slots=True)
class Judged:
    """What a rule answered about one part. ``crashed`` when the rule itself failed."""

    part: Facts
    outcome: Outcome
    crashed: bool = False


def judged(rule: Rule, job: Job) -> Iterator[Judged]:
    """Every outcome of ``rule`` over the parts it speaks of, in the plan's order."""
    doing(f"rule {rule.id}")
    for part in _parts(rule, job.plan):
        missing = missing_needs(part, rule.needs) if rule.needs else ()
        if missing:
            yield Judged(part, Undetermined(missing))
            continue
        try:
            spend(1)
            said = _judged_part(rule, part, job)
        except WorkSpent as spent:
            raise OverBudget(part.pointer, spent.limit) from None
        yield from said


def _parts(rule: Rule, plan: Plan) -> Iterator[Facts]:
    for kind in rule.over:
        yield from (plan,) if kind is Plan else plan.map_of(kind).values()  # type: ignore[arg-type]  # ``rule`` refuses other kinds


def missing_needs(part: Facts, needs: tuple[str, ...]) -> tuple[Pointer, ...]:
    """Pointers of the needed facts that the part leaves out; a need may be dotted: ``breaker.rating``.

    Of several kinds that a rule judges, one that has no such fact at all does without.
    """
    plain, dotted, paths = _needs_of(type(part), needs)  # type: ignore[arg-type]  # a class hashes
    if not dotted and part.stated.issuperset(plain):
        return ()
    return tuple(missing for names in paths if (missing := _missing(part, names)) is not None)


@cache
def _needs_of(kind: type[Facts], needs: tuple[str, ...]) -> tuple[frozenset[str], bool, tuple[tuple[str, ...], ...]]:
    """The needs that a kind of part can state, whether one of them is dotted, and each as the names on its way."""
    of_its_kind = [need for need in needs if kind.may_state(need.partition(".")[0])]
    return (
        frozenset(of_its_kind),
        any("." in need for need in of_its_kind),
        tuple(tuple(need.split(".")) for need in of_its_kind),
    )


def _missing(facts: Facts, names: tuple[str, ...]) -> Pointer | None:
    for name in names:
        if not facts.knows(name):
            return facts.where(name)
        facts = getattr(facts, name)
    return None


def _judged_part(rule: Rule, part: Facts, job: Job) -> list[Judged]:
    try:
        answer = rule.judge(part, job)
        if type(answer) is Pass or type(answer) is NotConcerned:
            spend(1)
            return [Judged(part, answer)]
        outcomes = _outcomes(answer)
        told = [outcome for outcome in outcomes if isinstance(outcome, Violation | Judgement)]
        spend(len(outcomes) + sum(len(remedy.patch) for outcome in told for remedy in outcome.remedies))
        return [Judged(part, outcome) for outcome in outcomes]
    except UnknownFact as unknown:
        return [Judged(part, Undetermined((unknown.pointer,)))]
    except Exception as error:  # noqa: BLE001 - whatever a rule does wrong is its own answer
        where = "".join(traceback.format_tb(error.__traceback__))  # the message and the pointer may hold what a caller wrote
        log.error("rule %s failed: %s\n%s", rule.id, type(error).__name__, where)
        said = "This rule failed here by a fault of its own; nothing was checked."
        return [Judged(part, Undetermined((), said), crashed=True)]


def _outcomes(answer: Outcome | Iterable[Outcome]) -> list[Outcome]:
    outcomes = [answer] if isinstance(answer, _OUTCOMES) else list(answer)
    for outcome in outcomes:
        if not isinstance(outcome, _OUTCOMES):
            raise TypeError(f"{outcome!r} is no outcome")
    return outcomes
