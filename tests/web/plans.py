"""Plans for the tests of the service, right and wrong."""

from typing import Any

SMALL: dict[str, Any] = {
    "plan_format": 1,
    "name": "Alder Row Cabins, model Finch",
    "basis": {"edition": "2023"},
    "panels": {"panel": {"kind": "subpanel"}},
    "circuits": {"lights": {}},
    "boxes": {"hall": {"volume": "4 in3", "clamps": "none"}, "porch": {"volume": "60 in3", "clamps": "none"}},
    "devices": {"switch": {"kind": "switch", "box": "hall", "circuit": "lights"}},
    "cables": {
        "feed": {
            "type": "NM-B",
            "size": "14 AWG",
            "insulated": 2,
            "grounding": "14 AWG",
            "circuit": "lights",
            "ends": [{"panel": "panel"}, {"box": "hall"}],
        },
        "onward": {
            "type": "NM-B",
            "size": "14 AWG",
            "insulated": 2,
            "grounding": "14 AWG",
            "circuit": "lights",
            "ends": [{"box": "hall"}, {"box": "porch"}],
        },
    },
}
"""Its hall box is too small for two cables and a switch."""

DRAWN: dict[str, Any] = {
    "plan_format": 1,
    "name": "Alder Row Cabins, model Wren",
    "basis": {"edition": "2023"},
    "levels": {"main": {"kind": "storey", "elevation": 0}},
    "walls": {"north": {"level": "main", "from": [0, 0], "to": [120, 0], "thickness": 4.5, "kind": "interior"}},
    "rooms": {"hall": {"level": "main", "uses": ["hallway"], "outline": [[0, 0], [120, 0], [120, 60], [0, 60]]}},
}


def with_change(plan: dict[str, Any], *path: str, to: object) -> dict[str, Any]:
    """A copy of ``plan`` with another value at a path of one member or more."""
    name, *rest = path
    return {**plan, name: with_change(plan.get(name, {}), *rest, to=to) if rest else to}
