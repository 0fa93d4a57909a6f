"""Every patch is judged under all rules: it applies, clears its own finding, and brings no violation of any rule.

And all patches of one report, in its order: none overwrites another, and what comes of it has no new violation.
"""

import copy
from collections.abc import Iterator
from typing import Any

import jsonpatch
import pytest

from fuzz.invariants import OF_THE_AUTHOR, OPTIONS, brought, violations
from fuzz.seeds import HOUSES, Document, cases, faulty, packs
from nailplate.review import Report
from nailplate.review.report import Finding
from nailplate.wire.applying import applied
from nailplate.wire.judging import report_on
from nailplate.wire.report import report_value

CHUNKS = 40


def report(document: Document) -> Report:
    return report_on(document, packs(), OPTIONS)


def offered(document: Document, found: Report) -> Iterator[tuple[Finding, Any]]:
    """Each finding with each of its patches, as JSON."""
    for finding, told in zip(found.findings, report_value(found)["findings"], strict=True):
        yield from ((finding, remedy["patch"]) for remedy in told.get("remedies", ()) if remedy.get("patch"))


def traded(document: Document) -> list[str]:
    """What is wrong with the patches of a plan's report, each a short line."""
    found = report(document)
    wrong = []
    for finding, patch in offered(document, found):
        after = report(jsonpatch.apply_patch(document, patch))
        if finding.fingerprint in {each.fingerprint for each in after.findings if each.outcome != "undetermined"}:
            wrong.append(f"{finding.rule} at {finding.where.pointer} stays")
        wrong += [f"{finding.rule} at {finding.where.pointer} brings {rule}" for rule in brought(found, after, document, patch)]
    return wrong


@pytest.mark.long
@pytest.mark.parametrize("name", HOUSES)
def test_patches_of_a_faulty_house_clear_their_own_and_bring_none(name: str) -> None:
    assert traded(faulty(name)) == []


@pytest.mark.long
@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_patches_of_every_case_clear_their_own_and_bring_none(chunk: int) -> None:
    assert {name: wrong for name, document in cases()[chunk::CHUNKS] if (wrong := traded(document))} == {}


@pytest.mark.parametrize("name", HOUSES)
def test_all_patches_of_one_report_in_order(name: str) -> None:
    house = faulty(name)
    before = report(house)
    first: dict[str, Any] = {}
    for finding, patch in offered(house, before):
        first.setdefault(finding.fingerprint, patch)
    result, refused = applied(copy.deepcopy(house), first.values())
    after = report(result)
    new = {rule for rule, _ in violations(after) - violations(before)} - OF_THE_AUTHOR
    assert new == set()
    left = {each.fingerprint for each in after.findings if each.outcome == "violation"}
    stale = {list(first)[number] for number in refused}
    assert left.intersection(first) <= stale


def test_a_patch_made_for_a_plan_without_a_map_adds_to_the_map_that_is_there() -> None:
    one, two = ([{"op": "add", "path": "/devices", "value": {name: {"kind": "receptacle"}}}] for name in ("a", "b"))
    result, refused = applied({"name": "x"}, [one, two])
    assert result["devices"] == {"a": {"kind": "receptacle"}, "b": {"kind": "receptacle"}}
    assert refused == []


def test_a_patch_whose_tests_fail_is_refused_whole() -> None:
    patch = [{"op": "test", "path": "/a", "value": 1}, {"op": "replace", "path": "/a", "value": 2}]
    assert applied({"a": 3}, [patch]) == ({"a": 3}, [0])
