"""One missing GFCI breaker is one entry with its places, not as many dangers."""

from typing import Any

from nailplate.catalog import catalog
from nailplate.render.wording import together
from nailplate.review import check
from nailplate.wire import read_plan_value

GARAGE: dict[str, Any] = {
    "plan_format": 1,
    "name": "garage",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "levels": {"main": {"kind": "storey"}},
    "rooms": {"g": {"level": "main", "outline": [[0, 0], [240, 0], [240, 240], [0, 240]], "uses": ["garage"]}},
    "circuits": {name: {"voltage": 120, "breaker": {"rating": 20, "protects": "none"}} for name in ("c", "other")},
    "devices": {
        f"r{number}": {
            "kind": "receptacle", "rating": 20, "voltage": 125, "gfci": False, "fed_from": "circuit",
            "circuit": "c" if number < 5 else "other", "at": {"room": "g", "point": [30 + 20 * number, 2], "height": 42},
        }
        for number in range(6)
    },
}  # fmt: skip


def test_five_places_on_one_circuit_are_one_cause() -> None:
    answer = check(read_plan_value(GARAGE), catalog())
    lacking = [each for each in answer.findings if each.rule == "gfci-locations"]
    group = next(each for each in answer.groups if set(each.findings) & {finding.fingerprint for finding in lacking})
    assert [operation.path for operation in group.remedy.patch] == ["/circuits/c/breaker/protects"]
    assert sorted(each.where.ids[0] for each in lacking if each.cause == group.cause) == ["r0", "r1", "r2", "r3", "r4"]
    assert [len(told) for told in together(lacking)] == [5, 1]


def test_a_finding_alone_has_no_cause() -> None:
    devices = {"r0": GARAGE["devices"]["r0"]}
    answer = check(read_plan_value({**GARAGE, "devices": devices}), catalog())
    (finding,) = [each for each in answer.findings if each.rule == "gfci-locations"]
    assert finding.cause is None
