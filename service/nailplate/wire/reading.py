"""Bytes to a plan, or every fault there is, each with its pointer."""

import difflib
import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any, get_args, get_origin, get_type_hints

from marshmallow import ValidationError

from nailplate.plan import PART_KINDS, ROOT, Facts, Fault, FaultCode, Plan, PlanRefused, Pointer
from nailplate.plan.facts import Refers, json_names
from nailplate.plan.words import LengthUnit
from nailplate.units import SCALES
from nailplate.wire.cross_checks import drawing_faults
from nailplate.wire.fields import LENGTH_FACTOR, Loaded, Problem, found
from nailplate.wire.json_text import read_json
from nailplate.wire.plan_schema import schema_of

MOST_PARTS = 100_000
"""Parts of one map; the size of the body bounds a plan before this does."""


MOST_SUGGESTIONS = 20
"""References to nothing for which the id that was probably meant is looked for."""


def read_plan(source: bytes) -> Plan:
    """The plan that ``source`` holds. Raises NotJson, or PlanRefused with every fault found."""
    return read_plan_value(read_json(source))


def plan_digest(value: object) -> str:
    """SHA-256 of the plan as a value: the same however its text is spaced or its keys are ordered."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return f"sha256:{hashlib.sha256(text.encode()).hexdigest()}"


def read_plan_value(value: object) -> Plan:
    """The plan that a JSON value is. Raises PlanRefused."""
    if not isinstance(value, dict):
        raise PlanRefused((Fault(ROOT, FaultCode.WRONG_TYPE, f"{found(value)} was found; a plan is an object"),))
    token = LENGTH_FACTOR.set(_length_factor(value))
    try:
        loaded: Loaded[Plan] = schema_of(Plan)().load(value)
    except ValidationError as error:
        raise PlanRefused(tuple(faults_in(error.messages, ROOT))) from None
    finally:
        LENGTH_FACTOR.reset(token)
    plan = Plan({name: built(fact, ROOT / name) for name, fact in loaded.facts.items()})
    faults = (*_dangling(plan), *drawing_faults(plan))
    if faults:
        raise PlanRefused(faults)
    return plan


def _length_factor(value: Mapping[str, Any]) -> float:
    """The plan's unit of length in inches; a wrong one is told as a fault when the whole is read."""
    units = value.get("units")
    unit = units.get("length") if isinstance(units, dict) else None
    return float(SCALES[unit].factor) if isinstance(unit, str) and unit in list(LengthUnit) else 1.0


def faults_in(messages: Any, pointer: Pointer) -> Iterator[Fault]:
    """The faults in marshmallow's tree of messages, each with its pointer."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from faults_in(inner, pointer if key == "_schema" else pointer / key)
    else:
        for message in messages:
            problem = message if isinstance(message, Problem) else Problem(FaultCode.WRONG_TYPE, str(message))
            yield Fault(pointer, problem.code, problem.detail)


def built(value: Any, pointer: Pointer) -> Any:
    """Gives everything that was read its pointer."""
    if isinstance(value, Loaded):
        names = json_names(value.kind)
        return value.kind(pointer, {name: built(fact, pointer / names[name]) for name, fact in value.facts.items()})
    if isinstance(value, dict):
        return {key: built(part, pointer / key) for key, part in value.items()}
    if type(value) is tuple and value and isinstance(value[0], Loaded):
        return tuple(built(item, pointer / index) for index, item in enumerate(value))
    return value


def _dangling(plan: Plan) -> Iterator[Fault]:
    """Faults for references to nothing. Looking for what was meant takes long in a large plan; it is done for the first few."""
    lost = (each for part in (*plan.parts(), *_amendments(plan)) for each in _lost(part, plan))
    for number, (pointer, wanted, map_name) in enumerate(lost):
        yield Fault(pointer, FaultCode.DANGLING_REFERENCE, _nowhere(wanted, map_name, plan, suggest=number < MOST_SUGGESTIONS))


def _amendments(plan: Plan) -> tuple[Facts, ...]:
    return tuple(plan.basis.amendments.values()) if plan.basis.knows("amendments") else ()


def _lost(facts: Facts, plan: Plan) -> Iterator[tuple[Pointer, str, str]]:
    """Where a reference to nothing stands, the id it gives, and the map that was meant."""
    references, details = _references(type(facts))
    for name, map_name in references.items():
        if facts.knows(name):
            value = getattr(facts, name)
            for pointer, wanted in _ids(value, facts.where(name)):
                if wanted not in getattr(plan, map_name):
                    yield pointer, wanted, map_name
    for name in details:
        if facts.knows(name):
            value = getattr(facts, name)
            for detail in value if isinstance(value, tuple) else (value,):
                yield from _lost(detail, plan)


def _ids(value: Any, pointer: Pointer) -> Iterator[tuple[Pointer, str]]:
    if isinstance(value, tuple):
        yield from ((pointer / index, each) for index, each in enumerate(value))
    else:
        yield pointer, value


def _nowhere(wanted: str, map_name: str, plan: Plan, *, suggest: bool) -> str:
    elsewhere = [name for name in PART_KINDS if wanted in getattr(plan, name)]
    if elsewhere:
        return f"{wanted!r} is one of the {elsewhere[0]}; the id of one of the {map_name} was wanted"
    close = difflib.get_close_matches(wanted, list(getattr(plan, map_name)), n=1, cutoff=0.5) if suggest else []
    return f"there is none of the {map_name} with the id {wanted!r}" + (f"; did you mean {close[0]!r}?" if close else "")


_KNOWN: dict[type, tuple[dict[str, str], tuple[str, ...]]] = {}


def _references(kind: type[Facts]) -> tuple[dict[str, str], tuple[str, ...]]:
    """The fields of a kind that hold ids, with the map each refers to; and those that hold objects of their own."""
    if kind not in _KNOWN:
        _KNOWN[kind] = _looked_through(kind)
    return _KNOWN[kind]


def _looked_through(kind: type[Facts]) -> tuple[dict[str, str], tuple[str, ...]]:
    references, details = {}, []
    for name, hint in get_type_hints(kind, include_extras=True).items():
        refers = _refers(hint)
        if refers:
            references[name] = refers
        elif _holds_facts(hint):
            details.append(name)
    return references, tuple(details)


def _refers(hint: Any) -> str | None:
    marks = [mark for mark in getattr(hint, "__metadata__", ()) if isinstance(mark, Refers)]
    if marks:
        return marks[0].map_name
    return (
        next((found for inner in get_args(hint) if (found := _refers(inner))), None) if get_origin(hint) is not dict else None
    )


def _holds_facts(hint: Any) -> bool:
    if isinstance(hint, type):
        return issubclass(hint, Facts)
    return get_origin(hint) is not dict and any(_holds_facts(inner) for inner in get_args(hint))
