"""One case judged: its record, as JSON on one line. The same case gives the same bytes, whoever works it out and where."""

from collections import Counter
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

import jsonpatch

from nailplate.batch.cache import Cache
from nailplate.batch.expansion import Case
from nailplate.batch.summary import OUTCOMES
from nailplate.catalog import Catalog, catalog
from nailplate.plan import ROOT, Fault, FaultCode, PlanRefused, Pointer
from nailplate.review import BUDGET, Options, Selection, SelectionError
from nailplate.review.baseline import Baseline
from nailplate.rulekit import Severity
from nailplate.wire import read_baseline, report_on, report_value
from nailplate.wire.results import line_of

Detail = Literal["report", "findings", "summary"]


@dataclass(frozen=True)
class Work:
    """What every case of a batch is judged with."""

    today: str
    detail: str = "findings"
    packs: tuple[str, ...] = ()
    cache: Cache | None = None
    most_findings: int = 1000
    budget: int = BUDGET

    def __call__(self, case: Case) -> str:
        """The record of a case. Never raises for what is wrong with the case."""
        return record_of(case, self)


@cache
def _in_force(packs: tuple[str, ...]) -> Catalog:
    return catalog(packs)


def record_of(case: Case, work: Work) -> str:
    """The record of a case."""
    try:
        value = plan_of(case)
    except PlanRefused as refused:
        return line_of({**_head(case), **_refused(refused.faults)})
    kept = work.cache.find(value, case, work) if work.cache else None
    if kept is None:
        kept = _judged(value, case, work)
        if work.cache:
            work.cache.keep(value, case, work, kept)
    return line_of({**_head(case), **kept})


def plan_of(case: Case) -> Any:
    """The plan of a case: its patches applied, its law put in. Raises PlanRefused."""
    value = case.plan
    for number, patch in enumerate(case.patches):
        if patch:
            try:
                value = jsonpatch.apply_patch(value, list(patch))
            except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException, TypeError, KeyError, IndexError) as error:
                name = case.model_options[number - 1] if number else "patch"
                said = f"the patch of {name} does not fit the plan: {type(error).__name__}: {str(error)[:200]}"
                raise PlanRefused((Fault(ROOT, FaultCode.CONTRADICTION, said),)) from None
    return _by_law(value, case)


def _by_law(value: Any, case: Case) -> Any:
    if not isinstance(value, dict) or not isinstance(value.get("basis"), dict):
        return value
    basis = {**value["basis"], **({"edition": case.edition} if case.edition else {})}
    if case.local is not None:
        own = basis.get("amendments", {})
        if isinstance(own, dict):
            basis |= {"amendments": {**own, **case.local["amendments"]}, "jurisdiction": case.local["jurisdiction"]}
    return {**value, "basis": basis}


def _judged(value: Any, case: Case, work: Work) -> dict[str, Any]:
    try:
        baseline = None if case.baseline is None else _baseline(case)
        report = report_value(report_on(value, _in_force(work.packs), _options(case, work, baseline), case.suppressions))
    except PlanRefused as refused:
        return _refused(refused.faults)
    except SelectionError as error:
        return _refused((Fault(ROOT / "options", FaultCode.BAD_CHOICE, str(error)),))
    new = {} if baseline is None else {"new": _new(report["findings"])}
    if work.detail == "report":
        return {"status": "checked", "report": report, **new}
    short = {"status": "checked", "plan": report["plan"], "verdict": report["verdict"], "summary": report["summary"]}
    short |= {"baseline": report["baseline"], **new} if new else {}
    short["nearest"] = _nearest(report)
    if work.detail == "findings":
        short |= {"findings": report["findings"], "accepted": report["accepted"]}
    return short


def _options(case: Case, work: Work, baseline: Baseline | None) -> Options:
    asked = case.options
    selection = Selection(
        rules=tuple(asked.get("rules", ())),
        ignore=tuple(asked.get("ignore", ())),
        severities=tuple(Severity(each) for each in asked.get("severities", ())),
        rooms=tuple(asked.get("rooms", ())),
    )
    return Options(
        today=work.today,
        max_findings=min(asked.get("max_findings", work.most_findings), work.most_findings),
        selection=selection,
        budget=work.budget,
        heed_suppressions=not asked.get("show_accepted", False),
        baseline=baseline,
    )


def _baseline(case: Case) -> Baseline:
    try:
        return read_baseline(case.baseline)
    except PlanRefused as refused:
        raise PlanRefused(
            tuple(replace(each, pointer=Pointer(f"/baseline{each.pointer}")) for each in refused.faults)
        ) from None


def _new(findings: list[dict[str, Any]]) -> dict[str, int]:
    """How many findings the baseline does not have, counted as a summary counts them."""
    counted = Counter(_counted_as(each) for each in findings if each["baseline"] == "new")
    return {name: counted[name] for name in OUTCOMES}


def _counted_as(finding: dict[str, Any]) -> str:
    if finding["outcome"] == "violation":
        return str(finding["severity"])
    return "judgements" if finding["outcome"] == "judgement" else "undetermined"


_MOST_NEAREST = 3


def _nearest(report: dict[str, Any]) -> list[dict[str, Any]]:
    """The passes nearest to their limits."""
    near = [{"rule": each["rule"], **each["nearest"]} for each in report["coverage"]["rules"] if "nearest" in each]
    return sorted(near, key=lambda each: (each["margin"], each["rule"]))[:_MOST_NEAREST]


def _head(case: Case) -> dict[str, Any]:
    said: dict[str, Any] = {"key": case.key, "item": case.item}
    said |= {"edition": case.edition} if case.edition else {}
    said |= {"jurisdiction": case.jurisdiction} if case.jurisdiction else {}
    return {**said, "model_options": list(case.model_options)}


def _refused(faults: tuple[Fault, ...]) -> dict[str, Any]:
    listed = [{"pointer": str(each.pointer), "code": each.code.value, "detail": each.detail} for each in faults[:_MOST_FAULTS]]
    return {"status": "refused", "faults": listed, "total": len(faults)}


_MOST_FAULTS = 100


def refused_record(key: str, faults: tuple[Fault, ...]) -> str:
    """The record of an item that makes no case."""
    return line_of({"key": key, "item": key, "model_options": [], **_refused(faults)})


def failed_record(case: Case) -> str:
    """The record of a case that ended the process that worked on it, twice."""
    return line_of({**_head(case), "status": "failed", "detail": "the process that checked this case ended before it was done"})
