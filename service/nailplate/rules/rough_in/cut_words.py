"""What rules about holes and notches say of the member, and how engineered members are judged: by their manufacturer or designer alone."""

from typing import Final

from nailplate.plan.words import FramingMaterial
from nailplate.rulekit import Outcome, Pass, Remedy, Violation
from nailplate.rules.rough_in.told_once import run_words
from nailplate.survey.rough_in import Run, material_of, member_of, role_of

ENGINEERED: Final = (FramingMaterial.ENGINEERED,)
"""Trusses, I-joists, LVL and glulam (IRC R502.8.2, R802.7.2)."""


def member_words(run: Run) -> str:
    """``2x4 stud``."""
    return f"{member_of(run)} {role_of(run).value}"


def by_approval(run: Run, cut: str) -> Outcome:
    """A cut in an engineered member, header or beam. Raises UnknownFact where it is not said whether anybody allows it."""
    if run.segment.cut_approved:
        return Pass()
    kind = "an engineered member" if material_of(run) in ENGINEERED else f"a {role_of(run).value}"
    return Violation(
        message=f"{run_words(run)}: it goes through {cut} in {kind}, which neither its manufacturer nor a designer allows.",
        remedies=(Remedy("Leave the member whole and run the cable around it, or have a designer allow the cut in writing."),),
    )
