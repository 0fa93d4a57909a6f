"""What holds for every document whatever is in it. ``broken`` says what does not hold for one."""

import copy
import json
import logging
import random
from collections.abc import Iterator
from functools import cache
from typing import Any

import jsonpatch
import jsonschema

from fuzz.mutants import shuffled
from fuzz.seeds import Document, packs
from nailplate.plan import PlanRefused
from nailplate.review import Options, OverBudget, Report, check
from nailplate.rulekit import Severity
from nailplate.wire import plan_digest, read_plan_value, report_json
from nailplate.wire.report_schema import report_schema

OF_THE_AUTHOR = {"suppression-holds"}
"""What a patch does away with cannot be accepted any more; taking the suppression out is for whoever wrote it."""
MOST_PATCHES = 4
"""Patches of one report that are tried."""
OPTIONS = Options(today="2026-01-01", max_findings=100_000)

logging.getLogger("nailplate").setLevel(logging.CRITICAL)


def broken(document: Document, *, schema: bool = True, most_patches: int = MOST_PATCHES) -> list[str]:
    """What is broken for a document, each a short line; nothing where all holds."""
    try:
        return list(_broken(document, schema, most_patches))
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        frame = error.__traceback__
        where = ""
        while frame is not None:
            where = f"{frame.tb_frame.f_code.co_filename.rpartition('nailplate/')[2]}:{frame.tb_lineno}"
            frame = frame.tb_next
        return [f"{type(error).__name__} at {where}: {error}"[:200]]


def judged(document: Document) -> Report | None:
    """The report on a document; None where it is no plan."""
    try:
        plan = read_plan_value(copy.deepcopy(document))
        return check(plan, packs(), OPTIONS, plan_digest(document))
    except OverBudget:
        raise
    except PlanRefused:
        return None


def _broken(document: Document, schema: bool, most_patches: int) -> Iterator[str]:
    report = judged(document)
    if report is None:
        return
    yield from (f"crashed: {each.rule}" for each in report.coverage.rules if each.crashed)
    if report.loads is not None and "by a fault of this service" in (report.loads.not_worked_out or ""):
        yield "crashed: the load summary"
    yield from _stated_needs(document, report)
    again = judged(document)
    text = report_json(report)
    if again is None or report_json(again) != text:
        yield "not the same bytes twice"
    if schema:
        yield from _off_schema(text)
    yield from _moved(document, report)
    yield from _patches(document, report, most_patches)


def _stated_needs(document: Document, report: Report) -> Iterator[str]:
    for finding in report.findings:
        for need in finding.needs:
            if len(need.members) > 1 and _stands(document, need.members):
                yield f"needs a stated fact: {finding.rule} {_shape(need.members)}"


def _shape(members: tuple[str, ...]) -> str:
    return "/".join("*" if number == 1 else member for number, member in enumerate(members))


def _stands(document: Any, members: tuple[str, ...]) -> bool:
    for member in members:
        if isinstance(document, dict) and member in document:
            document = document[member]
        elif isinstance(document, list) and member.isdecimal() and int(member) < len(document):
            document = document[int(member)]
        else:
            return False
    return True


@cache
def _validator() -> Any:
    return jsonschema.Draft202012Validator(report_schema())


def _off_schema(text: bytes) -> Iterator[str]:
    error = next(iter(_validator().iter_errors(json.loads(text))), None)
    if error is not None:
        yield f"off its schema at {list(error.absolute_path)}: {error.message}"[:200]


def keyed(report: Report) -> dict[str, tuple[str, str, str]]:
    """Fingerprint to rule, outcome and pointer."""
    return {each.fingerprint: (each.rule, each.outcome, str(each.where.pointer)) for each in report.findings}


def _moved(document: Document, report: Report) -> Iterator[str]:
    """Another order of keys changes no finding."""
    other = copy.deepcopy(document)
    shuffled(random.Random(len(report.findings)), other)
    after = judged(other)
    if after is None:
        yield "another order of keys is refused"
        return
    one, two = keyed(report), keyed(after)
    rules = {one.get(each, two.get(each, ("?",)))[0] for each in set(one) ^ set(two)}
    rules |= {one[each][0] for each in set(one) & set(two) if one[each] != two[each]}
    yield from (f"moved by the order of keys: {rule}" for rule in sorted(rules))
    if not rules and [each.message for each in report.findings] != [each.message for each in after.findings]:
        said = {each.fingerprint: each for each in after.findings}
        for each in report.findings:
            if said[each.fingerprint].message != each.message:
                yield f"message moved by the order of keys: {each.rule}"
                return


def violations(report: Report) -> set[tuple[str, str]]:
    """Rule and pointer of each violation of the code; advice is common practice and is not traded for."""
    weighty = (each for each in report.findings if each.severity is not Severity.ADVICE)
    return {(each.rule, str(each.where.pointer)) for each in weighty if each.outcome == "violation"}


def operations(patch: Any) -> list[dict[str, Any]]:
    """A remedy's patch as plain JSON."""
    return [
        {
            "op": each.op,
            "path": str(each.path),
            **({} if each.op == "remove" else {"value": json.loads(json.dumps(each.value))}),
        }
        for each in patch
    ]


def brought(before: Report, after: Report, document: Document, patch: Any) -> list[str]:
    """The rules that are broken anew. What was open in a plan without a map that the patch begins is no trade."""
    begun = {each["path"] for each in patch if each["op"] == "add" and each["path"].count("/") == 1}
    begun = {path for path in begun if not document.get(path[1:])}
    asked = {each.rule for each in before.coverage.rules if each.undetermined or each.later} if begun else set()
    return sorted({rule for rule, _ in violations(after) - violations(before)} - asked - OF_THE_AUTHOR)


def _patches(document: Document, report: Report, most: int) -> Iterator[str]:
    """Every patch applies, clears its own finding, and brings no violation of any rule."""
    offered = [(each, remedy) for each in report.findings for remedy in each.remedies if remedy.patch]
    random.Random(len(offered)).shuffle(offered)
    for finding, remedy in offered[:most]:
        try:
            patched = jsonpatch.apply_patch(document, operations(remedy.patch))
        except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException) as error:
            yield f"patch of {finding.rule} does not apply: {error}"[:160]
            continue
        after = judged(patched)
        if after is None:
            yield f"patch of {finding.rule} makes no plan"
            continue
        if finding.fingerprint in {each.fingerprint for each in after.findings if each.outcome != "undetermined"}:
            yield f"patch of {finding.rule} leaves its finding"
        new = brought(report, after, document, operations(remedy.patch))
        yield from (f"patch of {finding.rule} brings {rule}" for rule in new)
