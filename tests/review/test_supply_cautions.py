"""A cord that suits by the number of circuits, as a vehicle's article counts, and not by what runs at once is cautioned of."""

from typing import Any

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.wire import read_plan_value


def cautions(rating: int, power: str) -> list[str]:
    plan: dict[str, Any] = {
        "plan_format": 1,
        "name": "van",
        "basis": {"edition": "2023", "regime": "recreational_vehicle"},
        "supplies": {"cord": {"label": "Shore cord", "kind": "cord_inlet", "voltage": "120", "rating": rating}},
        "panels": {"p": {"supply": "cord", "kind": "load_center"}},
        "circuits": {name: {"panel": "p", "voltage": 120, "breaker": {"rating": 20, "poles": 1}} for name in ("a", "b", "c")},
        "appliances": {
            name: {
                "kind": "wall_heater",
                "volts": 120,
                "power": power,
                "fastened": True,
                "circuit": name,
                "connection": "hard_wired",
            }
            for name in ("a", "b", "c")
        },
    }
    return [each for each in check(read_plan_value(plan), catalog()).cautions if each.startswith("'Shore cord'")]


def test_a_cord_that_cannot_carry_everything_at_once_is_told() -> None:
    (caution,) = cautions(30, "1500 W")
    assert "the load comes to 37.5 A where the supply gives 30 A" in caution


def test_a_cord_that_carries_all_is_not() -> None:
    assert cautions(30, "500 W") == []
