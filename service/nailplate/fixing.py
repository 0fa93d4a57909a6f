"""Patches tried on a plan: what they clear, what they introduce, which of them conflict, and the plan that comes of them.

Errors: ``PlanRefused`` where the plan itself is none.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import jsonpatch

from nailplate.plan import PART_KINDS, PlanRefused, Pointer
from nailplate.review import Report
from nailplate.review.report import Finding
from nailplate.wire.guarded import stands_at

Operations = Sequence[Mapping[str, Any]]
Check = Callable[[Any], Report]
"""From a plan's JSON value to its report; raises PlanRefused."""


@dataclass(frozen=True)
class Fix:
    """One patch to try, with what it is for: the finding that it is to clear, and its words."""

    patch: tuple[Mapping[str, Any], ...]
    words: str = ""
    finding: Finding | None = None


@dataclass(frozen=True)
class Conflict:
    """A fix that was left out, and why."""

    fix: Fix
    why: str


@dataclass(frozen=True)
class Preview:
    """What the fixes make of a plan. ``before`` and ``after`` are whole reports."""

    plan: Any
    before: Report
    after: Report
    applied: tuple[Fix, ...]
    conflicts: tuple[Conflict, ...]

    @property
    def cleared(self) -> list[Finding]:
        """Findings that are gone."""
        left = {each.fingerprint for each in self.after.findings}
        return [each for each in self.before.findings if each.fingerprint not in left]

    @property
    def introduced(self) -> list[Finding]:
        """Findings that were not there, or were of less weight: what was undecided and is a violation now counts too."""
        known = {(each.fingerprint, each.outcome) for each in self.before.findings}
        return [each for each in self.after.findings if (each.fingerprint, each.outcome) not in known]

    @property
    def still_open(self) -> list[Fix]:
        """Fixes that were applied and did not clear their finding."""
        left = {each.fingerprint for each in self.after.findings}
        return [each for each in self.applied if each.finding and each.finding.fingerprint in left]


def first_fix(finding: Finding, remedy: int = 0) -> Fix | None:
    """The fix that a finding's remedy is; counted among those that have a patch. None where there is none."""
    mechanical = [each for each in finding.remedies if each.patch]
    if remedy >= len(mechanical):
        return None
    chosen = mechanical[remedy]
    return Fix(tuple(_operation(each) for each in chosen.patch), chosen.words, finding)


def _operation(operation: Any) -> dict[str, Any]:
    value = {} if operation.op == "remove" else {"value": operation.value}
    return {"op": operation.op, "path": str(operation.path), **value}


def preview(plan: Any, fixes: Iterable[Fix], check: Check, before: Report | None = None) -> Preview:
    """Applies the fixes one after another and checks what comes of them. Raises PlanRefused for a plan that is none.

    A fix that no longer fits, because the plan has changed since it was made or another fix came first, is a conflict and is left
    out; so is one after which the plan would be none.
    """
    report = before or check(plan)
    applied: list[Fix] = []
    conflicts: list[Conflict] = []
    patched, after = plan, report
    touched: dict[str, Fix] = {}
    for fix in fixes:
        made = _tried(patched, fix, touched)
        if isinstance(made, str):
            conflicts.append(Conflict(fix, made))
            continue
        applied.append(fix)
        patched = made
        touched |= {str(each["path"]): fix for each in fix.patch if each["op"] != "test"}
    if applied:
        try:
            after = check(patched)
        except PlanRefused:
            return _one_by_one(plan, applied, conflicts, check, report)
    return Preview(patched, report, after, tuple(applied), tuple(conflicts))


def _one_by_one(plan: Any, fixes: Sequence[Fix], conflicts: list[Conflict], check: Check, report: Report) -> Preview:
    """Together they make no plan: each is kept only if with it the plan still is one."""
    patched, after, applied = plan, report, []
    for fix in fixes:
        made = _tried(patched, fix, {})
        try:
            if isinstance(made, str):
                raise _DoesNotFit(made)
            after = check(made)
        except PlanRefused as refused:
            said = f"the plan would be none: {refused.faults[0].pointer or '/'}: {refused.faults[0].detail}"
            conflicts.append(Conflict(fix, said))
        except _DoesNotFit as error:
            conflicts.append(Conflict(fix, str(error)))
        else:
            patched = made
            applied.append(fix)
    return Preview(patched, report, after, tuple(applied), tuple(conflicts))


class _DoesNotFit(Exception):
    """A patch that does not fit."""


def _tried(plan: Any, fix: Fix, touched: Mapping[str, Fix]) -> Any:
    """The patched plan, or why the fix does not fit."""
    fix = replace(fix, patch=tuple(_into_maps(plan, fix.patch)))
    taken = _taken(plan, fix)
    if taken is not None:
        return _because(f"something stands at {taken} already", taken, touched)
    try:
        return jsonpatch.apply_patch(plan, list(fix.patch))
    except jsonpatch.JsonPatchTestFailed:
        return _because(*_changed(plan, fix), touched)
    except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException, TypeError, KeyError, IndexError) as error:
        path = str(fix.patch[0].get("path", "")) if fix.patch else ""
        return _because(f"the patch does not fit the plan: {type(error).__name__}", path, touched)


def _into_maps(plan: Any, patch: Operations) -> Iterator[Mapping[str, Any]]:
    """A patch that adds a whole map is made for a plan without it; where an earlier fix has made the map, its parts are added."""
    for each in patch:
        name = str(each.get("path", "")).removeprefix("/")
        held = plan.get(name) if isinstance(plan, dict) and name in PART_KINDS else None
        if each.get("op") == "add" and isinstance(held, dict) and isinstance(each.get("value"), dict):
            yield from ({"op": "add", "path": f"/{name}/{key}", "value": part} for key, part in each["value"].items())
        else:
            yield each


def _taken(plan: Any, fix: Fix) -> str | None:
    """A place to which the fix adds and where something stands: that cannot be tested by the patch itself. Lists are added to."""
    for each in fix.patch:
        pointer = Pointer(str(each.get("path", "")))
        in_list = pointer.members and (pointer.members[-1] == "-" or pointer.members[-1].isdigit())
        if each.get("op") == "add" and pointer and not in_list and stands_at(plan, pointer):
            return str(pointer)
        if each.get("op") == "remove":
            return None  # what is removed first may be added again
    return None


def _changed(plan: Any, fix: Fix) -> tuple[str, str]:
    for each in fix.patch:
        if each.get("op") == "test":
            try:
                jsonpatch.apply_patch(plan, [each])
            except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException):
                return f"the plan has changed at {each['path']} since this fix was made", str(each["path"])
    return "the plan has changed since this fix was made", ""


def _because(why: str, path: str, touched: Mapping[str, Fix]) -> str:
    for other, fix in touched.items():
        if path and (path == other or path.startswith(f"{other}/") or other.startswith(f"{path}/")):
            rule = f" of {fix.finding.rule}" if fix.finding else ""
            return f"it conflicts with the fix{rule} that came before it, at {other}"
    return why
