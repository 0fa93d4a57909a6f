"""What becomes of a violation where the plan does not say which class of house it is.

A rule that speaks of dwelling units alone is run then too, but whether it applies is open: its violations are for the authority having
jurisdiction to judge, with both readings.
"""

from dataclasses import fields, replace

from nailplate.review.engine import Judged
from nailplate.rulekit import Judgement, Reading, Violation

_UNSAID = "The plan does not say whether this is a dwelling unit (basis, regime)."
_READINGS = (
    Reading("This is a dwelling unit, and the rule applies.", "violation"),
    Reading("This is no dwelling unit, and the rule does not apply to it; those of its own class do.", "pass"),
)


def by_class(said: Judged) -> Judged:
    """What an answer of a rule that speaks of dwelling units alone comes to where the class of the house is undecided."""
    broken = said.outcome
    if not isinstance(broken, Violation):
        return said
    same = {each.name: getattr(broken, each.name) for each in fields(broken) if each.name != "message"}
    open_question = Judgement(f"{broken.message} {_UNSAID}", _READINGS, **same)
    return replace(said, outcome=open_question)
