"""A rule's cases: plans with the answers that they are to get, as they stand in the JSON file beside the rule.

A case is written whole with ``plan``, or ``like`` an earlier case of its file, ``but`` for a merge patch of that case's plan.
What ``editions`` lists, it is to get the same answers under. Only cases that are ``shown`` travel in the wheel; nothing is read
before somebody asks.

Errors: ``CaseError``, which names the case and what is wrong with it.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

FIELDS = ("description", "editions", "shown", "like", "but", "plan", "expect")


class CaseError(ValueError):
    """A case that cannot be read."""


@dataclass(frozen=True, slots=True)
class Case:
    """One plan, no more of it than the rule needs, and what is expected of the rule under each of ``editions``."""

    description: str
    editions: tuple[str, ...]
    plan: Mapping[str, Any]
    expect: tuple[Mapping[str, Any], ...]
    shown: bool = False

    def value(self) -> dict[str, Any]:
        """The case as JSON, its plan whole."""
        shown = {"shown": True} if self.shown else {}
        head = {"description": self.description, "editions": list(self.editions), **shown}
        return {**head, "plan": self.plan, "expect": list(self.expect)}

    def document(self, year: str | None = None) -> dict[str, Any]:
        """The plan as a document that can be checked, under its newest edition unless a ``year`` is named."""
        year = year or max(self.editions).removeprefix("nec-")
        basis = {"edition": year, **self.plan.get("basis", {})}
        return {"plan_format": 1, "name": "case", **self.plan, "basis": basis}


@cache
def cases_of(module: str) -> tuple[Case, ...]:
    """The cases beside a rule's module, in their file's order; none where it has no file. Raises CaseError."""
    package, _, stem = module.rpartition(".")
    file = resources.files(package) / f"{stem}.json"
    return read_cases(file.read_text(encoding="utf-8")) if file.is_file() else ()


def read_cases(text: str) -> tuple[Case, ...]:
    """The cases of a file, each with its plan whole. Raises CaseError."""
    written = json.loads(text)
    if not isinstance(written, list):
        raise CaseError("a file of cases is an array")
    known: dict[str, Case] = {}
    for number, value in enumerate(written):
        case = _case(value, known, number)
        known[case.description] = case
    return tuple(known.values())


def _case(value: Any, known: Mapping[str, Case], number: int) -> Case:
    if not isinstance(value, dict) or not isinstance(value.get("description"), str):
        raise CaseError(f"case {number} is no object with a description")
    faults = list(_faults(value, known))
    if faults:
        raise CaseError(f"case {value['description']!r}: {'; '.join(faults)}")
    plan = merged(known[value["like"]].plan, value.get("but", {})) if "like" in value else value["plan"]
    shown = value.get("shown", False)
    return Case(value["description"], tuple(value["editions"]), plan, tuple(value["expect"]), shown)


def _faults(value: Mapping[str, Any], known: Mapping[str, Case]) -> Iterator[str]:
    if value["description"] in known:
        yield "an earlier case has the same description"
    if unknown := sorted(value.keys() - set(FIELDS)):
        yield f"unknown fields {', '.join(unknown)}"
    if ("plan" in value) is ("like" in value):
        yield "it has a plan, or is like an earlier case"
    if "like" in value and value["like"] not in known:
        yield f"no earlier case is {value['like']!r}"
    if "but" in value and "like" not in value:
        yield "but goes with like"
    if not value.get("editions") or not _is_list_of(value["editions"], str):
        yield "editions lists one edition or more"
    if not _is_list_of(value.get("expect"), dict):
        yield "expect lists answers"


def _is_list_of(value: object, kind: type) -> bool:
    return isinstance(value, list) and all(isinstance(each, kind) for each in value)


def merged(target: Any, patch: Any) -> Any:
    """``target`` with a merge patch applied (RFC 7396); neither is changed."""
    if not isinstance(patch, dict):
        return patch
    result = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            result.pop(name, None)
        else:
            result[name] = merged(result.get(name), value)
    return result


def difference(one: Mapping[str, Any], other: Mapping[str, Any]) -> dict[str, Any]:
    """The merge patch that makes ``other`` of ``one``; neither holds null."""
    patch: dict[str, Any] = {name: None for name in one if name not in other}
    for name, value in other.items():
        both = isinstance(value, dict) and isinstance(one.get(name), dict)
        if name not in one or json.dumps(one[name], sort_keys=True) != json.dumps(value, sort_keys=True):
            patch[name] = difference(one[name], value) if both else value
    return patch


def shown_of(cases: Sequence[Case]) -> list[dict[str, Any]]:
    """The cases that travel, as JSON, each whole."""
    return [case.value() for case in cases if case.shown]
