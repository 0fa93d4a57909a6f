"""Bytes to a plan, or every fault there is, each with its pointer."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError

from nailplate.plan import PART_KINDS, ROOT, Facts, Fault, FaultCode, Plan, PlanRefused, Pointer
from nailplate.plan.defaults import SEGMENTS, Defaults
from nailplate.plan.words import LengthUnit
from nailplate.survey.handedness import mirrored
from nailplate.survey.said_once import with_stated_elsewhere
from nailplate.survey.soundness import drawing_faults
from nailplate.units import SCALES
from nailplate.wire.completing import DEFAULTS, Completion, unsaid
from nailplate.wire.compound_fields import Loaded
from nailplate.wire.continued_routes import continued
from nailplate.wire.default_fields import Section
from nailplate.wire.faults import Placed, faults_in, in_document_order, problems_in, told
from nailplate.wire.fields import DEFAULTED, LENGTH_FACTOR, UNITS_UNSAID, Problem, found
from nailplate.wire.json_text import read_json
from nailplate.wire.limits import MOST_PARTS
from nailplate.wire.plan_schema import default_sections, holding_facts, reader_of
from nailplate.wire.references import lost_references

__all__ = ["built", "faults_in", "plan_digest", "read_plan", "read_plan_value"]


def read_plan(source: bytes) -> Plan:
    """The plan that ``source`` holds. Raises NotJson, or PlanRefused with every fault found."""
    return read_plan_value(read_json(source))


def plan_digest(value: object) -> str:
    """SHA-256 of the plan as a value: the same however its text is spaced or its keys are ordered."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return f"sha256:{hashlib.sha256(text.encode()).hexdigest()}"


def read_plan_value(value: object) -> Plan:
    """The plan that a JSON value is. Raises PlanRefused with every fault, in the document's order."""
    if not isinstance(value, dict):
        raise PlanRefused((Fault(ROOT, FaultCode.WRONG_TYPE, f"{found(value)} was found; a plan is an object"),))
    _check_size(value)
    facts, problems = loaded(value)
    if "defaults" in value:
        facts = _completed(facts, value, problems)
    if "cables" in facts:
        facts = {**facts, "cables": continued(facts["cables"], problems)}
    plan = Plan(with_stated_elsewhere({name: built(fact, ROOT / name) for name, fact in facts.items()}, value))
    problems += lost_references(value)
    problems += ((fault.pointer, Problem(fault.code, fault.detail)) for fault in drawing_faults(plan))
    if not problems and (fault := mirrored(plan)) is not None:
        problems.append((fault.pointer, Problem(fault.code, fault.detail)))
    if problems:
        raise PlanRefused(tuple(told(in_document_order(problems, value))))
    return plan


def _check_size(value: Mapping[str, Any]) -> None:
    parts = sum(len(given) for name in PART_KINDS if isinstance(given := value.get(name), dict))
    if parts > MOST_PARTS:
        said = f"the plan has {parts} parts; at most {MOST_PARTS} are taken"
        raise PlanRefused((Fault(ROOT, FaultCode.LIMIT_EXCEEDED, said),))


def loaded(value: Mapping[str, Any]) -> tuple[Mapping[str, Any], list[Placed]]:
    """What could be read, and what is wrong with the rest. Of a document with faults, the parts without are enough to be drawn."""
    token, no_unit = LENGTH_FACTOR.set(_length_factor(value)), UNITS_UNSAID.set("units" not in value)
    unsaid_here = DEFAULTED.set(unsaid(value, default_sections()) if "defaults" in value else {})
    try:
        plan: Loaded[Plan] = reader_of(Plan).load(value)
        return plan.facts, []
    except ValidationError as error:
        sound = error.valid_data if isinstance(error.valid_data, dict) else {}
        names = (*PART_KINDS, "defaults")
        return {name: sound[name] for name in names if name in sound}, [*problems_in(error.messages, ROOT)]
    finally:
        LENGTH_FACTOR.reset(token)
        UNITS_UNSAID.reset(no_unit)
        DEFAULTED.reset(unsaid_here)


def _completed(facts: Mapping[str, Any], document: Mapping[str, Any], problems: list[Placed]) -> dict[str, Any]:
    """The facts with every part completed by the plan's defaults; where those are wrong, as far as they are sound."""
    read = facts.get("defaults", {})
    sound = not any(pointer.startswith(DEFAULTS) for pointer, _ in problems)
    named = document["defaults"] if isinstance(document["defaults"], dict) else {}
    sections = {name: read.get(name, Section({}, {})) for name in default_sections() if name in named}
    completion = Completion(sections, default_sections(), unsaid(document, default_sections()))
    done = completion.completed(facts)
    problems += completion.problems if sound else ()
    if not sound:
        return done
    segments = (lambda at, given: built(completion.segment(given), at)) if SEGMENTS in sections else None
    return {**done, "defaults": Defaults(completion.taken(document), segments)}


def _length_factor(value: Mapping[str, Any]) -> float:
    """The plan's unit of length in inches; a wrong one is told as a fault when the whole is read."""
    units = value.get("units")
    unit = units.get("length") if isinstance(units, dict) else None
    return float(SCALES[unit].factor) if isinstance(unit, str) and unit in list(LengthUnit) else 1.0


def built(value: Any, pointer: Pointer) -> Any:
    """Gives everything that was read its pointer. The caller's own data is left as it is."""
    kind = type(value)
    if kind is Loaded:
        return _facts(value, pointer)
    if kind is dict and type(next(iter(value.values()), None)) is Loaded:
        return {key: _facts(part, pointer / key) for key, part in value.items()}
    if kind is tuple and value and type(value[0]) is Loaded:
        return tuple([_facts(item, pointer / index) for index, item in enumerate(value)])
    return value


def _facts(value: Loaded[Any], pointer: Pointer) -> Facts:
    kind: type[Facts] = value.kind
    facts = value.facts
    if holding := holding_facts(kind):
        facts = {**facts, **{name: built(facts[name], pointer / key) for name, key in holding if name in facts}}
    return kind(pointer, facts, value.said_at)
