"""Puts cases and plans to a rule as a client would: the plan goes through the door, and the answers are told by pointer."""

import json
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

import jsonpatch

from nailplate.catalog import Catalog, catalog
from nailplate.plan import Plan
from nailplate.review import job_for, judged
from nailplate.review.law import law_of
from nailplate.review.trials import Trial, told, tried
from nailplate.rulekit import Operation, Outcome, Rule
from nailplate.wire import read_plan, read_plan_value

__all__ = ["answers", "document", "loaded", "packs", "patched", "told", "trials"]


@cache
def packs() -> Catalog:
    return catalog()


def trials(rule: Rule) -> tuple[Trial, ...]:
    """Every case of a rule under every edition that it names."""
    return _trials(rule.id)


@lru_cache(maxsize=1)
def _trials(rule_id: str) -> tuple[Trial, ...]:
    """Kept for the next test that looks at the same rule."""
    rule = packs().rules[rule_id]
    years = [(case, edition.removeprefix("nec-")) for case in rule.cases for edition in case.editions]
    return tuple(tried(rule, case, year, read_plan_value(case.document(year)), packs()) for case, year in years)


def loaded(plan: Mapping[str, Any]) -> Plan:
    return read_plan(json.dumps(plan).encode())


def answers(rule: Rule, plan: Plan) -> list[tuple[str, Outcome]]:
    job = job_for(plan, law_of(plan, packs().rules))
    found = []
    for each in judged(rule, job):
        assert not each.crashed, f"{rule.id} crashed at {each.part.pointer}"
        at = getattr(each.outcome, "at", None) or each.part.pointer
        found.append((str(at), each.outcome))
    return found


def patched(plan: Mapping[str, Any], operations: tuple[Operation, ...]) -> dict[str, Any]:
    """The plan with a remedy applied, by an independent JSON Patch library."""
    patch = [
        {"op": each.op, "path": str(each.path), **({} if each.op == "remove" else {"value": each.value})} for each in operations
    ]
    result: dict[str, Any] = jsonpatch.apply_patch(plan, json.loads(json.dumps(patch)))
    return result


def document(case: Mapping[str, Any]) -> dict[str, Any]:
    """A plan that a test writes down, of the ``edition`` that stands beside it, with what every plan states filled in."""
    plan = dict(case["plan"])
    basis = {"edition": str(case["edition"]).removeprefix("nec-"), **plan.pop("basis", {})}
    return {"plan_format": 1, "name": "case", "basis": basis, **plan}
