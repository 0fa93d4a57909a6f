"""Every rule in force over every part it speaks of: one pure call, ``check``."""

from collections import Counter
from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from contextlib import nullcontext
from dataclasses import dataclass

from nailplate import __version__
from nailplate.calc.work import BUDGET, Meter, WorkSpent, doing, metered
from nailplate.catalog import Catalog
from nailplate.plan import ROOT, Plan, Pointer, Stage, due
from nailplate.plan.words import LengthUnit, Regime
from nailplate.review.apart import kept_apart
from nailplate.review.baseline import Baseline, compared
from nailplate.review.causes import grouped
from nailplate.review.cautions import SITE_CHECKS, STANDING, class_cautions
from nailplate.review.engine import Judged, OverBudget, judged
from nailplate.review.found import Found, ordered
from nailplate.review.law import Law, law_of
from nailplate.review.nearest import nearer
from nailplate.review.report import (
    BaselineStamp,
    BasisStamp,
    Coverage,
    DefaultStamp,
    Finding,
    MadeStamp,
    PackStamp,
    PlanStamp,
    Report,
    RuleCoverage,
    Summary,
    Verdict,
)
from nailplate.review.required import Required
from nailplate.review.rulings import ruled
from nailplate.review.selection import EVERYTHING, Selection, SelectionError, check_names, chosen, listed, stamp
from nailplate.review.subjects import judges_the_drawing, not_checked_lines, not_covered_of
from nailplate.review.supply_cautions import supply_cautions
from nailplate.review.suppressions import settled
from nailplate.review.undecided_class import by_class
from nailplate.review.wanted import state_first
from nailplate.rulekit import Job, NotConcerned, Pass, Rule, Severity, Undetermined, Violation
from nailplate.sheets import loads_of, site_list_of
from nailplate.sheets.needs import needs_of_owner
from nailplate.survey import Survey, regime_of

__all__ = ["BUDGET", "Options", "OverBudget", "Report", "Selection", "SelectionError", "check", "job_for", "judged"]

_STAGES = list(Stage)


@dataclass(frozen=True, slots=True)
class Options:
    """How to check: today's date for suppressions (ISO; the caller's clock), and how many findings are listed at most.

    ``selection`` says what to run and list, ``baseline`` what an earlier report found; without ``heed_suppressions`` every
    finding stands, whoever accepted it. ``budget`` is how many steps of work the check may take; without one of its own it
    pays to the meter that its caller holds, if any.
    """

    today: str | None = None
    max_findings: int = 1000
    selection: Selection = EVERYTHING
    baseline: Baseline | None = None
    heed_suppressions: bool = True
    budget: int | None = BUDGET


DEFAULT = Options()


def job_for(plan: Plan, law: Law) -> Job:
    """One plan under one law, with a fresh survey."""
    return Job(plan, Survey(plan, law.edition), law.edition)


def check(plan: Plan, catalog: Catalog, options: Options = DEFAULT, digest: str | None = None) -> Report:
    """The report on ``plan`` under the packs of ``catalog``.

    Raises PlanRefused for amendments that name nothing there is (OverBudget for a plan that takes too many steps), and
    SelectionError for a selection that does.
    """
    try:
        with metered(Meter(options.budget)) if options.budget is not None else nullcontext():
            return _check(plan, catalog, options, digest)
    except WorkSpent as spent:
        raise OverBudget(ROOT, spent.limit) from None


def _check(plan: Plan, catalog: Catalog, options: Options, digest: str | None) -> Report:
    check_names(options.selection, catalog.rules.values())
    law = law_of(plan, catalog.rules)
    job = job_for(plan, law)
    with job.survey:
        return _report(job, law, catalog, options, digest)


def _report(job: Job, law: Law, catalog: Catalog, options: Options, digest: str | None) -> Report:
    plan = job.plan
    rules, not_run = chosen(options.selection, law.rules)
    stage = plan.stage if plan.knows("stage") else Stage.ROUGH_IN
    found: list[Found] = []
    covered = []
    required = Required(job)
    for rule, severity in rules:
        findings, coverage = _run(rule, severity, job, stage, required)
        found += findings
        covered.append(coverage)
    doing("the findings' places and order")
    standing = _all_standing(job, found, options) or _settled(job, found, options, {each.rule for each in not_run})
    marked, wanted, accepted = standing.marked, standing.wanted, standing.accepted
    shown, groups = grouped(kept_apart(standing.first))
    absent = (*law.not_in_force, *not_run)
    gaps = not_covered_of(catalog.rules.values(), absent, covered, law.edition.year)
    something = judges_the_drawing(catalog.rules.values(), covered)
    doing("the load summary")
    loads = loads_of(job)
    doing("the requirements and the site list")
    return Report(
        plan=PlanStamp(plan.name, digest, length_unit=_length_unit(plan)),
        basis=_basis(plan, law, catalog, stage),
        verdict=_verdict(marked, wanted, something),
        not_covered=gaps,
        summary=_summary(wanted, accepted, covered, len(shown)),
        findings=shown,
        accepted=accepted,
        coverage=Coverage(tuple(covered), absent, not_checked_lines(gaps), SITE_CHECKS),
        cautions=(*class_cautions(plan), *supply_cautions(job.survey, law.edition), *_stage_caution(plan), *STANDING),
        loads=loads,
        made=MadeStamp(__version__, options.today),
        state_first=state_first(shown),
        groups=groups,
        selection=stamp(options.selection, plan, len(marked) - len(wanted)),
        baseline=standing.against,
        defaults=tuple(DefaultStamp(each.pointer, each.value, each.parts) for each in plan.defaults)
        if plan.knows("defaults")
        else (),
        site_list=site_list_of(job),
        requirements=required.sheet(loads),
        needs=needs_of_owner(job),
    )


@dataclass(frozen=True, slots=True)
class _Standing:
    """The findings that stand, those of them that the caller wants listed, the first of these in words, and those accepted."""

    marked: Sequence[Found | Finding]
    wanted: Sequence[Found | Finding]
    first: Sequence[Finding]
    accepted: tuple[Finding, ...] = ()
    against: BaselineStamp | None = None


def _all_standing(job: Job, found: list[Found], options: Options) -> _Standing | None:
    """Every finding, where nothing that plan or caller says picks among them: then only those that are listed are put in words."""
    plan, selection = job.plan, options.selection
    picked = plan.suppressions or plan.basis.knows("rulings") or options.baseline is not None
    if picked or selection.severities or selection.rooms:
        return None
    every = ordered(plan, found)
    return _Standing(every, every, [each.finding(job) for each in every[: options.max_findings]])


def _settled(job: Job, found: list[Found], options: Options, left_out: AbstractSet[str]) -> _Standing:
    plan = job.plan
    findings, passed = ruled(plan, [each.finding(job) for each in found], left_out)
    every = ordered(plan, findings)
    standing, suppressed = settled(plan, every, options.today, left_out) if options.heed_suppressions else (every, [])
    marked, accepted, against = compared(standing, [*suppressed, *ordered(plan, passed)], options.baseline, left_out)
    wanted = listed(options.selection, marked)
    return _Standing(marked, wanted, wanted[: options.max_findings], tuple(accepted), against)


def _length_unit(plan: Plan) -> LengthUnit | None:
    return plan.units.length if plan.knows("units") and plan.units.knows("length") else None


def _run(rule: Rule, severity: Severity, job: Job, stage: Stage, required: Required) -> tuple[list[Found], RuleCoverage]:
    coverage = RuleCoverage(rule.id, severity)
    findings = []
    seen: Counter[tuple[str, str]] = Counter()
    undecided = rule.dwelling_only and regime_of(job.plan) is Regime.UNDECIDED
    answers = judged(rule, job)
    for said in required.heard(rule, map(by_class, answers) if undecided else answers):
        if _counted(said, coverage, stage):
            key = (said.part.pointer, said.outcome.facet)
            findings.append(Found(rule, severity, said, seen[key]))
            seen[key] += 1
    return findings, coverage


def _come_later(needs: Iterable[Pointer], stage: Stage) -> bool:
    """Whether all of these facts are due after the stage; nothing is due after the last one."""
    if stage is _STAGES[-1]:
        return False
    return all(_STAGES.index(due(need)) > _STAGES.index(stage) for need in needs)


def _counted(said: Judged, coverage: RuleCoverage, stage: Stage) -> bool:
    """Counts an outcome; True where it makes a finding at this stage."""
    outcome = said.outcome
    if isinstance(outcome, NotConcerned):
        coverage.not_concerned += 1
        return False
    if isinstance(outcome, Pass):
        coverage.passed += 1
        if outcome.measured is not None and outcome.limit is not None:
            coverage.nearest = nearer(coverage.nearest, said, outcome.measured, outcome.limit)
        return False
    if isinstance(outcome, Undetermined):
        coverage.crashed += said.crashed
        if outcome.needs and _come_later(outcome.needs, stage):
            coverage.later += 1
            return False
        coverage.undetermined += 1
    elif isinstance(outcome, Violation):
        coverage.violations += 1
    else:
        coverage.judgements += 1
    return True


def _verdict(findings: Sequence[Found | Finding], wanted: Sequence[Found | Finding], something: bool) -> Verdict:
    """Advice alone leaves a plan clear; what is undetermined or for the authority to judge does not, nor does a check of nothing.

    Which class of house it is decides which rules were run: while that is for the authority to judge, the plan is not clear either.

    Findings that the caller did not want listed are never a violation here, but the plan is not clear with them.
    """
    weighty = [each for each in findings if each.severity is not Severity.ADVICE or _is_of_the_class(each)]
    if any(finding.outcome == "violation" and finding.severity is not Severity.ADVICE for finding in wanted):
        return "violations"
    return "clear" if something and not weighty else "incomplete"


def _is_of_the_class(finding: Found | Finding) -> bool:
    return finding.rule == "dwelling-class" and finding.outcome == "judgement"


def _summary(
    standing: Sequence[Found | Finding], accepted: Sequence[Finding], covered: list[RuleCoverage], listed: int
) -> Summary:
    violations = Counter(finding.severity for finding in standing if finding.outcome == "violation")
    outcomes = Counter(finding.outcome for finding in standing)
    return Summary(
        danger=violations[Severity.DANGER],
        code=violations[Severity.CODE],
        advice=violations[Severity.ADVICE],
        violations=outcomes["violation"],
        undetermined=outcomes["undetermined"],
        judgements=outcomes["judgement"],
        accepted=len(accepted),
        later=sum(coverage.later for coverage in covered),
        listed=listed,
        left_out=len(standing) - listed,
    )


def _basis(plan: Plan, law: Law, catalog: Catalog, stage: Stage) -> BasisStamp:
    basis = plan.basis
    return BasisStamp(
        edition=basis.edition,
        stage=stage,
        stage_assumed=not plan.knows("stage"),
        regime=regime_of(plan),
        packs=tuple(PackStamp(pack.name, pack.version) for pack in catalog.packs),
        permit_date=basis.permit_date if basis.knows("permit_date") else None,
        residential_code=basis.residential_code if basis.knows("residential_code") else None,
        jurisdiction=basis.jurisdiction if basis.knows("jurisdiction") else None,
        amendments=law.amendments,
    )


def _stage_caution(plan: Plan) -> tuple[str, ...]:
    if plan.knows("stage"):
        return ()
    return ("The plan does not say its stage; it was checked as ready for cover-up, with every fact expected.",)
