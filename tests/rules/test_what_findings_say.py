"""What a finding says beside its figures: how many faces, which of them, near or within. Cases hold the figures alone."""

import pytest

from nailplate.rulekit import Violation
from rules.judging import packs, trials

NOT_PLATED = "1-1/16 in hole in the center of a 2x4, one step past the limit, not plated"
ONE_PLATE = "5/8 in hole in a 2x3 wants plates on both faces and has one"
ONE_FACE = "3/4 in hole 1/4 in out of center, without a plate"


@pytest.mark.parametrize(
    ("rule", "case", "said"),
    [
        ("bored-hole-edge", NOT_PLATED, "to the member's edge on both faces; 1 1/4 in is required, and no face is plated."),
        (
            "bored-hole-edge",
            ONE_PLATE,
            "to the member's edge on both faces; 1 1/4 in is required, and only one face is plated.",
        ),
        ("bored-hole-edge", ONE_FACE, "leave 1 1/8 in to the member's edge; 1 1/4 in is required, and no face is plated."),
        (
            "bored-hole-edge",
            "hole stated by its edge distance alone, 1/4 in from the edge and no plate",
            "the holes leave 1/4 in to the member's edge",
        ),
        (
            "wall-space",
            "a receptacle switched in place of a ceiling light does not count",
            "does not count: a switch turns all of it off, in place of a ceiling light.",
        ),
        ("closet-luminaire", "too close by its middle, whatever its width", "is 8 in from the shelf space"),
        ("closet-luminaire", "in the middle of the shelves", "is in the shelf space"),
    ],
)
def test_a_finding_says_what_is_there(rule: str, case: str, said: str) -> None:
    told = [
        outcome.message
        for trial in trials(packs().rules[rule])
        if trial.case.description == case
        for _, outcome in trial.answers
        if isinstance(outcome, Violation)
    ]
    assert told
    assert all(said in each for each in told), told
