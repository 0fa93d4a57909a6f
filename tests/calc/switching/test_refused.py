"""What cannot be wired is said by part, and what would take too long is said too."""

from dataclasses import replace

import pytest

from nailplate.calc.steps import CalculationError
from nailplate.calc.switching import (
    Cable,
    Control,
    FaultKind,
    Layout,
    LayoutRefused,
    Load,
    NotWorkedOut,
    Outlet,
    Switch,
    Wiring,
    solve,
    truth_table,
    usual_cable,
)
from nailplate.plan.words import Ways

ONE, TWO, THREE, FOUR = Ways.SINGLE_POLE, Ways.DOUBLE_POLE, Ways.THREE_WAY, Ways.FOUR_WAY
SOUND = Layout(
    feed="a",
    boxes=("a", "b", "c"),
    cables=(Cable("ab", ("a", "b"), 3), Cable("bc", ("b", "c"), 2)),
    controls=(Control("x", (Switch("s", "a"),), (Outlet("o", "c"),)),),
)


def control(*kinds: Ways) -> Control:
    return Control("x", tuple(Switch(f"s{number}", "a", kind) for number, kind in enumerate(kinds)), (Outlet("o", "c"),))


FAULTY: list[tuple[Layout, list[tuple[FaultKind, str]]]] = [
    (replace(SOUND, feed="z"), [(FaultKind.UNKNOWN_BOX, "z")]),
    (replace(SOUND, cables=(*SOUND.cables, Cable("bz", ("b", "z")))), [(FaultKind.UNKNOWN_BOX, "bz")]),
    (replace(SOUND, loads=(Load("r", "z"),)), [(FaultKind.UNKNOWN_BOX, "r")]),
    (replace(SOUND, cables=SOUND.cables[:1]), [(FaultKind.NO_FEED, "o")]),
    (replace(SOUND, cables=(*SOUND.cables, Cable("ca", ("c", "a"), 2))), [(FaultKind.LOOP, "ca")]),
    (replace(SOUND, cables=(*SOUND.cables, Cable("aa", ("a", "a"), 2))), [(FaultKind.LOOP, "aa")]),
    (replace(SOUND, cables=(*SOUND.cables, Cable("ab2", ("b", "a"), 2))), [(FaultKind.LOOP, "ab2")]),
    (replace(SOUND, cables=(SOUND.cables[0], Cable("bc", ("b", "c"), 1))), [(FaultKind.ONE_CONDUCTOR, "bc")]),
    (replace(SOUND, cables=(*SOUND.cables, Cable("ab", ("b", "c")))), [(FaultKind.TWICE_NAMED, "ab"), (FaultKind.LOOP, "ab")]),
    (replace(SOUND, controls=(replace(SOUND.controls[0], outlets=()),)), [(FaultKind.NOTHING_CONTROLLED, "x")]),
    *(
        (replace(SOUND, controls=(control(*kinds),)), [(FaultKind.UNMATCHED_SWITCHES, "x")])
        for kinds in [
            (),
            (THREE,),
            (FOUR,),
            (ONE, ONE),
            (ONE, THREE),
            (THREE, THREE, THREE),
            (THREE, FOUR),
            (FOUR, FOUR),
            (TWO, TWO),
        ]
    ),
]


@pytest.mark.parametrize(("layout", "wanted"), FAULTY)
def test_a_faulty_layout_is_refused_with_every_fault_and_its_part(layout: Layout, wanted: list[tuple[FaultKind, str]]) -> None:
    with pytest.raises(LayoutRefused) as caught:
        solve(layout)
    assert [(fault.kind, fault.part[1]) for fault in caught.value.faults] == wanted
    assert all(fault.words for fault in caught.value.faults)


@pytest.mark.parametrize("kinds", [(ONE,), (TWO,), (THREE, THREE), (THREE, FOUR, THREE), (FOUR, THREE, FOUR, THREE)])
def test_switches_that_match_are_taken_in_any_order(kinds: tuple[Ways, ...]) -> None:
    assert isinstance(solve(replace(SOUND, controls=(control(*kinds),))), Wiring)


def test_over_the_budget_the_answer_is_that_it_was_not_worked_out() -> None:
    assert isinstance(solve(SOUND), Wiring)
    answer = solve(SOUND, steps=2)
    assert isinstance(answer, NotWorkedOut)
    assert answer.reason


def test_many_chains_that_hang_together_are_not_weighed_for_ever() -> None:
    """Forty three-way pairs along one run of cable, each with its light between its switches."""
    boxes = tuple(f"b{number}" for number in range(60))
    cables = tuple(Cable(f"k{number}", (boxes[number], boxes[number + 1])) for number in range(59))
    pairs = tuple(
        Control(
            f"c{number}",
            (Switch(f"p{number}", boxes[number], THREE), Switch(f"q{number}", boxes[number + 20], THREE)),
            (Outlet(f"o{number}", boxes[number + 10]),),
        )
        for number in range(39)
    )
    assert isinstance(solve(Layout(feed="b0", boxes=boxes, cables=cables, controls=pairs)), NotWorkedOut)


def test_a_long_circuit_is_worked_out() -> None:
    """Two hundred boxes in a row with a switch and a light at each, and pairs of three-way switches from box to box."""
    boxes = tuple(f"b{number}" for number in range(200))
    cables = tuple(Cable(f"k{number}", (boxes[number], boxes[number + 1])) for number in range(199))
    lone = tuple(
        Control(f"c{number}", (Switch(f"s{number}", box),), (Outlet(f"o{number}", box),)) for number, box in enumerate(boxes)
    )
    pairs = tuple(
        Control(
            f"d{number}",
            (Switch(f"p{number}", boxes[number], THREE), Switch(f"q{number}", boxes[number + 1], THREE)),
            (Outlet(f"r{number}", boxes[number + 1]),),
        )
        for number in range(0, 199, 2)
    )
    wiring = solve(Layout(feed="b0", boxes=boxes, cables=cables, controls=(*lone, *pairs)))
    assert isinstance(wiring, Wiring)
    assert [wiring.cables[f"k{number}"].needs for number in (0, 1, 2, 3)] == [4, 2, 4, 2]


def test_a_table_of_too_many_positions_is_refused() -> None:
    lone = tuple(Control(f"c{number}", (Switch(f"s{number}", "a"),), (Outlet(f"o{number}", "a"),)) for number in range(11))
    wiring = solve(Layout(feed="a", boxes=("a",), controls=lone))
    assert isinstance(wiring, Wiring)
    with pytest.raises(CalculationError, match="10 switches"):
        truth_table(wiring)


def test_cables_are_sold_with_two_three_or_four_insulated_conductors() -> None:
    assert [usual_cable(needs) for needs in (0, 2, 3, 4, 5)] == [2, 2, 3, 4, None]
