"""Folds a plan: what most parts of a kind state alike becomes a default, and segments say only where they end.

A default is made only where every part that would take it states that fact, so that the folded plan says what the whole one says.
"""

import copy
import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from nailplate.plan.defaults import SEGMENTS
from nailplate.wire.compound_fields import Detail
from nailplate.wire.plan_schema import default_sections

Path = tuple[str, ...]
EACH_PARTS_OWN = frozenset(
    {
        "wall",
        "room",
        "circuit",
        "second_circuit",
        "box",
        "length",
        "directory",
        "uses",
        "position",
        "serves",
        "outlet",
        "disconnect",
    }
)
"""Facts that read badly as defaults, though several parts may say the same."""


def folded(plan: Any) -> Any:
    """The same plan with defaults."""
    plan = copy.deepcopy(plan)
    for cable in plan["cables"].values():
        if "route" in cable:
            cable["route"] = list(continued(cable["route"]))
    defaults = {}
    for name, shape in default_sections().items():
        parts = (
            [segment for cable in plan["cables"].values() for segment in cable.get("route", ())]
            if name == SEGMENTS
            else [*plan.get(name, {}).values()]
        )
        section = fold(parts, [*paths(shape.schema)], [*shape.values_of])
        if section:
            defaults[name] = section
    return {**plan, "defaults": merged(plan.get("defaults", {}), defaults)}


def merged(own: Any, made: Any) -> Any:
    """The defaults that a plan has, and those made beside them."""
    both = {key: merged(own[key], made[key]) for key in own if isinstance(own[key], dict) and isinstance(made.get(key), dict)}
    return {**own, **made, **both}


def paths(schema: Any) -> Iterator[Path]:
    for name, field in schema.fields.items():
        key = str(field.data_key or name)
        if isinstance(field, Detail):
            yield from ((key, *inner) for inner in paths(field.schema))
        elif key not in EACH_PARTS_OWN:
            yield (key,)


def fold(parts: list[Any], every: list[Path], fields: list[str]) -> dict[str, Any]:
    """The defaults of one section; takes from the parts what equals them."""
    section: dict[str, Any] = {}
    for path in every:
        if path[0] in (*fields, "at") or len(parts) < 3:
            continue
        field = next((each for each in fields if all(each in part for part in parts)), None)
        groups: dict[str | None, list[Any]] = {}
        for part in parts:
            groups.setdefault(part[field] if field else None, []).append(part)
        for kind, members in groups.items():
            value = commonest(members, path)
            if value is not None:
                put(section if kind is None else section.setdefault(kind, {}), path, value)
                for part in members:
                    if at(part, path) == value:
                        drop(part, path)
    return section


def commonest(parts: list[Any], path: Path) -> Any:
    said = [json.dumps(at(part, path), sort_keys=True) for part in parts]
    value, times = Counter(said).most_common(1)[0]
    return json.loads(value) if times > 1 and "null" not in said else None


def at(part: Any, path: Path) -> Any:
    for key in path:
        part = part.get(key) if isinstance(part, dict) else None
    return part


def put(section: dict[str, Any], path: Path, value: Any) -> None:
    for key in path[:-1]:
        section = section.setdefault(key, {})
    section[path[-1]] = value


def drop(part: dict[str, Any], path: Path) -> None:
    if len(path) > 1:
        drop(part[path[0]], path[1:])
    if len(path) == 1 or not part[path[0]]:
        del part[path[0]]


def continued(route: list[Any]) -> Iterator[Any]:
    """The segments of a route, each that goes on from the one before in the short way."""
    before: Any = {}
    for segment in route:
        points, heights = segment.get("points", []), segment.get("heights", [])
        goes_on = len(points) == len(heights) == 2 and (points[0], heights[0], segment.get("level")) == before
        if goes_on:
            rest = {key: value for key, value in segment.items() if key not in ("points", "heights")}
            yield {**rest, "to": points[1], "to_height": heights[1]}
        else:
            yield segment
        before = (points[-1], heights[-1], segment.get("level")) if points and len(points) == len(heights) else {}
