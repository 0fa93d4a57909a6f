"""pint quantities through the client: into a plan as text, out of findings and calculations as quantities."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pint
import pytest

from nailplate.client import Client
from nailplate.quantities import PINT_UNITS, as_quantities, as_texts
from nailplate.units import CANONICAL, SCALES, Dimension, QuantityError, Unit, read_quantity
from web.served import Served, served

ROOT = Path(__file__).parents[2]
REGISTRY: Any = pint.UnitRegistry()
Q = REGISTRY.Quantity


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("quantities"), {}) as running:
        yield running


@pytest.mark.parametrize(
    ("quantity", "text"),
    [
        (Q(2.4, "m"), "2.4 m"),
        (Q(63, "mm"), "63 mm"),
        (Q(7.5, "ft"), "7.5 ft"),
        (Q(18, "in**3"), "18 in3"),
        (Q(240, "ft**2"), "240 ft2"),
        (Q(1.5, "kW"), "1.5 kW"),
        (Q(1800, "VA"), "1800 VA"),
        (Q(313.15, "K"), "40 degC"),
        (Q(1, "mile"), "63360 in"),
        (Q(4, ""), 4),
    ],
)
def test_a_quantity_is_written_as_a_plan_states_it(quantity: Any, text: object) -> None:
    assert as_texts({"a": [quantity, (quantity,), "x", None]}) == {"a": [text, [text], "x", None]}


@pytest.mark.parametrize("spelling", [each for each in SCALES if each.isascii() and each.isalpha()])
def test_what_pint_makes_of_a_unit_reads_back_as_the_same(spelling: str) -> None:
    """Own unit or the canonical one: by pint it is the same quantity as the one that the table reads."""
    scale = SCALES[spelling]
    name = {"C": "degC", "F": "degF", "amp": "ampere", "amps": "ampere", "lbs": "pound"}.get(spelling, spelling)
    written = as_texts(Q(37.5, name))
    wanted = Q(37.5, name).m_as(PINT_UNITS[CANONICAL[scale.dimension]])
    assert read_quantity(written, scale.dimension) == pytest.approx(wanted, rel=1e-9)
    assert read_quantity(f"37.5 {spelling}", scale.dimension) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("quantity", [Q(1, "newton"), Q(float("nan"), "m"), Q(float("inf"), "A"), Q(1e-12, "m")])
def test_what_a_plan_cannot_state_is_refused(quantity: Any) -> None:
    with pytest.raises(QuantityError):
        as_texts({"a": quantity})


def test_every_unit_of_figures_has_its_quantity() -> None:
    assert set(PINT_UNITS) == set(Unit)
    for dimension in Dimension:
        figure = as_quantities({"value": 2.0, "unit": str(CANONICAL[dimension])}, REGISTRY)
        assert read_quantity(as_texts(figure), dimension) == 2.0


def test_a_plan_of_quantities_is_answered_in_quantities(service: Served) -> None:
    client = Client(service.base, registry=REGISTRY)
    boxes = {"b": {"volume": Q(0.13, "L"), "clamps": "none"}, "e": {"volume": Q(1, "L"), "clamps": "none"}}
    devices = {"d": {"kind": "receptacle", "box": "b", "rating": Q(15, "A"), "voltage": Q(125, "V")}}
    cable = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "grounding": "14 AWG", "circuit": "c"}
    plan = {
        "plan_format": 1, "name": "Quantities", "basis": {"edition": "2023", "regime": "dwelling"}, "units": {"length": "mm"},
        "circuits": {"c": {}}, "panels": {"p": {"kind": "subpanel"}},
        "boxes": boxes, "devices": devices,
        "cables": {
            "a": {**cable, "ends": [{"panel": "p"}, {"box": "b"}]}, "f": {**cable, "ends": [{"box": "b"}, {"box": "e"}]},
        },
    }  # fmt: skip
    found = next(each for each in client.check(plan, rules=["box-volume"])["findings"] if each["outcome"] == "violation")
    assert found["measured"].m_as("cm**3") == pytest.approx(130)
    assert found["limit"].m_as("inch**3") == pytest.approx(14)
    assert found["limit"] > found["measured"]


def test_a_metric_plans_lengths_come_in_its_unit() -> None:
    figure = as_quantities({"value": 90.0, "unit": "in", "in_plan_unit": 2286.0}, REGISTRY, "mm")
    assert str(figure.units) == "millimeter"
    assert figure.magnitude == pytest.approx(2286)


def test_a_calculation_takes_and_gives_quantities(service: Served) -> None:
    client = Client(service.base, registry=REGISTRY)
    request = {"edition": "2023", "conductors": [{"size": "14 AWG", "count": 4}], "volume": Q(20, "in**3")}
    result = client.calculate("box-fill", request)["result"]
    assert result["counted"] == Q(8.0, "in**3")
    assert result["counted"].m_as("mL") == pytest.approx(131.0965, abs=1e-3)


def test_without_quantities_the_client_leaves_pint_alone() -> None:
    code = (
        "import sys; from nailplate.client import Client, _plain; Client('http://127.0.0.1:1'); _plain({'a': 1});"
        "print('pint' in sys.modules)"
    )
    environment = {"PYTHONPATH": str(ROOT / "service")}
    answer = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "False"
