"""A house with one place for each difference that the editions make about GFCI and AFCI, and nothing in it protected."""

import json
from typing import Any

from nailplate.catalog import catalog
from nailplate.review import Report, check
from nailplate.wire import read_plan

FAR = 400  # inches between two rooms, so that no cord reaches from one into the next


def report(edition: str, permit_date: str, **basis: Any) -> Report:
    return check(read_plan(json.dumps(house(edition, permit_date, **basis)).encode()), catalog())


def house(edition: str, permit_date: str, **basis: Any) -> dict[str, Any]:
    return {
        "plan_format": 1,
        "name": "One of each",
        "basis": {"edition": edition, "permit_date": permit_date, "regime": "dwelling", **basis},
        "levels": {name: {"kind": name if name != "main" else "storey"} for name in ("main", "attic", "crawl_space", "grade")},
        "rooms": {
            name: {"level": "main", "outline": _outline(number), **facts} for number, (name, facts) in enumerate(_ROOMS.items())
        },
        "walls": {
            "bath-wall": {
                "level": "main",
                "from": [_left("bath") + 200, 0],
                "to": [_left("bath") + 200, 200],
                "kind": "interior",
            }
        },
        "openings": {"bath-door": {"wall": "bath-wall", "along": 30, "width": 32, "kind": "door"}},
        "fixtures": _FIXTURES,
        "counters": {
            "counter": {"room": "kitchen", "kind": "wall", "back": _line("kitchen", 0, 80), "depth": 25, "height": 36}
        },
        "circuits": {name: _circuit(**facts) for name, facts in _CIRCUITS.items()},
        "appliances": {name: {"connection": "hard_wired", **facts} for name, facts in _APPLIANCES.items()},
        "devices": {name: _device(*facts) for name, facts in _DEVICES.items()},
    }


_ROOMS: dict[str, dict[str, Any]] = {
    "bath": {"uses": ["bathroom"]},
    "garage": {"uses": ["garage"], "floor_above_grade": 0},
    "workshop": {"uses": ["accessory_building"], "habitable": False, "floor_above_grade": 12},
    "porch": {"uses": ["porch"]},
    "playroom": {"uses": ["basement", "recreation"], "finished": True},
    "kitchen": {"uses": ["kitchen"]},
    "pantry": {"uses": ["pantry"]},
    "laundry": {"uses": ["laundry"]},
    "plant-room": {"uses": ["storage"], "exposure": "damp"},
    "bedroom": {"uses": ["bedroom"]},
    "hobby": {"uses": ["recreation"]},
    "yard": {"uses": ["outdoors"], "level": "grade"},
    "attic": {"uses": ["attic"], "level": "attic"},
    "crawl": {"uses": ["crawl_space"], "level": "crawl_space"},
    "hall": {
        "uses": ["hallway"],
        "outline": [[200, 0], [300, 0], [300, 200], [200, 200]],
    },  # beyond the bath's wall and its door
}


def _left(room: str) -> int:
    return list(_ROOMS).index(room) * FAR


def _outline(number: int) -> list[list[int]]:
    left, right = number * FAR, number * FAR + 200
    return [[left, 0], [right, 0], [right, 200], [left, 200]]


def _line(room: str, start: int, end: int) -> list[list[int]]:
    return [[_left(room) + start, 0], [_left(room) + end, 0]]


def _square(room: str, x: int, y: int, side: int = 16) -> list[list[int]]:
    left = _left(room) + x
    return [[left, y], [left + side, y], [left + side, y + side], [left, y + side]]


_FIXTURES = {
    "basin": {"kind": "basin", "room": "bath", "bowl": _square("bath", 180, 40)},
    "sink": {"kind": "kitchen_sink", "room": "kitchen", "bowl": _square("kitchen", 4, 4)},
    "bar": {"kind": "bar_sink", "room": "pantry", "bowl": _square("pantry", 4, 4)},
}

_CIRCUITS: dict[str, dict[str, Any]] = {
    "plain": {},
    "arcs": {"protects": "afci"},
    "charger": {"volts": 240, "amperes": 50},
    "dryer": {"volts": 240, "amperes": 30},
    "cooktop": {"volts": 240, "amperes": 40},
    "pump": {"volts": 240},
    "cooling": {"volts": 240},
    "big-charger": {"volts": 240, "amperes": 60},
    "heater": {"volts": 240, "amperes": 30},
    "lights": {"amperes": 10},
    "welder": {"purpose": "individual"},
}


def _circuit(volts: int = 120, amperes: int = 20, protects: str = "none", **more: Any) -> dict[str, Any]:
    return {"voltage": volts, "breaker": {"rating": amperes, "poles": volts // 120, "protects": protects}, **more}


_APPLIANCES: dict[str, dict[str, Any]] = {
    "fridge": {"kind": "refrigerator", "room": "kitchen", "connection": "cord"},
    "dishwasher": {"kind": "dishwasher", "room": "kitchen", "circuit": "arcs", "gfci_built_in": False},
    "sump-pump": {"kind": "sump_pump", "room": "playroom", "circuit": "arcs", "gfci_built_in": False},
    "cooktop": {"kind": "cooktop", "room": "kitchen", "circuit": "cooktop"},
    "dryer": {
        "kind": "clothes_dryer",
        "room": "laundry",
        "circuit": "dryer",
        "connection": "cord",
        "outlet": "dryer-receptacle",
    },
    "well-pump": {"kind": "well_pump", "room": "yard", "circuit": "pump"},
    "mini-split": {
        "kind": "mini_split",
        "room": "yard",
        "circuit": "cooling",
        "listed_hvac": True,
        "footprint": _square("yard", 20, 20, 40),
    },
    "big-charger": {"kind": "evse", "room": "yard", "circuit": "big-charger"},
    "garage-heater": {"kind": "water_heater", "room": "garage", "circuit": "heater"},
    "furnace": {"kind": "furnace", "room": "attic", "circuit": "plain", "footprint": _square("attic", 20, 20, 40)},
    "welder": {"kind": "welder", "room": "hobby", "circuit": "welder", "connection": "cord"},
}

_DEVICES: dict[str, tuple[str, int, int, str, dict[str, Any]]] = {
    "bath-receptacle": ("bath", 60, 40, "plain", {}),
    "door-receptacle": ("hall", 0, 46, "arcs", {"at": {"room": "hall", "point": [240, 48], "height": 18}}),
    "garage-receptacle": ("garage", 60, 18, "plain", {}),
    "charger-receptacle": ("garage", 150, 40, "charger", {"rating": 50, "voltage": 250}),
    "workshop-receptacle": ("workshop", 60, 18, "plain", {}),
    "porch-receptacle": ("porch", 60, 18, "plain", {}),
    "playroom-receptacle": ("playroom", 60, 18, "arcs", {}),
    "counter-receptacle": ("kitchen", 50, 44, "arcs", {}),
    "fridge-receptacle": ("kitchen", 190, 48, "arcs", {"serves": ["fridge"]}),
    "pantry-receptacle": ("pantry", 190, 18, "arcs", {}),
    "dryer-receptacle": ("laundry", 60, 18, "dryer", {"rating": 30, "voltage": 250}),
    "plant-receptacle": ("plant-room", 60, 18, "arcs", {}),
    "attic-receptacle": ("attic", 100, 18, "plain", {}),
    "crawl-light": ("crawl", 60, 30, "plain", {"kind": "luminaire"}),
    "bedroom-light": ("bedroom", 60, 96, "lights", {"kind": "luminaire"}),
}


def _device(room: str, x: int, height: int, circuit: str, facts: dict[str, Any]) -> dict[str, Any]:
    place = {"room": room, "point": [_left(room) + x, 1], "height": height}
    return {"kind": "receptacle", "circuit": circuit, "rating": 20, "voltage": 125, "gfci": False, "at": place, **facts}
