"""Two plans in, or one and another edition: what changes comes out."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from flask import Response

from nailplate.calc.work import doing
from nailplate.codes import EDITIONS
from nailplate.plan import ROOT, Plan, PlanRefused, Pointer
from nailplate.render import comparison_page
from nailplate.review import Options, OverBudget
from nailplate.review.comparing import Comparison, compared
from nailplate.web.answers import text_answer
from nailplate.web.bodies import json_body
from nailplate.web.checking import BODY_PROBLEMS, in_force
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.held import settings
from nailplate.web.negotiation import JSON, MARKDOWN, check_parameters, chosen, format_parameter
from nailplate.web.problems import INVALID_REQUEST, Problem, invalid_plan, over_budget
from nailplate.web.submission import fault, unknown
from nailplate.web.traffic import note, timed
from nailplate.wire import comparison_json, plan_digest, read_plan_value

_FIELDS = ("old", "new", "edition_of_second")
_FORMS = (JSON, MARKDOWN)


@described(
    group="Checking",
    answer="What changes: findings, parts, what boxes hold, lengths of cable, load, and between editions the code.",
    takes=refer("ComparisonRequest"),
    gives={JSON: refer("Comparison"), MARKDOWN: {"type": "string"}},
    parameters={"format": format_parameter(_FORMS)},
    problems=(*BODY_PROBLEMS, "invalid-plan", "too-much-work", "not-acceptable", "check-too-long", "busy"),
)
def compare_plans() -> Response:
    """Compare two plans, or one plan by two editions.

    Send `{"old": plan, "new": plan}`; with `edition_of_second` the second is checked by that edition, and without `new` it is the
    first plan again. Findings are told apart by their fingerprints: `added`, `gone`, `changed` (told otherwise) and how many are
    `unchanged`. Lengths that the plan does not state are worked out, and marked as `derived`.
    """
    check_parameters("format")
    media = chosen(_FORMS)
    value = json_body()
    faults = [*_faults(value)]
    if faults:
        raise Problem(INVALID_REQUEST, "This is not two plans, nor a plan and another edition.", faults)
    second = _by_edition(value.get("new", value["old"]), value.get("edition_of_second"))
    with limited("reading the plans"):
        old = _read(value["old"], ROOT / "old")
        new = _read(second, ROOT / ("new" if "new" in value else "old"))
        comparison = _compared(old, new, (plan_digest(value["old"]), plan_digest(second)))
        doing(f"the comparison as {media}")
        with timed("write"):
            if media == MARKDOWN:
                return text_answer(comparison_page(comparison), MARKDOWN)
            return text_answer(comparison_json(comparison), JSON)


def _compared(old: Plan, new: Plan, digests: tuple[str, str]) -> Comparison:
    today, most = datetime.now(UTC).date().isoformat(), settings().max_findings
    options = Options(today=today, max_findings=most, budget=settings().check_budget)
    try:
        with timed("check"):
            return compared(old, new, in_force(), options, digests)
    except OverBudget as over:
        raise over_budget(over, ROOT) from None
    except PlanRefused as refused:
        raise invalid_plan(refused, ROOT / "new") from None


def _faults(value: Any) -> list[dict[str, str]]:
    if not isinstance(value, dict):
        return [fault(ROOT, "wrong-type", "an object with the plan `old`, and `new` or `edition_of_second`, was wanted")]
    faults = [*unknown(value, _FIELDS, ROOT)]
    if "old" not in value:
        faults.append(fault(ROOT / "old", "missing-field", "this must be stated"))
    if "new" not in value and "edition_of_second" not in value:
        faults.append(fault(ROOT / "new", "missing-field", "a second plan, or `edition_of_second`, was wanted"))
    if value.get("edition_of_second", EDITIONS[0]) not in EDITIONS:
        faults.append(fault(ROOT / "edition_of_second", "bad-choice", f"one of {', '.join(EDITIONS)} was wanted"))
    return faults


def _by_edition(plan: Any, edition: str | None) -> Any:
    """The plan by another edition; one that is no plan is left to the reader to refuse."""
    if edition is None or not isinstance(plan, Mapping) or not isinstance(plan.get("basis"), Mapping):
        return plan
    return {**plan, "basis": {**plan["basis"], "edition": edition}}


def _read(plan: Any, at: Pointer) -> Plan:
    try:
        with timed("plan"):
            return read_plan_value(plan)
    except PlanRefused as refused:
        note(faults=len(refused.faults))
        raise invalid_plan(refused, at) from None
