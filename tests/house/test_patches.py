"""Every patch is judged under all rules: it applies, clears its own finding, and brings no violation of any rule.

And all patches of one report, in its order: none overwrites another, and what comes of it has no new violation.
"""

from collections.abc import Iterator
from typing import Any

import jsonpatch
import pytest

from fuzz.invariants import OF_THE_AUTHOR, OPTIONS, brought, violations
from fuzz.seeds import HOUSES, Document, cases, faulty, packs
from nailplate.fixing import Fix, first_fix, preview
from nailplate.review import Report
from nailplate.review.report import Finding
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
    fixes = [fix for finding in before.findings if (fix := first_fix(finding)) is not None]
    tried = preview(house, fixes, report, before)
    assert {rule for rule, _ in violations(tried.after) - violations(before)} - OF_THE_AUTHOR == set()
    left = {each.fingerprint for each in tried.after.findings if each.outcome == "violation"}
    assert [fix.finding.rule for fix in tried.applied if fix.finding and fix.finding.fingerprint in left] == []
    assert len(tried.conflicts) < len(fixes) / 10
    assert len(tried.cleared) >= len(tried.applied)


def test_two_fixes_for_a_plan_without_devices_add_to_one_map() -> None:
    basis = {"edition": "2023", "regime": "dwelling"}
    levels, corners = {"m": {"kind": "storey"}}, [[-2, -2], [152, -2], [152, 122], [-2, 122]]
    walls = {
        f"w{n}": {"level": "m", "from": corners[n], "to": corners[(n + 1) % 4], "thickness": 4, "kind": "interior"}
        for n in range(4)
    }
    room = {"level": "m", "uses": ["bedroom"], "outline": [[0, 0], [150, 0], [150, 120], [0, 120]]}
    plan = {"plan_format": 1, "name": "x", "basis": basis, "levels": levels, "walls": walls, "rooms": {"r": room}}
    fixes = [
        Fix(({"op": "add", "path": "/devices", "value": {name: {"kind": "receptacle", "contacts": 2}}},)) for name in ("a", "b")
    ]
    tried = preview(plan, fixes, report)
    assert list(tried.plan["devices"]) == ["a", "b"]
    assert tried.conflicts == ()
