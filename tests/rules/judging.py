"""Runs a rule's case as a client would: the plan goes through the door, the rule answers, and the answers are told by pointer."""

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

import jsonpatch

from nailplate.catalog import Catalog, catalog
from nailplate.plan import Plan
from nailplate.review import job_for, judged
from nailplate.review.law import law_of
from nailplate.rulekit import Judgement, NotConcerned, Operation, Outcome, Pass, Rule, Undetermined, Violation
from nailplate.units import written
from nailplate.wire import read_plan

NAMES: dict[type, str] = {
    Pass: "pass",
    NotConcerned: "not_concerned",
    Violation: "violation",
    Undetermined: "undetermined",
    Judgement: "judgement",
}
OPEN = ("violation", "undetermined", "judgement")


@cache
def packs() -> Catalog:
    return catalog()


def all_cases() -> Iterator[tuple[Rule, Mapping[str, Any]]]:
    for rule in packs().rules.values():
        for case in rule.cases:
            yield rule, case


def document(case: Mapping[str, Any]) -> dict[str, Any]:
    """The case's plan with what every plan states filled in."""
    plan = dict(case["plan"])
    edition = str(case["edition"]).removeprefix("nec-")
    basis = {"edition": edition, **plan.pop("basis", {})}
    return {"plan_format": 1, "name": "case", "basis": basis, **plan}


def loaded(plan: Mapping[str, Any]) -> Plan:
    return read_plan(json.dumps(plan).encode())


def answers(rule: Rule, plan: Plan) -> list[tuple[str, Outcome]]:
    job = job_for(plan, law_of(plan, dict(packs().rules)))
    found = []
    for each in judged(rule, job):
        assert not each.crashed, f"{rule.id} crashed at {each.part.pointer}"
        at = getattr(each.outcome, "at", None) or each.part.pointer
        found.append((str(at), each.outcome))
    return found


def told(at: str, outcome: Outcome) -> dict[str, Any]:
    """An outcome in the words of a case."""
    said: dict[str, Any] = {"at": at, "outcome": NAMES[type(outcome)]}
    for name in ("measured", "limit"):
        measure = getattr(outcome, name, None)
        if measure is not None:
            said[name] = written(measure)
    if outcome.facet:
        said["facet"] = outcome.facet
    if isinstance(outcome, Undetermined):
        said["needs"] = sorted(outcome.needs)
    return said


def fits(wanted: Mapping[str, Any], said: Mapping[str, Any]) -> bool:
    return all((sorted(value) if key == "needs" else value) == said.get(key) for key, value in wanted.items())


def patched(plan: Mapping[str, Any], operations: tuple[Operation, ...]) -> dict[str, Any]:
    """The plan with a remedy applied, by an independent JSON Patch library."""
    patch = [
        {"op": each.op, "path": str(each.path), **({} if each.op == "remove" else {"value": each.value})} for each in operations
    ]
    result: dict[str, Any] = jsonpatch.apply_patch(plan, json.loads(json.dumps(patch)))
    return result
