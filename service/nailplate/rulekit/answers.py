"""What a rule answers with: outcomes, their remedies, and the helpers that answer for each of several places.

All of it can be imported from ``nailplate.rulekit`` too; a rule whose names would not fit one line there takes its answers from here.
"""

from nailplate.remedies import Operation, Remedy, add, remove, replace, state
from nailplate.rulekit.outcomes import Judgement, Line, NotConcerned, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.rulekit.places import at_place, each_of

__all__ = [
    "Judgement",
    "Line",
    "NotConcerned",
    "Operation",
    "Outcome",
    "Pass",
    "Reading",
    "Remedy",
    "Undetermined",
    "Violation",
    "add",
    "at_place",
    "each_of",
    "remove",
    "replace",
    "state",
]
