"""No receptacle is proposed on the wall that a range stands at: nobody reaches it there (common practice)."""

from typing import Any

from nailplate.rulekit import Violation
from rules.judging import answers, document, loaded, packs


def kitchen(range_from: float) -> dict[str, Any]:
    """A wall of 144 in with a doorway at each end, and a range of 30 in somewhere at it."""
    outline = [[range_from, 0], [range_from + 30, 0], [range_from + 30, 26], [range_from, 26]]
    wall = {"level": "m", "thickness": 4.5, "kind": "interior"}
    return {
        "levels": {"m": {"kind": "storey"}},
        "walls": {
            "s": {**wall, "from": [-2.25, -2.25], "to": [146.25, -2.25]},
            "n": {**wall, "from": [146.25, 98.25], "to": [-2.25, 98.25]},
            "e": {**wall, "from": [146.25, -2.25], "to": [146.25, 98.25]},
            "w": {**wall, "from": [-2.25, 98.25], "to": [-2.25, -2.25]},
        },
        "openings": {
            "east": {"wall": "e", "along": 2.25, "width": 96, "kind": "cased"},
            "west": {"wall": "w", "along": 2.25, "width": 96, "kind": "cased"},
            "north": {"wall": "n", "along": 2.25, "width": 144, "kind": "cased"},
        },
        "rooms": {"r": {"level": "m", "uses": ["kitchen"], "outline": [[0, 0], [144, 0], [144, 96], [0, 96]]}},
        "appliances": {"g": {"kind": "range", "room": "r", "fastened": False, "footprint": outline}},
        "devices": {},
    }


def proposed(plan: dict[str, Any]) -> list[float]:
    """Where along the wall the remedies of the rule put receptacles, in inches."""
    case = {"edition": "nec-2023", "plan": plan}
    found = [each for _, each in answers(packs().rules["wall-space"], loaded(document(case))) if isinstance(each, Violation)]
    patch = [step for each in found for remedy in each.remedies for step in remedy.patch]
    added: list[tuple[str, Any]] = [(str(step.path), step.value) for step in patch]
    devices = [each for path, value in added for each in (value.values() if path == "/devices" else [value])]
    return [float(device["at"]["along"].removesuffix(" in")) for device in devices]


def test_no_receptacle_is_proposed_behind_a_range() -> None:
    for start in (40, 57, 70):
        places = proposed(kitchen(start))
        assert places
        assert not any(start < place - 2.25 < start + 30 for place in places), (start, places)
