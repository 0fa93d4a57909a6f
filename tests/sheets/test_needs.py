"""The owner's needs: the outlet within each cord, what is kept for later, what has none, and what a circuit carries at once."""

from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.plan import PlanRefused
from nailplate.render import markdown
from nailplate.review import Report, check
from nailplate.sheets.needs import NeedsAnswered
from nailplate.wire import read_plan_value

HOUSE: dict[str, Any] = {
    "plan_format": 1,
    "name": "one room",
    "basis": {"edition": "2023"},
    "units": {"length": "in"},
    "stage": "layout",
    "levels": {"main": {"kind": "storey"}},
    "walls": {
        "s": {"level": "main", "from": [0, 0], "to": [240, 0], "kind": "exterior", "thickness": 6},
        "m": {"level": "main", "from": [120, 0], "to": [120, 120], "kind": "interior", "thickness": 4},
    },
    "rooms": {
        "kitchen": {"level": "main", "outline": [[0, 3], [118, 3], [118, 120], [0, 120]], "uses": ["kitchen"]},
        "den": {"level": "main", "outline": [[122, 3], [240, 3], [240, 120], [122, 120]], "uses": ["living"]},
    },
    "panels": {"p": {"kind": "load_center"}},
    "circuits": {"a": {"panel": "p", "voltage": 120, "breaker": {"rating": 15}}},
    "devices": {
        "r": {
            "kind": "receptacle",
            "contacts": 2,
            "circuit": "a",
            "at": {"wall": "s", "along": 100, "height": 16, "side": "left"},
        }
    },
}


def report(**needs: Any) -> Report:
    """The report on the house with these needs."""
    return check(read_plan_value({**HOUSE, "needs": needs}), catalog())


def answered(**needs: Any) -> NeedsAnswered:
    """The needs answered."""
    found = report(**needs).needs
    assert found is not None
    return found


def kettle(x: float, y: float, cord: int = 36, **more: Any) -> dict[str, Any]:
    """A kettle at a point of the kitchen."""
    return {"what": "kettle", "where": {"room": "kitchen", "point": [x, y]}, "cord_length": cord, "power": 1500, **more}


def test_a_cord_reaches_an_outlet_or_falls_short_of_it_by_its_length() -> None:
    near, far = answered(k=kettle(100, 39)).items[0], answered(k=kettle(100, 39.5)).items[0]
    assert (near.answer, str(near.outlet), str(near.circuit)) == ("served", "/devices/r", "/circuits/a")
    assert near.way is not None
    assert near.way.value == pytest.approx(36)
    assert (far.answer, far.outlet) == ("no_outlet", None)
    assert "3 ft 1/2 in away" in far.words


def test_a_wall_holds_a_cord_back() -> None:
    there = {"what": "lamp", "where": {"room": "den", "point": [125, 10]}, "cord_length": 72}
    assert answered(lamp=there).items[0].answer == "no_outlet"


def test_an_outlet_has_as_many_contacts_as_it_has_and_what_comes_later_is_last() -> None:
    found = answered(a=kettle(100, 20, later=True), b=kettle(100, 20), c=kettle(100, 20))
    assert [(item.at.members[1], item.answer) for item in found.items] == [("b", "served"), ("c", "served"), ("a", "no_outlet")]
    kept = answered(a=kettle(100, 20, later=True), b=kettle(100, 20))
    assert [item.answer for item in kept.items] == ["served", "reserved"]


def test_what_runs_at_once_is_summed_against_the_breaker() -> None:
    (one,) = answered(a=kettle(100, 20)).circuits
    assert (one.now.value, one.fits) == (12.5, True)
    (both,) = answered(a=kettle(100, 20, count=2)).circuits
    assert (both.now.value, both.fits) == (25.0, False)
    (unsaid,) = answered(a={key: value for key, value in kettle(100, 20).items() if key != "power"}).circuits
    assert (unsaid.fits, [str(each) for each in unsaid.needs]) == (None, ["/needs/a/power"])


def test_a_plan_that_does_not_say_its_devices_leaves_needs_undecided() -> None:
    plan = {key: value for key, value in HOUSE.items() if key != "devices"}
    found = check(read_plan_value({**plan, "needs": {"k": kettle(100, 20)}}), catalog()).needs
    assert found is not None
    assert (found.items[0].answer, [str(each) for each in found.items[0].needs]) == ("not_decided", ["/devices"])


def test_needs_are_answered_in_the_document_for_people() -> None:
    text = markdown(report(k=kettle(100, 20), l=kettle(10, 100)))
    assert "## What will be used, and where it is plugged in" in text
    assert "all at once 12.5 A of 15 A" in text


@pytest.mark.parametrize(
    ("need", "pointer", "code"),
    [
        ({"what": "kettle", "cord_length": 36}, "/needs/k/where", "missing-field"),
        ({"what": "kettle", "where": {"room": "attic"}, "cord_length": 36}, "/needs/k/where/room", "dangling-reference"),
        ({"what": "kettle", "where": {"point": [1, 2]}, "cord_length": 36}, "/needs/k/where/room", "missing-field"),
        (kettle(130, 20), "/needs/k/where/point", "contradiction"),
        (kettle(100, 20, power="1500 A"), "/needs/k/power", "bad-quantity"),
        (kettle(100, 20, watts=3), "/needs/k/watts", "unknown-field"),
    ],
)
def test_a_need_that_is_wrong_is_refused_where_it_is(need: dict[str, Any], pointer: str, code: str) -> None:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({**HOUSE, "needs": {"k": need}})
    assert [(str(fault.pointer), fault.code.value) for fault in refused.value.faults] == [(pointer, code)]
