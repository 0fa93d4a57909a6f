"""Voltage drop, against worked examples in print, each with its address."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate.calc.steps import CalculationError
from nailplate.calc.voltage_drop import DropMethod, Run, voltage_drop
from nailplate.codes import EDITIONS, Material, edition
from nailplate.units import Amperes, Inches, Volts

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


def run(volts: float, current: float, feet: float, size: str, **more: object) -> Run:
    return Run(voltage=Volts(volts), current=Amperes(current), length=Inches(feet * 12), size=size, **more)  # type: ignore[arg-type]  # tests pass names


@EVERY_EDITION
@pytest.mark.parametrize(
    ("what", "volts", "percent"),
    [
        # https://journeymaniq.com/states/california/voltage-drop-practice
        (run(120, 16, 70, "12 AWG", method=DropMethod.K_FACTOR), 4.43, 3.69),
        # https://tradelicenseprep.com/nc-sp-ph-prep/calc-voltage-drop
        (run(120, 20, 100, "12 AWG", method=DropMethod.K_FACTOR), 7.9, 6.6),
        # http://electrician2.com/weltrain05/lpage135.html prints 16.7 percent from the rounded 4.0 V
        (run(24, 4, 100, "16 AWG", stranded=True), 3.99, 16.6),
    ],
)
def test_drops_in_print(year: str, what: Run, volts: float, percent: float) -> None:
    found = voltage_drop(what, edition(year))
    assert found.drop == pytest.approx(volts, abs=0.01)
    assert found.percent == pytest.approx(percent, abs=0.05)
    assert found.at_load == pytest.approx(what.voltage - found.drop)


# https://www.voltexam.com/questions/electrician/voltage-drop: one copy of the page marks 6.4 V, another 5.3 V; 5.3 is the percentage
def test_two_printed_answers_are_wrong() -> None:
    by_k = voltage_drop(run(120, 16, 100, "12 AWG", method=DropMethod.K_FACTOR), edition("2023"))
    by_resistance = voltage_drop(run(120, 16, 100, "12 AWG"), edition("2023"))
    assert (round(by_k.drop, 2), round(by_resistance.drop, 2), round(by_k.percent, 1)) == (6.32, 6.18, 5.3)
    assert {round(by_k.drop, 1), round(by_resistance.drop, 1)}.isdisjoint({6.4, 5.3})


# http://electricianpracticetests.com/national-electrical-code-questions/voltage-drop-calculations-1-nec-code-questions/, question 4
def test_by_the_resistance_of_table_9() -> None:
    found = voltage_drop(run(120, 8, 100, "12 AWG", method=DropMethod.IMPEDANCE), edition("2023"))
    assert found.drop == pytest.approx(3.2)


# the same page, question 1: 5 percent of 240 V leave 228 V
def test_five_percent_of_240_volts_leave_228() -> None:
    feet = 0.05 * 240 / (2 * 1.98 / 1000 * 16)  # as long as 12 AWG may be, stranded, at 16 A
    found = voltage_drop(run(240, 16, feet, "12 AWG", stranded=True), edition("2023"))
    assert found.at_load == pytest.approx(228.0)


# printed effective impedance at a power factor of 0.85, ohms to neutral per 1000 ft in PVC: Chapter 9 Table 9
@pytest.mark.parametrize(
    ("size", "printed"), [("14 AWG", 2.7), ("12 AWG", 1.7), ("8 AWG", 0.69), ("6 AWG", 0.44), ("4 AWG", 0.29)]
)
def test_effective_impedance_at_085(size: str, printed: float) -> None:
    found = voltage_drop(run(120, 1, 500, size, method=DropMethod.IMPEDANCE, power_factor=0.85), edition("2023"))
    assert found.drop == pytest.approx(printed, rel=0.03)


def test_the_smallest_sizes_keep_the_advice() -> None:
    found = voltage_drop(run(120, 16, 100, "12 AWG"), edition("2023"))
    assert found.smallest == {3.0: "8 AWG", 5.0: "10 AWG"}
    for limit, size in found.smallest.items():
        assert size is not None
        assert voltage_drop(run(120, 16, 100, size), edition("2023")).percent <= limit


def test_three_phases_and_parallel_conductors() -> None:
    one = voltage_drop(run(208, 20, 100, "10 AWG"), edition("2023")).drop
    three = voltage_drop(run(208, 20, 100, "10 AWG", phases=3), edition("2023")).drop
    assert three / one == pytest.approx(3**0.5 / 2)
    assert voltage_drop(run(208, 20, 100, "10 AWG", parallel=2), edition("2023")).drop == pytest.approx(one / 2)


# K of aluminum, 21.2: the page named beside it; 2 x 21.2 x 24 x 150 / 16,510 circular mils (Chapter 9 Table 8) by hand
def test_aluminum_by_its_constant() -> None:
    found = voltage_drop(run(240, 24, 150, "8 AWG", material=Material.ALUMINUM, method=DropMethod.K_FACTOR), edition("2023"))
    assert found.drop == pytest.approx(9.245, abs=0.001)


def test_a_run_without_length_or_current_drops_nothing() -> None:
    assert voltage_drop(run(120, 16, 0, "12 AWG"), edition("2023")).drop == 0.0
    assert voltage_drop(run(120, 0, 100, "12 AWG"), edition("2023")).drop == 0.0


@pytest.mark.parametrize(
    ("what", "step", "note"),
    [
        (run(120, 16, 100, "12 AWG"), "current", ""),
        (run(120, 16, 100, "12 AWG", parallel=2), "current", "2 conductors in parallel share it"),
        (run(120, 16, 100, "12 AWG"), "length and return", "there and back"),
        (run(208, 16, 100, "12 AWG", phases=3), "length and return", "three phases: root of 3"),
        (run(120, 16, 100, "12 AWG"), "ohms for 1000 ft of one conductor", ""),
        (
            run(120, 16, 100, "12 AWG", method=DropMethod.K_FACTOR),
            "ohms for 1000 ft of one conductor",
            "K 12.9 / 6530 circular mils",
        ),
        (
            run(120, 16, 100, "12 AWG", method=DropMethod.IMPEDANCE, power_factor=0.8),
            "ohms for 1000 ft of one conductor",
            "R x 0.8 + X x 0.6",
        ),
    ],
)
def test_the_working_says_what_the_figures_are_made_of(what: Run, step: str, note: str) -> None:
    assert [each.note for each in voltage_drop(what, edition("2023")).steps if each.what == step] == [note]


@pytest.mark.parametrize(
    "wrong",
    [
        run(0, 1, 1, "12 AWG"),
        run(120, -1, 1, "12 AWG"),
        run(120, 1, -1, "12 AWG"),
        run(120, 1, 1, "13 AWG"),
        run(120, 1, 1, "12 AWG", phases=2),
        run(120, 1, 1, "12 AWG", power_factor=1.5, method=DropMethod.IMPEDANCE),
        run(120, 1, 1, "12 AWG", parallel=0),
        run(120, 1, 1, "12 AWG", k=0.0, method=DropMethod.K_FACTOR),
        run(120, 1, 1, "12 AWG", material=Material.ALUMINUM, method=DropMethod.IMPEDANCE),
    ],
)
def test_what_makes_no_sense_is_refused(wrong: Run) -> None:
    with pytest.raises(CalculationError):
        voltage_drop(wrong, edition("2023"))


# Chapter 9 Table 8 has no solid conductors over 8 AWG
def test_a_size_without_a_figure_is_refused_by_what_it_is() -> None:
    with pytest.raises(CalculationError, match="solid conductor"):
        voltage_drop(run(120, 1, 1, "4 AWG", stranded=False), edition("2023"))


SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG")


@given(
    size=st.integers(min_value=0, max_value=len(SIZES) - 2),
    feet=st.floats(min_value=1, max_value=500),
    method=st.sampled_from(DropMethod),
)
def test_a_larger_conductor_drops_less(size: int, feet: float, method: DropMethod) -> None:
    smaller, larger = (
        voltage_drop(run(120, 15, feet, SIZES[each], method=method), edition("2023")) for each in (size, size + 1)
    )
    assert larger.drop < smaller.drop
