"""The example houses as values and as plans, and where their parts stand by plain arithmetic on the JSON."""

import math
from functools import cache
from typing import Any

from houses import house as whole_house
from nailplate.plan import Plan
from nailplate.wire import read_plan_value

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")
Point = tuple[float, float]


@cache
def house(name: str) -> dict[str, Any]:
    value: dict[str, Any] = whole_house(name)
    return value


@cache
def plan_of(name: str) -> Plan:
    return read_plan_value(house(name))


def levels() -> list[tuple[str, str]]:
    return [(name, level) for name in HOUSES for level in house(name)["levels"]]


def walls() -> list[tuple[str, str]]:
    return [(name, wall) for name in HOUSES for wall in house(name)["walls"]]


def place_of(value: dict[str, Any], part: dict[str, Any]) -> dict[str, Any] | None:
    """A part's own place, or its box's."""
    at: dict[str, Any] | None = part.get("at") or value["boxes"].get(part.get("box", ""), {}).get("at")
    return at


def stands(value: dict[str, Any], at: dict[str, Any]) -> tuple[str, Point]:
    """Level and point of a place: on the finished face of a wall (left as seen from its from end), or where a room holds it."""
    if "room" in at:
        return value["rooms"][at["room"]]["level"], (at["point"][0], at["point"][1])
    wall = value["walls"][at["wall"]]
    (x1, y1), (x2, y2) = wall["from"], wall["to"]
    long = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    off = wall["thickness"] / 2 * (1 if at["side"] == "left" else -1)
    return wall["level"], (x1 + ux * at["along"] - uy * off, y1 + uy * at["along"] + ux * off)
