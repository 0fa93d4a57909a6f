"""Plans that are no house: thousands of parts in one place are drawn in a bounded time, and what found no room is noted."""

import time
from typing import Any

import pytest

from nailplate.plan import Pointer
from nailplate.sheets.drawing import PAPERS, Findings, Mark, Stamp, level_sheet
from nailplate.survey import Survey
from nailplate.wire import read_plan_value
from sheets.reading_svg import anchors, overlaps, parsed, texts

HEAD: dict[str, Any] = {
    "plan_format": 1,
    "name": "crowd",
    "basis": {"edition": "2023"},
    "levels": {"m": {"kind": "storey"}},
}
SQUARE = [[0, 2], [300, 2], [300, 300], [0, 300]]
WALL = {"level": "m", "kind": "interior", "from": [0, 0], "to": [300, 0], "thickness": 4}
AT = {"wall": "w", "along": 50, "height": 16, "side": "left"}
CROWDS: dict[str, dict[str, Any]] = {
    "1500 devices in one place": {
        "walls": {"w": WALL},
        "rooms": {"r": {"level": "m", "uses": ["living"], "outline": SQUARE}},
        "circuits": {"c": {"label": "W" * 100}},
        "devices": {f"d{n}": {"kind": "receptacle", "circuit": "c", "label": "W" * 100, "at": AT} for n in range(1500)},
    },
    "300 rooms in one place": {
        "rooms": {f"r{n}": {"level": "m", "uses": ["living"], "label": "W" * 100, "outline": SQUARE} for n in range(300)}
    },
    "1000 walls across one another": {
        "walls": {
            f"w{n}": {**WALL, "from": [n % 50 * 3, n // 50], "to": [n % 50 * 3 + 1000, n // 50 + 500]} for n in range(1000)
        }
    },
}


@pytest.mark.parametrize("name", CROWDS)
def test_a_crowd_is_drawn_in_a_bounded_time(name: str) -> None:
    plan = read_plan_value({**HEAD, **CROWDS[name]})
    marks = [Mark(n + 1, "code", open=False, words="w", pointers=(Pointer(f"/devices/d{n}"),)) for n in range(300)]
    began = time.process_time()
    svg = level_sheet(Survey(plan), plan.levels["m"], PAPERS["letter"], Stamp("x", "2023"), Findings(marks))
    assert time.process_time() - began < 6.0
    assert anchors(svg, "devices").keys() == CROWDS[name].get("devices", {}).keys()
    if "rooms" in CROWDS[name]:
        assert "No room on the sheet to letter" in " ".join(each.said for each in texts(parsed(svg)))
    if "devices" not in CROWDS[name]:
        assert overlaps(svg) == []
