"""What the door says of ordinary slips: figures that are two, names that others use, choices, scales, an editor's own key."""

from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import read_plan_value

BASE: dict[str, Any] = {"plan_format": 1, "name": "slips", "basis": {"edition": "2023"}}


def said(more: dict[str, Any]) -> str:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({**BASE, **more})
    return refused.value.faults[0].detail


@pytest.mark.parametrize("text", ["120/240 V", "1/2 V", "120 1/2 V"])
def test_a_voltage_is_no_fraction(text: str) -> None:
    assert "state one voltage" in said({"circuits": {"c": {"voltage": text}}})


@pytest.mark.parametrize(
    ("more", "meant"),
    [
        ({"devices": {"d": {"kind": "outlet"}}}, "receptacle"),
        ({"devices": {"d": {"kind": "light"}}}, "luminaire"),
        ({"devices": {"d": {"kind": "recptacle"}}}, "receptacle"),
        ({"outlets": {}}, "devices"),
        ({"devices": {"d": {"kind": "switch", "type": "switch"}}}, "kind"),
    ],
)
def test_a_suggestion_is_what_was_meant(more: dict[str, Any], meant: str) -> None:
    assert f"did you mean {meant!r}?" in said(more)


@pytest.mark.parametrize(
    "more", [{"rooms": {"r": {"uses": ["other"]}}}, {"devices": {"d": {"kind": "switch", "receptacle": 1}}}, {"ducts": {}}]
)
def test_without_a_plausible_one_nothing_is_suggested(more: dict[str, Any]) -> None:
    assert "did you mean" not in said(more)


def test_every_unknown_choice_lists_the_choices() -> None:
    many = {f"d{number}": {"kind": "thing"} for number in range(150)}
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({**BASE, "devices": many})
    assert all("receptacle, switch" in fault.detail for fault in refused.value.faults)


@pytest.mark.parametrize(("insulation", "ambient"), [("75 degC", "86 degF"), ("167 degF", "30 degC"), ("75 C", "30 °C")])
def test_temperatures_are_taken_in_both_scales(insulation: str, ambient: str) -> None:
    conductor = read_plan_value({**BASE, "circuits": {"c": {"conductor": {"insulation": insulation, "ambient": ambient}}}})
    read = conductor.circuits["c"].conductor
    assert read.insulation.value == "75 C"
    assert read.ambient == pytest.approx(30)


def test_the_schema_that_an_editor_checks_by_is_ignored() -> None:
    assert read_plan_value({"$schema": "schemas/plan-1.json", **BASE}).name == "slips"
    assert "no field" in said({"rooms": {"r": {"$schema": "x"}}})
