"""Holes and notches by actual lumber size against published tables."""

import pytest

from nailplate.calc.framing import DEPTHS
from nailplate.codes import edition
from nailplate.plan.words import Member
from nailplate.survey import Survey
from nailplate.survey.rough_in import end_notch, joist_hole, joist_notch, stud_hole, stud_notch
from nailplate.wire import read_plan

PLAN = read_plan(b'{"plan_format": 1, "name": "p", "basis": {"edition": "2023"}}')
SURVEY = Survey(PLAN, edition("2023"))


# A county's list of common defects rounds the same figures for work: notches 7/8 and 1-3/8, 1-3/8 and 2-3/16 in, 60 % holes 2-1/8 and
# 3-5/16 in (studylib.net/doc/13373209, Mecklenburg County); shares: WAC 296-150C-1000, and a page of the 2018 IRC.
@pytest.mark.parametrize(
    ("member", "bearing", "other", "bearing_notch", "other_notch"),
    [
        (Member.M2X3, 1.00, 1.25, 0.625, 1.00),
        (Member.M2X4, 1.40, 2.10, 0.875, 1.40),
        (Member.M2X6, 2.20, 3.30, 1.375, 2.20),
    ],
)
def test_stud_holes_and_notches_by_actual_size(
    member: Member, bearing: float, other: float, bearing_notch: float, other_notch: float
) -> None:
    depth = DEPTHS[member]
    assert stud_hole(SURVEY, depth, bearing=True) == pytest.approx(bearing)
    assert stud_hole(SURVEY, depth, bearing=True, doubled=True) == pytest.approx(other)
    assert stud_hole(SURVEY, depth, bearing=False) == pytest.approx(other)
    assert stud_notch(SURVEY, depth, bearing=True) == pytest.approx(bearing_notch)
    assert stud_notch(SURVEY, depth, bearing=False) == pytest.approx(other_notch)


# Depth/3, 2 in above and below, notch depth/6: hinarratives.com/notching-boring-framing; worked by hand for each size.
@pytest.mark.parametrize(
    ("member", "hole", "notch"),
    [
        (Member.M2X4, 0.0, 0.583),
        (Member.M2X6, 1.5, 0.917),
        (Member.M2X8, 2.417, 1.208),
        (Member.M2X10, 3.083, 1.542),
        (Member.M2X12, 3.75, 1.875),
    ],
)
def test_joist_holes_and_notches_by_actual_size(member: Member, hole: float, notch: float) -> None:
    assert joist_hole(SURVEY, DEPTHS[member]) == pytest.approx(hole, abs=0.001)
    assert joist_notch(SURVEY, DEPTHS[member]) == pytest.approx(notch, abs=0.001)
    assert end_notch(SURVEY, DEPTHS[member]) == pytest.approx(DEPTHS[member] / 4)
