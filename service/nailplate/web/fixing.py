"""Fixes tried before anybody applies them."""

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from flask import Response

from nailplate.fixing import Conflict, Fix, Preview, first_fix, preview
from nailplate.plan import ROOT, PlanRefused, Pointer
from nailplate.review import Options, OverBudget, Report
from nailplate.review.report import Finding
from nailplate.web.answers import json_answer
from nailplate.web.bodies import json_body
from nailplate.web.checking import in_force
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.held import settings
from nailplate.web.negotiation import JSON, check_parameters, chosen
from nailplate.web.problems import INVALID_REQUEST, Problem, invalid_plan, over_budget
from nailplate.web.submission import fault, unknown
from nailplate.web.traffic import note, timed
from nailplate.wire import plan_digest, report_on
from nailplate.wire.report import finding_value

FIELDS = ("plan", "findings", "patches")
MOST_FIXES = 500
MOST_OPERATIONS = 200
_OPS = ("add", "replace", "remove", "test", "move")


@described(
    group="Checking",
    answer="The patched plan, what was applied, what cleared, what it introduced, and what conflicts.",
    takes=refer("FixRequest"),
    gives={JSON: refer("FixPreview")},
    problems=(
        "malformed-json",
        "body-too-large",
        "unsupported-media",
        "invalid-request",
        "invalid-plan",
        "too-much-work",
        "not-acceptable",
        "check-too-long",
        "busy",
    ),
)
def preview_fixes() -> Response:
    """Try fixes on a plan.

    `findings` names fingerprints of findings that this plan has, each with the number of the remedy wanted where it is not the first
    that has a patch; `patches` are JSON Patches from an earlier report or of the caller's own. They are applied in that order.
    One that does not fit any more, or conflicts with one before it, is left out and named. The plan is checked before and after.
    """
    check_parameters()
    chosen((JSON,))
    value = json_body()
    faults = list(_faults(value))
    if faults:
        raise Problem(INVALID_REQUEST, "This is no plan with fixes to try.", faults)
    try:
        with limited("reading the plan"), timed("check"):
            made = _preview(value)
            answer = json_answer(preview_value(made))
    except OverBudget as over:
        raise over_budget(over, ROOT / "plan") from None
    except PlanRefused as refused:
        note(faults=len(refused.faults))
        raise invalid_plan(refused, ROOT / "plan") from None
    note(applied=len(made.applied), conflicts=len(made.conflicts))
    return answer


def _preview(value: dict[str, Any]) -> Preview:
    before = _check(value["plan"])
    fixes = [*_of_findings(value.get("findings", []), before), *(Fix(tuple(patch)) for patch in value.get("patches", []))]
    return preview(value["plan"], fixes, _check, before)


def _check(plan: Any) -> Report:
    today = datetime.now(UTC).date().isoformat()
    return report_on(
        plan, in_force(), Options(today=today, max_findings=settings().max_findings, budget=settings().check_budget)
    )


def _of_findings(asked: list[Any], report: Report) -> Iterator[Fix]:
    """The fixes of the findings named. Raises Problem for one that the plan does not have, or that has no such remedy."""
    there = {each.fingerprint: each for each in report.findings}
    for number, each in enumerate(asked):
        name, remedy = (each, 0) if isinstance(each, str) else (each["fingerprint"], each.get("remedy", 0))
        at = ROOT / "findings" / number
        if name not in there:
            faults = [fault(at, "dangling-reference", f"the plan has no finding {name[:80]!r}")]
            raise Problem(INVALID_REQUEST, "A finding that the plan does not have cannot be fixed.", faults)
        fix = first_fix(there[name], remedy)
        if fix is None:
            faults = [fault(at, "bad-value", "this finding has no such remedy with a patch")]
            raise Problem(INVALID_REQUEST, "There is no patch for this finding.", faults)
        yield fix


def preview_value(made: Preview) -> dict[str, Any]:
    """A preview as JSON."""
    return {
        "plan": made.plan,
        "digest": plan_digest(made.plan),
        "verdict": made.after.verdict,
        "applied": [_fix_value(each) for each in made.applied],
        "conflicts": [_conflict_value(each) for each in made.conflicts],
        "cleared": [_short(each) for each in made.cleared],
        "still_open": [_short(each.finding) for each in made.still_open if each.finding],
        "introduced": [finding_value(each, made.after) for each in made.introduced],
    }


def _fix_value(fix: Fix) -> dict[str, Any]:
    value: dict[str, Any] = {"finding": fix.finding.fingerprint, "rule": fix.finding.rule} if fix.finding else {}
    return {**value, **({"words": fix.words} if fix.words else {}), "patch": [dict(each) for each in fix.patch]}


def _conflict_value(conflict: Conflict) -> dict[str, Any]:
    return {**_fix_value(conflict.fix), "why": conflict.why}


def _short(finding: Finding) -> dict[str, str]:
    return {
        "fingerprint": finding.fingerprint,
        "rule": finding.rule,
        "outcome": finding.outcome,
        "pointer": str(finding.where.pointer),
    }


def _faults(value: Any) -> Iterator[dict[str, str]]:
    if not isinstance(value, dict) or "plan" not in value:
        yield fault(ROOT, "missing-field", "an object with a plan, and findings or patches, was wanted")
        return
    yield from unknown(value, FIELDS, ROOT)
    findings, patches = value.get("findings", []), value.get("patches", [])
    if not (isinstance(findings, list) and isinstance(patches, list) and 0 < len(findings) + len(patches) <= MOST_FIXES):
        yield fault(ROOT / "findings", "bad-value", f"findings or patches, 1 to {MOST_FIXES} of them together, were wanted")
        return
    for number, each in enumerate(findings):
        yield from _finding_faults(each, ROOT / "findings" / number)
    for number, patch in enumerate(patches):
        yield from _patch_faults(patch, ROOT / "patches" / number)


def _finding_faults(each: Any, at: Pointer) -> Iterator[dict[str, str]]:
    if isinstance(each, str):
        return
    if not (isinstance(each, dict) and isinstance(each.get("fingerprint"), str)):
        yield fault(at, "wrong-type", "a fingerprint, or an object with fingerprint and remedy, was wanted")
        return
    yield from unknown(each, ("fingerprint", "remedy"), at)
    remedy = each.get("remedy", 0)
    if type(remedy) is not int or not 0 <= remedy < MOST_OPERATIONS:
        yield fault(at / "remedy", "bad-value", "the number of a remedy, from 0, was wanted")


def _patch_faults(patch: Any, at: Pointer) -> Iterator[dict[str, str]]:
    if not isinstance(patch, list) or not 0 < len(patch) <= MOST_OPERATIONS:
        yield fault(at, "wrong-type", f"a JSON Patch of 1 to {MOST_OPERATIONS} operations was wanted")
        return
    for number, each in enumerate(patch):
        if not (isinstance(each, dict) and isinstance(each.get("path"), str) and each.get("op") in _OPS):
            yield fault(at / number, "bad-value", f"an operation with a path and an op of {', '.join(_OPS)} was wanted")
