"""Prints how the time of a check grows with the number of dwellings in one plan: up to 300, with more than 20,000 devices.

Run: ``PYTHONPATH=service python tests/bench/many_dwellings.py [dwellings ...] [--profile] [--levels]``. The example house Osprey is
drawn side by side. A plan of this size is over what the service takes in one document (``wire.limits``), so that
the dwellings are read one by one and put together here. With ``--levels`` each stands on
levels of its own; else all share theirs. Doubling the dwellings should little more than double the time: the last column.
"""

import cProfile
import json
import pstats
import sys
from collections.abc import Mapping
from importlib.resources import files
from time import process_time
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from nailplate.catalog import catalog
from nailplate.plan import PART_KINDS, Facts, Plan
from nailplate.plan.facts import Refers, json_names
from nailplate.plan.marks import Point
from nailplate.review import Options, check
from nailplate.wire import read_plan

HOUSE = "tamarack-osprey"
IN_A_ROW = 20
APART = 1200.0
"""Inches from one dwelling to the next: more than any rule looks for."""
SHARED = ("levels",)
UNBOUND = Options(budget=None)


def main(arguments: list[str]) -> None:
    sizes = [int(each) for each in arguments if each.isdigit()] or [75, 150, 300]
    shared = () if "--levels" in arguments else SHARED
    packs = catalog()
    before: tuple[int, float] | None = None
    for size in sizes:
        plan = dwellings(size, shared)
        start = process_time()
        report = check(plan, packs, UNBOUND)
        spent = process_time() - start
        growth = f"{(spent / before[1]) / (size / before[0]):5.2f} x per dwelling" if before else ""
        devices = len(plan.devices)
        print(
            f"{size:4} dwellings, {devices:6} devices: {spent:7.2f} s, {len(report.findings):5} findings  {growth}", flush=True
        )
        before = (size, spent)
    if "--profile" in arguments:
        profiled(dwellings(sizes[-1], shared))


def profiled(plan: Plan) -> None:
    profile = cProfile.Profile()
    profile.runcall(check, plan, catalog(), UNBOUND)
    pstats.Stats(profile).sort_stats("tottime").print_stats(30)


def dwellings(number: int, shared: tuple[str, ...]) -> Plan:
    """One plan of many dwellings, each with ids and a place of its own."""
    document = json.loads(files("nailplate").joinpath("examples", f"{HOUSE}.json").read_text(encoding="utf-8"))
    maps: dict[str, dict[str, object]] = {}
    facts: dict[str, object] = {}
    for index in range(number):
        shift = (APART * (index % IN_A_ROW), APART * (index // IN_A_ROW))
        plan = read_plan(json.dumps(Moved(f"d{index}-", shift, shared).document(document)).encode())
        facts = facts or {name: getattr(plan, name) for name in plan.stated if name not in PART_KINDS}
        for name in PART_KINDS:
            maps.setdefault(name, {}).update(getattr(plan, name))
    return Plan({**facts, **maps})


class Moved:
    """A document with every id of its maps given a prefix, and every point shifted."""

    def __init__(self, prefix: str, shift: tuple[float, float], shared: tuple[str, ...]) -> None:
        self._prefix, self._shift, self._shared = prefix, shift, shared

    def document(self, document: Mapping[str, Any]) -> dict[str, Any]:
        parts = {
            name: {self._named(name, key): self._facts(kind, part) for key, part in document.get(name, {}).items()}
            for name, kind in PART_KINDS.items()
        }
        return {**document, **parts}

    def _named(self, map_name: str, key: str) -> str:
        return key if map_name in self._shared else self._prefix + key

    def _facts(self, kind: type[Facts], value: Mapping[str, Any]) -> dict[str, Any]:
        hints = {json_names(kind)[name]: hint for name, hint in get_type_hints(kind, include_extras=True).items()}
        return {key: self._value(hints[key], each) for key, each in value.items()}

    def _value(self, hint: Any, value: Any) -> Any:
        if get_origin(hint) is Annotated:
            inner, *marks = get_args(hint)
            refers = next((mark for mark in marks if isinstance(mark, Refers)), None)
            return self._named(refers.map_name, value) if refers and isinstance(value, str) else self._value(inner, value)
        if hint == Point:
            return [each + by for each, by in zip(value, self._shift, strict=True)]
        if get_origin(hint) in (Union, UnionType):
            return self._value(self._chosen(get_args(hint), value), value)
        if isinstance(value, list):
            return [self._value(get_args(hint)[0], each) for each in value]
        return self._facts(hint, value) if isinstance(hint, type) and issubclass(hint, Facts) else value

    def _chosen(self, kinds: tuple[Any, ...], value: Mapping[str, Any]) -> Any:
        return next(kind for kind in kinds if set(json_names(kind).values()).issuperset(value))


if __name__ == "__main__":
    main(sys.argv[1:])
