"""What is no dwelling unit is never clear over protection that nobody judged."""

import pytest

from nailplate.catalog import catalog
from nailplate.plan.trade import NOT_DWELLINGS
from nailplate.review import check
from nailplate.wire import read_plan_value

BATH = {
    "plan_format": 1,
    "name": "bath",
    "levels": {"main": {"kind": "storey"}},
    "rooms": {"bath": {"level": "main", "outline": [[0, 0], [60, 0], [60, 72], [0, 72]], "uses": ["bathroom"]}},
    "circuits": {"c": {"voltage": 120, "breaker": {"rating": 20, "protects": "none"}}},
    "devices": {
        "r": {
            "kind": "receptacle", "rating": 20, "voltage": 125, "gfci": False, "tamper_resistant": False, "circuit": "c",
            "at": {"room": "bath", "point": [30, 2], "height": 42},
        }
    },
}  # fmt: skip


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("regime", sorted(NOT_DWELLINGS))
def test_a_bath_without_gfci_is_a_danger_in_every_class(regime: str, edition: str) -> None:
    answer = check(read_plan_value({**BATH, "basis": {"edition": edition, "regime": str(regime)}}), catalog())
    found = {each.rule for each in answer.findings if each.outcome == "violation" and each.severity == "danger"}
    assert found & {"gfci-locations", "gfci-other-classes"}
    assert answer.verdict == "violations"
