"""Rooms by the dice: every seed another room, crowded or bare, in inches or millimeters, with long names and full gangs."""

import random
from typing import Any

_KINDS = (
    "receptacle",
    "receptacle",
    "receptacle",
    "switch",
    "switch",
    "dimmer",
    "luminaire",
    "connection",
    "thermostat",
    "disconnect",
)
_OVERHEAD = ("luminaire", "luminaire", "fan", "smoke_alarm", "exhaust_fan", "heat_alarm", "track")
_WORDS = (
    "Work",
    "bench",
    "north",
    "pantry",
    "über",
    "by the sliding door",
    "W" * 30,
    "café",
    "日本",
    "🧰",
    "reading nook",
    "mud",
)


def room_by_dice(seed: int) -> dict[str, Any]:
    dice = random.Random(seed)
    unit = dice.choice(("in", "in", "ft", "mm"))
    per_inch = {"in": 1.0, "ft": 1 / 12, "mm": 25.4}[unit]

    def said(inches: float) -> float:
        return round(inches * per_inch, 3)

    wide, deep = dice.uniform(50, 420), dice.uniform(50, 420)
    corners = [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)]
    walls = {
        name: {"level": "main", "kind": "interior", "from": one, "to": other, "thickness": 4.5, "framing": {"spacing": 16.0}}
        for name, one, other in zip("abcd", corners, (*corners[1:], corners[0]), strict=True)
    }
    inside = [(2.25, 2.25), (wide - 2.25, 2.25), (wide - 2.25, deep - 2.25), (2.25, deep - 2.25)]
    circuits = {
        f"c{n}": {"panel": "p", "position": [n, n + 2] if n % 3 == 0 else [n], "label": _name(dice)} for n in range(1, 9)
    }
    boxes: dict[str, Any] = {}
    devices: dict[str, Any] = {}
    for number in range(dice.randint(0, 26)):
        wall = dice.choice("abcd")
        long = wide if wall in "ac" else deep
        gangs = dice.choice((1, 1, 1, 2, 3, 4))
        at = {"wall": wall, "along": dice.uniform(6, long - 6), "height": dice.choice((16, 44, 48, 90)), "side": "left"}
        boxes[f"b{number}"] = {"at": at, "gangs": gangs, "label": _name(dice)}
        for gang in range(gangs if dice.random() < 0.9 else 0):
            devices[f"d{number}-{gang}"] = _device(dice, dice.choice(_KINDS), {"box": f"b{number}"})
    for number in range(dice.randint(0, 9)):
        point = (dice.uniform(8, wide - 8), dice.uniform(8, deep - 8))
        devices[f"o{number}"] = _device(dice, dice.choice(_OVERHEAD), {"at": {"room": "r", "point": point, "height": 96}})
    switches = [name for name, each in devices.items() if each["kind"] in ("switch", "dimmer")]
    outlets = [name for name, each in devices.items() if each["kind"] == "luminaire"]
    controls = {
        f"k{n}": {"switches": [switch], "outlets": dice.sample(outlets, min(2, len(outlets)))}
        for n, switch in enumerate(switches[:6])
        if outlets
    }
    drawn: dict[str, Any] = _scaled(
        {
            "plan_format": 1,
            "name": _name(dice),
            "basis": {"edition": "2023"},
            "units": {"length": unit},
            "levels": {"main": {"kind": "storey", "label": _name(dice), "ceiling": {"height": 96.0}}},
            "walls": walls,
            "rooms": {"r": {"level": "main", "uses": ["living"], "label": _name(dice), "outline": inside}},
            "panels": {"p": {"kind": "subpanel", "at": {"wall": "a", "along": wide / 2, "height": 60.0, "side": "left"}}},
            "circuits": circuits,
            "boxes": boxes,
            "devices": devices,
            "controls": controls,
        },
        said,
    )
    return drawn


def _device(dice: random.Random, kind: str, where: dict[str, Any]) -> dict[str, Any]:
    more: dict[str, Any] = {"gfci": dice.random() < 0.3} if kind == "receptacle" else {}
    return {"kind": kind, "label": _name(dice), "circuit": f"c{dice.randint(1, 8)}", **where, **more}


def _name(dice: random.Random) -> str:
    return " ".join(dice.choice(_WORDS) for _ in range(dice.choice((1, 2, 3, 12))))[:200].strip()


_LENGTHS = ("from", "to", "thickness", "spacing", "outline", "along", "height", "point")


def _scaled(value: Any, said: Any, key: str = "") -> Any:
    """Every length in the plan's unit; coordinates as lists, as JSON has them."""
    if isinstance(value, dict):
        return {name: _scaled(inner, said, name) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_scaled(inner, said, key) for inner in value]
    return said(value) if key in _LENGTHS and isinstance(value, int | float) else value
