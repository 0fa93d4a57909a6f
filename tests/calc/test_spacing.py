"""Receptacle spacing along a run, against cases argued in print, each with its address, and by the laws that hold for any."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate import codes
from nailplate.calc.spacing import Coverage, Gap, RunKind, RunSpacing, coverage, spacing
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS
from nailplate.units import Inches

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


def run_of(kind: RunKind, run: float, positions: list[float], year: str = "2023", closed: bool = False) -> RunSpacing:
    return spacing(kind, Inches(run), [Inches(each) for each in positions], codes.edition(year), closed=closed)


# https://forums.mikeholt.com/threads/32172: one wall of 11 ft 10 in between doorways; one outlet near the middle is enough
@EVERY_EDITION
def test_one_wall_between_two_doorways(year: str) -> None:
    for position in (70, 71, 72):
        assert run_of(RunKind.WALL, 142, [position], year).covered
    found = run_of(RunKind.WALL, 142, [24], year)
    assert (found.required, found.covered, found.gaps) == (1, False, (Gap(Inches(96), Inches(142)),))
    assert run_of(RunKind.WALL, 142, [], year).suggested == (71.0,)


# https://www.ecmag.com/section/codes-standards/article-210-branch-circuits:
# a half wall 7 ft long; an outlet within 6 ft of its end
@EVERY_EDITION
def test_a_half_wall_of_seven_feet(year: str) -> None:
    assert not run_of(RunKind.WALL, 84, [0], year).covered
    assert not run_of(RunKind.WALL, 84, [11.9], year).covered
    assert run_of(RunKind.WALL, 84, [12], year).covered
    assert run_of(RunKind.WALL, 84, [], year).required == 1


# https://forums.mikeholt.com/showthread.php?t=75969: a 63 in counter with an outlet 24 in from the right wall needs a second;
# 16 in and 48 in looks good
@EVERY_EDITION
def test_a_counter_of_63_inches(year: str) -> None:
    found = run_of(RunKind.COUNTER, 63, [39], year)
    assert (found.required, found.covered, found.gaps) == (2, False, (Gap(Inches(0), Inches(15)),))
    assert run_of(RunKind.COUNTER, 63, [16, 48], year).covered
    assert run_of(RunKind.COUNTER, 63, [39, *found.suggested], year).covered


# https://forums.mikeholt.com/threads/2587744: a 2 ft wall between two doors needs its own outlet
@EVERY_EDITION
def test_a_wall_of_two_feet_between_doors(year: str) -> None:
    found = run_of(RunKind.WALL, 24, [], year)
    assert (found.required, found.covered, found.suggested) == (1.0, False, (12.0,))
    short = run_of(RunKind.WALL, 23.9, [], year)
    assert (short.required, short.covered, short.gaps, short.suggested) == (0, True, (), ())


# http://www.electrical-contractor.net/forums/ubbthreads.php/posts/88869.html: a counter counts from 12 in on
@EVERY_EDITION
def test_a_counter_counts_from_12_inches_on(year: str) -> None:
    assert [run_of(RunKind.COUNTER, length, [], year).required for length in (11.9, 12, 48, 48.1)] == [0, 1, 1, 2]


@pytest.mark.parametrize(("length", "required"), [(24, 1), (144, 1), (144.1, 2), (288, 2), (288.1, 3)])
def test_the_least_number_is_the_length_over_twelve_feet(length: float, required: int) -> None:
    assert run_of(RunKind.WALL, length, []).required == required


def test_metric_dust_makes_no_gap() -> None:
    assert run_of(RunKind.WALL, 3657.6 / 25.4, [1828.8 / 25.4]).covered
    assert run_of(RunKind.WALL, 3 * (0.1 + 0.2) * 160, []).required == 1


def test_a_gap_between_two_outlets_is_told_and_filled() -> None:
    found = run_of(RunKind.WALL, 400, [60, 340])
    assert found.gaps == (Gap(Inches(132), Inches(268)),)
    assert found.suggested == (200.0,)
    assert run_of(RunKind.WALL, 400, [60, 340, 200]).covered


def test_a_closed_ring_reaches_over_its_seam() -> None:
    assert run_of(RunKind.WALL, 288, [0, 144]).gaps == (Gap(Inches(216), Inches(288)),)
    assert run_of(RunKind.WALL, 288, [0, 144], closed=True).covered
    assert run_of(RunKind.WALL, 288, [10, 154], closed=True).covered
    found = run_of(RunKind.WALL, 400, [150, 250], closed=True)
    assert found.gaps == (Gap(Inches(0), Inches(78)), Gap(Inches(322), Inches(400)))
    assert run_of(RunKind.WALL, 400, [150, 250, *found.suggested], closed=True).covered
    assert run_of(RunKind.WALL, 400, [], closed=True).gaps == (Gap(Inches(0), Inches(400)),)


def test_a_gap_of_a_ring_that_starts_past_the_seam_is_told_once() -> None:
    assert run_of(RunKind.WALL, 400, [100, 390], closed=True).gaps == (Gap(Inches(172), Inches(318)),)
    assert run_of(RunKind.WALL, 400, [200, 330], closed=True).gaps == (Gap(Inches(2), Inches(128)),)


def test_steps_tell_the_run_the_reach_and_each_gap() -> None:
    found = run_of(RunKind.COUNTER, 63, [39])
    assert [step.measure.value for step in found.steps] == [63, 24, 2, 15]
    assert {step.citation for step in found.steps} == {"210.52(C)(1)"}
    assert {step.citation for step in run_of(RunKind.WALL, 63, []).steps} == {"210.52(A)(1)", "210.52(A)(2)"}


@pytest.mark.parametrize(("run", "position"), [(100, 101), (100, -1), (-5, 0), (float("nan"), 0), (float("inf"), 0)])
def test_nonsense_is_refused(run: float, position: float) -> None:
    with pytest.raises(CalculationError):
        run_of(RunKind.WALL, run, [position])


LENGTHS = st.floats(0, 1200).map(lambda each: round(each, 2))
KINDS = st.sampled_from(RunKind)


def found_for(kind: RunKind, length: float, shares: list[float], closed: bool) -> tuple[Coverage, list[Inches]]:
    table = codes.edition("2023").spacing
    limits = table.wall if kind is RunKind.WALL else table.counter
    places = [Inches(share * length) for share in shares]
    return coverage(Inches(length), places, limits, closed=closed), places


def uncovered(found: Coverage) -> float:
    return sum(gap.end - gap.start for gap in found.gaps)


@given(KINDS, LENGTHS, st.lists(st.floats(0, 1), max_size=6), st.floats(0, 1), st.booleans())
def test_another_outlet_never_worsens_the_coverage(
    kind: RunKind, length: float, shares: list[float], more: float, closed: bool
) -> None:
    before, _ = found_for(kind, length, shares, closed)
    after, _ = found_for(kind, length, [*shares, more], closed)
    assert uncovered(after) <= uncovered(before) + 1e-6
    assert after.covered or not before.covered


@given(KINDS, LENGTHS, st.lists(st.floats(0, 1), max_size=6), st.booleans())
def test_the_suggested_outlets_cover_the_run(kind: RunKind, length: float, shares: list[float], closed: bool) -> None:
    found, places = found_for(kind, length, shares, closed)
    table = codes.edition("2023").spacing
    limits = table.wall if kind is RunKind.WALL else table.counter
    after = coverage(Inches(length), [*places, *found.suggested], limits, closed=closed)
    assert after.covered
    assert bool(found.suggested) is not found.covered
    if not places:
        assert len(found.suggested) == found.required


@given(LENGTHS, st.lists(st.floats(0, 1), max_size=6), st.floats(0, 1), st.booleans())
def test_a_point_lies_in_a_gap_just_when_every_outlet_is_too_far(
    length: float, shares: list[float], share: float, closed: bool
) -> None:
    found, places = found_for(RunKind.WALL, length, shares, closed)
    point = share * length
    straight = [abs(point - place) for place in places]
    distances = [min(each, length - each) for each in straight] if closed else straight
    nearest = min(distances, default=math.inf)
    in_gap = any(gap.start < point < gap.end for gap in found.gaps)
    if length >= 24 and 0 < point < length and abs(nearest - 72) > 1e-6:
        assert in_gap is (nearest > 72)


@given(LENGTHS, st.lists(st.floats(0, 1), max_size=12), st.booleans())
def test_a_covered_run_has_at_least_the_number_required(length: float, shares: list[float], closed: bool) -> None:
    found, places = found_for(RunKind.WALL, length, shares, closed)
    if found.covered:
        assert len(places) >= found.required
