"""The same house drawn elsewhere: moved, turned, mirrored, or in another unit. What is true of a house is true of it however drawn."""

import copy
import math
from collections.abc import Callable, Mapping
from typing import Any

Plan = dict[str, Any]
Point = list[float]

_POINTS = frozenset({"from", "to", "point"})
_LINES = frozenset({"outline", "bowl", "footprint", "opening", "back", "line", "points", "track"})
_LENGTHS = frozenset(
    {
        *("along", "height", "thickness", "width", "sill", "head", "elevation", "depth", "projection", "rim_height"),
        *("floor_above_grade", "gap_to_house", "suspended_length", "blade_span", "handle_height", "depth_behind"),
    }
)
_OTHER_SIDE = {"left": "right", "right": "left"}


def moved(plan: Plan) -> Plan:
    return _drawn(plan, lambda x, y: (x + 12345.25, y - 678.5))


def turned(plan: Plan, degrees: float) -> Plan:
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return _drawn(plan, lambda x, y: (x * cosine - y * sine, x * sine + y * cosine))


def mirrored(plan: Plan) -> Plan:
    """Seen in a mirror: what was on the left of a wall is on its right."""
    found: Plan = _sides_swapped(_drawn(plan, lambda x, y: (-x, y)))
    return found


def in_millimetres(plan: Plan) -> Plan:
    return {**_scaled(plan, 25.4), "units": {"length": "mm"}}


def _drawn(plan: Plan, to: Callable[[float, float], tuple[float, float]]) -> Plan:
    def walk(value: Any, key: str = "") -> Any:
        if key in _POINTS and isinstance(value, list):
            return list(to(*value))
        if key in _LINES and isinstance(value, list) and value and isinstance(value[0], list):
            return [list(to(*point)) for point in value]
        if isinstance(value, Mapping):
            return {name: walk(each, name) for name, each in value.items()}
        return [walk(each) for each in value] if isinstance(value, list) else value

    found: Plan = walk(copy.deepcopy(plan))
    return found


def _sides_swapped(value: Any, key: str = "") -> Any:
    if isinstance(value, Mapping):
        return {name: _sides_swapped(each, name) for name, each in value.items()}
    if isinstance(value, list):
        return [_sides_swapped(each) for each in value]
    return _OTHER_SIDE.get(value, value) if key in ("side", "swing", "facing") else value


def _scaled(value: Any, by: float, key: str = "") -> Any:
    if isinstance(value, Mapping):
        return {name: _scaled(each, by, name) for name, each in value.items()}
    if isinstance(value, list):
        deep = key in _POINTS | _LINES
        return [
            [part * by for part in each] if deep and isinstance(each, list) else each * by if deep else _scaled(each, by)
            for each in value
        ]
    return value * by if key in _LENGTHS and isinstance(value, int | float) and not isinstance(value, bool) else value
