"""No field of the contract is read by nobody: each has a rule, survey module, calculation or sheet that reads it, or is a note.

The quick test looks for the name in the modules that may read a plan; a name that several kinds share may hide a field. The long one
watches: it checks the example houses and runs every case of every rule, and notes for each kind of part which module asks which field.
"""

import ast
import json
import sys
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

import nailplate
from nailplate.catalog import catalog
from nailplate.plan import Plan
from nailplate.plan.facts import Doc, Facts, Note, Part, json_names
from nailplate.review import Options, check
from nailplate.wire import read_plan
from rules.judging import trials

ROOT = Path(nailplate.__file__).parent
READERS = ("survey", "remedies", "rulekit", "rules", "review", "calculations", "sheets", "render")
AT_THE_DOOR = {("Plan", "plan_format"), ("Segment", "to"), ("Segment", "to_height")}
"""Read while a plan is read and resolved, in ``wire``, before there is a part to ask."""
NOT_READERS = ("nailplate.plan", "nailplate.wire", "rules.", "house.")
LAW = {
    "basis": {
        "edition": "2023",
        "regime": "recreational_vehicle",
        "rulings": {
            "sink": {
                "rule": "gfci-other-classes",
                "part": "/devices/r",
                "reading": "pass",
                "by": "inspector",
                "date": "2026-10-01",
                "note": "letter 1",
            }
        },
        "amendments": {
            "a": {
                "change": "severity",
                "rule": "box-depth",
                "severity": "advice",
                "citation": "town code 1",
                "reason": "as adopted",
            }
        },
    },
    "levels": {"m": {"kind": "storey"}},
    "rooms": {"k": {"level": "m", "outline": [[0, 0], [60, 0], [60, 72], [0, 72]], "uses": ["kitchen"]}},
    "fixtures": {"s": {"kind": "kitchen_sink", "room": "k", "bowl": [[10, 4], [26, 4], [26, 18], [10, 18]]}},
    "circuits": {"c": {"voltage": 120, "breaker": {"rating": 20, "protects": "none"}}},
    "devices": {
        "r": {
            "kind": "receptacle",
            "rating": 20,
            "voltage": 125,
            "gfci": False,
            "circuit": "c",
            "at": {"room": "k", "point": [30, 2], "height": 42},
        }
    },
    "boxes": {"b": {"depth": 0.25}},
    "suppressions": {
        "s": {"rule": "box-depth", "part": "/boxes/b", "reason": "seen", "accepted_by": "inspector", "until": "2030-01-01"}
    },
}
"""What the houses leave out: an amended severity, a ruling, and a finding that somebody accepted."""


NEEDS = {
    "basis": {"edition": "2023"},
    "levels": {"main": {"kind": "storey"}},
    "rooms": {"kitchen": {"level": "main", "uses": ["kitchen"], "outline": [[0, 0], [120, 0], [120, 96], [0, 96]]}},
    "counters": {"c": {"room": "kitchen", "kind": "wall", "outline": [[0, 0], [60, 0], [60, 24], [0, 24]]}},
    "devices": {"r": {"kind": "receptacle", "at": {"room": "kitchen", "point": [30, 2], "height": 42}}},
    "needs": {
        "kettle": {
            "what": "kettle",
            "where": {"room": "kitchen", "counter": "c"},
            "cord_length": 30,
            "power": 1500,
            "count": 1,
        },
        "lamp": {"what": "lamp", "where": {"room": "kitchen", "point": [60, 60]}, "cord_length": 72, "later": True},
    },
}
"""What the houses do not say: what will be used where."""


def kinds(kind: type[Facts] = Plan, seen: dict[str, type[Facts]] | None = None) -> dict[str, type[Facts]]:
    """Every kind of facts that a plan is made of, by name."""
    seen = {} if seen is None else seen
    if kind.__name__ not in seen:
        seen[kind.__name__] = kind
        for hint in get_type_hints(kind).values():
            for inner in _inside(hint):
                kinds(inner, seen)
    return seen


def _inside(hint: Any) -> Iterator[type[Facts]]:
    if isinstance(hint, type) and issubclass(hint, Facts):
        yield hint
    for argument in get_args(hint):
        yield from _inside(argument)


def fields() -> Iterator[tuple[str, str]]:
    """Kind and name of every field of the contract that is no note. What every part has stands once, under ``Part``."""
    shared = get_type_hints(Part)
    yield "Part", "label"
    for name, kind in sorted(kinds().items()):
        if name == "Derived":  # told of a plan that was resolved; the map that holds it is a note
            continue
        for field, hint in get_type_hints(kind, include_extras=True).items():
            marks = getattr(hint, "__metadata__", ())
            if any(isinstance(mark, Doc) for mark in marks) and Note not in marks and (name, field) not in AT_THE_DOOR:
                if issubclass(kind, Part) and field in shared:
                    continue
                yield name, field


def names_in(room: str) -> Iterator[str]:
    for file in (ROOT / room).rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute):
                yield node.attr
            elif isinstance(node, ast.keyword) and node.arg:
                yield node.arg
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield from node.value.split(".")


def test_every_field_is_named_where_a_plan_is_read() -> None:
    named = {name for room in READERS for name in names_in(room)}
    assert [f"{kind}.{field}" for kind, field in fields() if field not in named] == []


@pytest.mark.long
def test_every_field_is_read_by_somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    readers = watched(monkeypatch)
    for model in ("wren", "heron", "osprey"):
        text = files("nailplate").joinpath("examples", f"tamarack-{model}.json").read_text(encoding="utf-8")
        check(read_plan(text.encode()), catalog())
    check(read_plan(json.dumps({"plan_format": 1, "name": "law", **LAW}).encode()), catalog(), Options(today="2029-06-01"))
    check(read_plan(json.dumps({"plan_format": 1, "name": "needs", "units": {"length": "in"}, **NEEDS}).encode()), catalog())
    for rule in catalog().rules.values():
        for _ in trials(rule):
            pass
    assert [f"{kind}.{field}" for kind, field in fields() if not readers.get((kind, field))] == []
    assert readers["Box", "volume"] >= {"nailplate.survey.boxes.box_volumes"}  # the watch itself sees who asks


def watched(monkeypatch: pytest.MonkeyPatch) -> dict[tuple[str, str], set[str]]:
    """Fills up with the modules that ask a field of a kind: its value, or whether it is stated."""
    seen: dict[tuple[str, str], set[str]] = {}
    read = Facts.__getattribute__

    def noting(facts: Facts, name: str) -> Any:
        if name in json_names(type(facts)):
            note(facts, name, sys._getframe(1).f_globals.get("__name__", ""))
        return read(facts, name)

    def note(facts: Facts, name: str, module: str) -> None:
        if not module.startswith(NOT_READERS):
            kind = "Part" if name == "label" else type(facts).__name__
            seen.setdefault((kind, name), set()).add(module)

    def asking(ask: Any) -> Any:
        def asked(facts: Facts, *names: str, **choices: Any) -> Any:
            for name in (*names, *choices):
                note(facts, name, sys._getframe(1).f_globals.get("__name__", ""))
            return ask(facts, *names, **choices)

        return asked

    monkeypatch.setattr(Facts, "__getattribute__", noting)
    for name in ("knows", "is_", "isnt", "is_among"):
        monkeypatch.setattr(Facts, name, asking(getattr(Facts, name)))
    return seen
