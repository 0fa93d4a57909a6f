"""A figure is the same whatever unit the question is asked in; more of a load or of a conductor never turns a figure around."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate.plan import PlanRefused
from nailplate.wire import calculate

DROP = {"edition": "2023", "voltage": "120 V", "current": "16 A", "length": "70 ft", "size": "12 AWG"}
HOUSE = {
    "edition": "2023",
    "method": "standard",
    "floor_area": "1500 ft2",
    "appliances": [{"kind": "range", "power": "12 kW"}, {"kind": "dryer", "current": "25 A", "voltage": "240 V"}],
}
TRAILER = {
    "edition": "2023",
    "regime": "park_trailer",
    "supply": {"voltage": "120/240", "rating": "50 A"},
    "circuits": [{"rating": "20 A", "count": 6}],
    "length": "30 ft",
    "width": "8 ft 6 in",
    "appliances": [{"kind": "heat", "power": "1.5 kW", "voltage": "240 V"}],
}
BOX = {"edition": "2023", "conductors": [{"size": "14 AWG", "count": 4, "loop": "3 in"}], "volume": "18 in3"}
# 1 in = 25.4 mm and 1 ft2 = 0.09290304 m2 exactly: NIST SP 811, appendix B.8
ALIKE: list[tuple[str, dict[str, Any], list[dict[str, Any]]]] = [
    (
        "voltage-drop",
        DROP,
        [
            {"length": "840 in"},
            {"length": "70'"},
            {"length": "21336 mm"},
            {"length": "2133.6 cm"},
            {"length": "21.336 m"},
            {"voltage": 120},
            {"voltage": "0.12 kV"},
            {"current": 16},
            {"current": "16000 mA"},
        ],
    ),
    ("ampacity", {"edition": "2023", "size": "12 AWG", "ambient": "40 degC"}, [{"ambient": "104 degF"}]),
    ("ampacity", {"edition": "2023", "size": "12 AWG", "continuous": "8 A"}, [{"continuous": 8}, {"continuous": "8000 mA"}]),
    ("grounding-conductor", {"edition": "2023", "overcurrent": "20 A"}, [{"overcurrent": 20}, {"overcurrent": "0.02 kA"}]),
    (
        "dwelling-load",
        HOUSE,
        [
            {"floor_area": "216000 in2"},
            {"floor_area": "139.35456 m2"},
            {"appliances": [{"kind": "range", "power": 12_000}, {"kind": "dryer", "power": "6000 W"}]},
            {"appliances": [{"kind": "range", "power": "12 kVA"}, {"kind": "dryer", "current": 25, "voltage": "0.24 kV"}]},
        ],
    ),
    (
        "small-supply",
        TRAILER,
        [
            {"length": "9.144 m", "width": "2590.8 mm"},
            {"length": "360 in", "width": "8.5 ft"},
            {"appliances": [{"kind": "heat", "power": "1500 W", "voltage": 240}]},
            {"supply": {"voltage": "120/240", "rating": 50}},
        ],
    ),
    ("spacing", {"edition": "2023", "kind": "wall", "run": "12 ft"}, [{"run": "3657.6 mm"}, {"run": "3.6576 m"}]),
    ("box-fill", BOX, [{"volume": "294.967152 cm3"}, {"volume": "294967.152 mm3"}]),
]


def figures(value: Any) -> list[Any]:
    """Every figure and answer of a result, in order; numbers within float dust are alike."""
    if isinstance(value, dict):
        return [each for key in value for each in (key, *figures(value[key]))]
    if isinstance(value, list):
        return [each for item in value for each in figures(item)]
    return [pytest.approx(value, rel=1e-6, abs=1e-6) if isinstance(value, float) else value]


@pytest.mark.parametrize(
    ("name", "request_", "change"),
    [
        pytest.param(name, request, change, id=f"{name} {number} {place}")
        for number, (name, request, changes) in enumerate(ALIKE)
        for place, change in enumerate(changes)
    ],
)
def test_the_same_question_in_another_unit_has_the_same_answer(
    name: str, request_: dict[str, Any], change: dict[str, Any]
) -> None:
    one, other = calculate(name, request_), calculate(name, {**request_, **change})
    assert flat(other["result"]) == figures(one["result"])
    assert [step["value"] for step in other["steps"]] == figures([step["value"] for step in one["steps"]])


def flat(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [each for key in value for each in (key, *flat(value[key]))]
    return [each for item in value for each in flat(item)] if isinstance(value, list) else [value]


@given(st.integers(1, 60_000))
def test_any_length_in_sixteenths_of_an_inch_drops_the_same_in_millimetres(sixteenths: int) -> None:
    inches = calculate("voltage-drop", {**DROP, "length": f"{sixteenths / 16:.4f} in"})
    millimetres = calculate("voltage-drop", {**DROP, "length": f"{sixteenths * 1.5875:.4f} mm"})
    assert flat(millimetres["result"]) == figures(inches["result"])


SIZES = ["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "3 AWG", "2 AWG", "1 AWG", "1/0 AWG", "2/0 AWG", "3/0 AWG"]


@given(
    st.integers(0, len(SIZES) - 2),
    st.sampled_from(["2017", "2020", "2023", "2026"]),
    st.sampled_from([None, "NM-B", "UF-B", "SE", "raceway"]),
    st.integers(1, 45),
    st.integers(-20, 85),
    st.booleans(),
)
def test_a_larger_conductor_never_lowers_a_figure(
    place: int, year: str, method: str | None, together: int, ambient: int, insulated: bool
) -> None:
    asked = {
        "edition": year,
        "current_carrying": together,
        "ambient": f"{ambient} degC",
        "in_thermal_insulation": insulated,
        "whole_dwelling": True,
        **({"method": method} if method else {}),
    }
    smaller, larger = (calculate("ampacity", {**asked, "size": SIZES[place + step]})["result"] for step in (0, 1))
    assert larger["ampacity"]["value"] >= smaller["ampacity"]["value"]
    for limit in ("next_size_up", "cord_and_plug_receptacles"):
        assert _rating(larger["max_overcurrent"][limit]) >= _rating(smaller["max_overcurrent"][limit])
    assert _rating(larger["whole_dwelling"].get("largest_rating", {})) >= _rating(
        smaller["whole_dwelling"].get("largest_rating", {})
    )


def _rating(limit: dict[str, Any]) -> float:
    return float(limit.get("value", 0.0))


@pytest.mark.parametrize(
    ("name", "request_", "bare", "pointer"),
    [
        ("voltage-drop", DROP, {"length": 100}, "/length"),
        ("small-supply", TRAILER, {"width": 8.5}, "/width"),
        ("spacing", {"edition": "2023", "kind": "wall", "run": "12 ft"}, {"run": 12}, "/run"),
        ("spacing", {"edition": "2023", "kind": "wall", "run": "12 ft"}, {"positions": [3]}, "/positions/0"),
        ("box-fill", BOX, {"conductors": [{"size": "14 AWG", "count": 4, "loop": 3}]}, "/conductors/0/loop"),
    ],
)
def test_a_bare_length_is_refused(name: str, request_: dict[str, Any], bare: dict[str, Any], pointer: str) -> None:
    with pytest.raises(PlanRefused) as refused:
        calculate(name, {**request_, **bare})
    assert [(str(each.pointer), "has no unit" in each.detail) for each in refused.value.faults] == [(pointer, True)]
