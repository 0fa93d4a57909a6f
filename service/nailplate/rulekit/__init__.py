"""What a rule author imports, and all that one imports."""

from nailplate.codes import TextStatus
from nailplate.plan.words import Severity
from nailplate.remedies import Operation, Remedy, add, remove, replace, state
from nailplate.rulekit.cases import Case, CaseError
from nailplate.rulekit.hazards import Hazard
from nailplate.rulekit.job import Job
from nailplate.rulekit.outcomes import (
    Judgement,
    Line,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Undetermined,
    Violation,
)
from nailplate.rulekit.pack import PackError, RulePack
from nailplate.rulekit.places import at_place, each_of, with_facet
from nailplate.rulekit.rule import Cite, Rule, rule
from nailplate.rulekit.subjects import Subject

__all__ = [
    "Case",
    "CaseError",
    "Cite",
    "Hazard",
    "Job",
    "Judgement",
    "Line",
    "NotConcerned",
    "Operation",
    "Outcome",
    "PackError",
    "Pass",
    "Reading",
    "Remedy",
    "Rule",
    "RulePack",
    "Severity",
    "Subject",
    "TextStatus",
    "Undetermined",
    "Violation",
    "add",
    "at_place",
    "each_of",
    "remove",
    "replace",
    "rule",
    "state",
    "with_facet",
]
