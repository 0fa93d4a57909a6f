"""The cutting plan: no piece is lost, doubled or spliced; few pieces are cut as well as any division; bounds hold."""

import random
from collections.abc import Iterator, Sequence

import pytest

from nailplate.calc.cutting import COILS, EXACT, FOOT, CuttingPlan, cutting_plan
from nailplate.units import Inches


def feet(*lengths: float) -> list[float]:
    return [each * FOOT for each in lengths]


def divisions(pieces: Sequence[float]) -> Iterator[list[list[float]]]:
    """Every way to divide pieces among coils."""
    if not pieces:
        yield []
        return
    first, *rest = pieces
    for division in divisions(rest):
        yield [[first], *division]
        for number, group in enumerate(division):
            yield [*division[:number], [first, *group], *division[number + 1 :]]


def bought(division: list[list[float]]) -> float:
    sizes = [next((coil for coil in COILS if coil >= sum(group)), float("inf")) for group in division]
    return sum(sizes)


def assert_whole(plan: CuttingPlan, pieces: Sequence[float]) -> None:
    cut = [place for coil in plan.coils for place in coil.pieces]
    assert sorted((*cut, *plan.from_reel)) == list(range(len(pieces)))
    for coil in plan.coils:
        assert sum(pieces[place] for place in coil.pieces) == pytest.approx(coil.used)
        assert coil.used <= coil.size + 1e-6
    assert plan.bought >= plan.bound - 1e-6


def test_five_runs_of_100_ft_take_three_coils_of_250_ft_and_not_two() -> None:
    """A worked example of the trade: 500 ft in all, and no run may be spliced in a wall."""
    plan = cutting_plan(feet(100, 100, 100, 100, 100), [Inches(250 * FOOT)])
    assert len(plan.coils) == 3


def test_few_pieces_are_cut_as_well_as_any_division() -> None:
    chance = random.Random(7)
    for _ in range(12):
        pieces = feet(*(chance.uniform(4, 120) for _ in range(6)))
        plan = cutting_plan(pieces)
        assert_whole(plan, pieces)
        assert plan.exact
        assert plan.bought == pytest.approx(min(bought(division) for division in divisions(pieces)))


def test_many_pieces_stay_between_the_bound_and_a_coil_each() -> None:
    chance = random.Random(11)
    for number in (EXACT + 1, 25, 90):
        pieces = feet(*(chance.uniform(4, 60) for _ in range(number)))
        plan = cutting_plan(pieces)
        assert_whole(plan, pieces)
        assert not plan.exact
        assert sum(pieces) <= plan.bound <= plan.bought <= bought([[piece] for piece in pieces])


def test_a_piece_longer_than_any_coil_comes_from_a_reel() -> None:
    plan = cutting_plan(feet(300, 20))
    assert plan.from_reel == (0,)
    assert [coil.size for coil in plan.coils] == feet(25)


def test_no_piece_takes_no_coil() -> None:
    assert cutting_plan([]).coils == ()
