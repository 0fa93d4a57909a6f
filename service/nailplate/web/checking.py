"""Plans in, judgements out. Every call is pure, and repeating one is safe."""

from collections.abc import Callable
from datetime import UTC, datetime

from flask import Response

from nailplate.calc.work import doing
from nailplate.catalog import Catalog, catalog
from nailplate.plan import Plan, PlanRefused
from nailplate.render import csv, html, junit, markdown, sarif, text
from nailplate.review import Options, OverBudget, Report, check
from nailplate.review.checked import Checked
from nailplate.web.answers import json_answer, text_answer
from nailplate.web.bodies import json_bytes, value_in
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.held import once, settings
from nailplate.web.kept_answers import answered
from nailplate.web.negotiation import CSV, HTML, JSON, JUNIT, MARKDOWN, SARIF, TEXT, check_parameters, chosen, format_parameter
from nailplate.web.problems import counted, fault_value, invalid_plan, over_budget
from nailplate.web.submission import Submission, submission_in, submitted
from nailplate.web.traffic import note, timed
from nailplate.wire import guarded, plan_digest, read_plan_value, report_json
from nailplate.wire.judging import with_suppressions

MOST_FAULTS = 1000
"""Faults that one lint lists."""

REPORT_FORMS = (JSON, SARIF, MARKDOWN, HTML, JUNIT, CSV, TEXT)
SUBMISSION = {"anyOf": [refer("Plan"), refer("Submission")]}
BODY_PROBLEMS = ("malformed-json", "body-too-large", "unsupported-media", "invalid-request")
_TEXT = {"type": "string"}


def in_force() -> Catalog:
    """The rule packs in force."""
    return once("nailplate.catalog", lambda: catalog(settings().packs))


@described(
    group="Checking",
    answer="The report: findings, what was looked at and what was not, and cautions.",
    takes=SUBMISSION,
    gives={
        JSON: refer("Report"),
        SARIF: {"type": "object"},
        MARKDOWN: _TEXT,
        HTML: _TEXT,
        JUNIT: _TEXT,
        CSV: _TEXT,
        TEXT: _TEXT,
    },
    parameters={"format": format_parameter(REPORT_FORMS)},
    problems=(*BODY_PROBLEMS, "invalid-plan", "too-much-work", "not-acceptable", "check-too-long", "busy"),
)
def check_plan() -> Response:
    """Check a plan.

    Send a bare plan, or `{"plan": ..., "options": ..., "baseline": ..., "suppressions": ...}`. A violation is a result, answered
    with 200; so is a fact that the plan leaves out (`undetermined`, with the pointer where it would stand). 422 means that the
    document is no plan and nothing was judged. Pointers of a report are into the plan; pointers of a problem are into the body
    as sent.
    """
    check_parameters("format")
    media = chosen(REPORT_FORMS)
    body, day, packs = json_bytes(), today(), in_force()

    def checked() -> bytes:
        submission = submission_in(value_in(body), packs)
        with limited("reading the plan"):
            plan, report = report_on(submission, day)
            doing(f"the report as {media}")
            with timed("write"):
                text = html(report, plan) if media == HTML else _WRITERS[media](report)
        return text.encode() if isinstance(text, str) else text

    return text_answer(answered(body, media, day, packs, checked), media)


def today() -> str:
    """The date by which suppressions end, ISO."""
    return datetime.now(UTC).date().isoformat()


def report_on(submission: Submission, day: str | None = None) -> tuple[Plan, Report]:
    """The plan that is submitted and the report on it; for whoever holds the limits. Raises Problem."""
    options = Options(
        today=day or today(),
        max_findings=submission.max_findings,
        selection=submission.selection,
        baseline=submission.baseline,
        heed_suppressions=submission.heed_suppressions,
        budget=settings().check_budget,
    )
    try:
        with timed("check"):
            plan = read_plan_value(with_suppressions(submission.plan, submission.suppressions))
            digest = plan_digest(submission.plan)
            note(plan=digest)
            report = guarded(check(plan, in_force(), options, digest), submission.plan)
    except OverBudget as over:
        note(over_budget=over.doing)
        raise over_budget(over, submission.at) from None
    except PlanRefused as refused:
        note(faults=len(refused.faults))
        raise invalid_plan(refused, submission.at) from None
    crashed = [coverage.rule for coverage in report.coverage.rules if coverage.crashed]
    note(
        verdict=report.verdict, violations=report.summary.violations, undetermined=report.summary.undetermined, crashed=crashed
    )
    return plan, report


def _alone(report: Report) -> list[Checked]:
    return [Checked(report.plan.name, report)]


_WRITERS: dict[str, Callable[[Report], bytes | str]] = {
    JSON: report_json,
    SARIF: lambda report: sarif(_alone(report), in_force().rules),
    MARKDOWN: markdown,
    JUNIT: lambda report: junit(_alone(report)),
    CSV: lambda report: csv(_alone(report)),
    TEXT: lambda report: text(_alone(report)[0]),
}


@described(
    group="Checking",
    answer="Whether the document is a plan, and what is wrong with it.",
    takes=SUBMISSION,
    gives={JSON: refer("Lint")},
    problems=(*BODY_PROBLEMS, "not-acceptable", "check-too-long", "busy"),
)
def lint_plan() -> Response:
    """Look at a document without judging it.

    Shape, units, references and the drawing itself are looked at; no rule is run. Faults are the result here, so a document
    that is JSON is answered with 200, `valid` telling whether it is a plan; only what is not JSON is a 400. Pointers are into
    the plan. Quick enough to ask while someone types.
    """
    check_parameters()
    chosen((JSON,))
    submission = submitted(in_force())
    try:
        with limited("reading the plan"), timed("plan"):
            read_plan_value(submission.plan)
    except PlanRefused as refused:
        faults = [fault_value(fault) for fault in refused.faults]
        note(faults=len(faults))
        by_code = {"by_code": counted(faults)} if len(faults) > MOST_FAULTS else {}
        return json_answer({"valid": False, "faults": faults[:MOST_FAULTS], "total": len(faults), **by_code})
    return json_answer({"valid": True, "faults": [], "total": 0})
