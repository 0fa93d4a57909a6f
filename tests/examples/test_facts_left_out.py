"""A fact left out never makes a violation: out of each clean house facts are taken away, in every edition.

What holds for one fact holds for several. So facts of parts that stand far apart in the document are taken away together, and only a group
that makes a violation, or that is no plan without them, is halved until the fact is found.

Under test is a bounded sample: of each (map, kind of part, path of fields) the first part's and the last part's, a share of them in each
edition. The whole walk, of every fact of every part, each edition with the facts in other company, takes half an hour:
``PYTHONPATH=service python tests/examples/test_facts_left_out.py [--together N] [-e EDITION]... [HOUSE]...``; with ``--together 1`` a day.
"""

import argparse
import copy
import random
from collections.abc import Iterator
from typing import Any

import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.plan import PlanRefused
from nailplate.review import check
from nailplate.wire import read_plan_value

pytestmark = pytest.mark.long
HOUSES = ("wren", "heron", "osprey")
EDITIONS = ("2017", "2020", "2023", "2026")
TOGETHER = 8
"""Facts taken away at once under test."""
SHARES = {"wren": 8, "heron": 8, "osprey": 16}
"""Each edition of a house takes one in so many groups of its sample, others than the next edition."""

SAID_BY_ABSENCE = {("boxes", "extension")}
"""Facts whose absence says something itself: an extension ring is a part of its own, which is not there where it is not drawn. To ask for it
at every box that is too small would make no box too small."""

Path = tuple[str, ...]
Signature = tuple[str, ...]


def house(name: str, edition: str) -> dict[str, Any]:
    plan: dict[str, Any] = whole_house(f"tamarack-{name}")
    plan["basis"]["edition"] = edition
    return plan


def facts_of(plan: dict[str, Any]) -> Iterator[tuple[Signature, Path]]:
    """Each fact of each part: by what it is alike to others, and where it is. Lists, such as a cable's route, are one fact."""
    for map_name, parts in plan.items():
        for part_id, part in parts.items() if isinstance(parts, dict) and map_name not in ("units", "extra") else ():
            if map_name == "basis":
                yield ("basis", part_id), ("basis", part_id)
            elif isinstance(part, dict):
                kind = str(part.get("kind", ""))
                for path in _paths(part, ()):
                    if (map_name, path[0]) in SAID_BY_ABSENCE:
                        continue
                    yield (map_name, kind, *path), (map_name, part_id, *path)


def _paths(value: dict[str, Any], before: Path) -> Iterator[Path]:
    for name, member in value.items():
        yield (*before, name)
        if isinstance(member, dict):
            yield from _paths(member, (*before, name))


def sample(plan: dict[str, Any]) -> list[Path]:
    """The first and the last part of each signature."""
    found: dict[Signature, list[Path]] = {}
    for signature, path in facts_of(plan):
        found.setdefault(signature, []).append(path)
    return [path for paths in found.values() for path in dict.fromkeys((paths[0], paths[-1]))]


def groups(paths: list[Path], together: int) -> list[list[Path]]:
    """Facts that stand far apart in the document, so many in each group."""
    apart = -(-len(paths) // together)
    return [paths[first::apart] for first in range(apart)]


def without(plan: dict[str, Any], paths: list[Path]) -> dict[str, Any]:
    """The plan without these facts."""
    changed = copy.deepcopy(plan)
    for path in paths:
        within: Any = changed
        for name in path[:-1]:
            within = within.get(name, {})
        within.pop(path[-1], None)
    return changed


def violations(plan: dict[str, Any]) -> set[tuple[str, str]]:
    report = check(read_plan_value(copy.deepcopy(plan)), catalog())
    return {(each.rule, str(each.where.pointer)) for each in report.findings if each.outcome == "violation"}


def made_by_leaving_out(plan: dict[str, Any], grouped: list[list[Path]]) -> Iterator[tuple[str, str, str]]:
    """What leaving facts out makes a violation of: the facts, the rule, the part. A plan that is refused says so itself."""
    clean = violations(plan)
    waiting = grouped[::-1]
    while waiting:
        group = waiting.pop()
        try:
            found = violations(without(plan, group)) - clean
        except PlanRefused:
            found = set()
            waiting += _halves(group)
        alone = list(made_by_leaving_out(plan, _halves(group))) if found else []
        yield from alone or ((_named(group), *each) for each in sorted(found))


def _halves(group: list[Path]) -> list[list[Path]]:
    middle = len(group) // 2
    return [group[:middle], group[middle:]] if middle else []


def _named(group: list[Path]) -> str:
    return " ".join("/".join(path) for path in group)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", HOUSES)
def test_a_fact_left_out_makes_no_violation(name: str, edition: str) -> None:
    plan = house(name, edition)
    share = groups(sample(plan), TOGETHER)[EDITIONS.index(edition) :: SHARES[name]]
    assert sum(map(len, share)) > 50
    assert list(made_by_leaving_out(plan, share)) == []


def _may_be_left_out(plan: dict[str, Any]) -> list[Path]:
    """Every fact but those without which a part is none; whether one is, the first of its kind tells for all."""
    firsts: dict[Signature, Path] = {}
    for signature, path in facts_of(plan):
        firsts.setdefault(signature, path)
    needed = {signature for signature, path in firsts.items() if _is_refused(without(plan, [path]))}
    return [path for signature, path in facts_of(plan) if signature not in needed]


def _is_refused(plan: dict[str, Any]) -> bool:
    try:
        read_plan_value(plan)
    except PlanRefused:
        return True
    return False


def _walk() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("houses", nargs="*", default=HOUSES)
    asked.add_argument("-e", "--edition", action="append")
    asked.add_argument("--sample", action="store_true", help="the first and last part of each kind alone")
    asked.add_argument("--together", type=int, default=48, help="facts that are taken away at once")
    chosen = asked.parse_args()
    for name in chosen.houses:
        for edition in chosen.edition or EDITIONS:
            plan = house(name, edition)
            paths = sample(plan) if chosen.sample else _may_be_left_out(plan)
            random.Random(edition).shuffle(paths)
            print(f"{name} {edition}: {len(paths)} facts", flush=True)
            for each in made_by_leaving_out(plan, groups(paths, chosen.together)):
                print("  ", *each, flush=True)


if __name__ == "__main__":
    _walk()
