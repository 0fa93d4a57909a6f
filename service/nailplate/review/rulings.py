"""Judgements that the authority having jurisdiction answered: each settled one way, with who and when.

Unlike a suppression a ruling may settle a danger, since it says which reading of the code is in force at that place.
"""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace

from nailplate.plan import Plan, Ruling
from nailplate.plan.words import RuledAs
from nailplate.review.report import Accepted, Finding, Where
from nailplate.rulekit import Severity

RULE = "ruling-holds"
_TITLE = "A ruling answers a judgement by one of its readings."


def ruled(
    plan: Plan, findings: Sequence[Finding], not_run: AbstractSet[str] = frozenset()
) -> tuple[list[Finding], list[Finding]]:
    """The findings that stand, a violation where it was ruled one, and those that were ruled to pass.

    Among the first is what is wrong with the rulings themselves; of the rules in ``not_run`` nothing is known.
    """
    rulings = list(plan.basis.rulings.values()) if plan.basis.knows("rulings") else []
    if not rulings:
        return list(findings), []
    by_place = {(each.rule, each.part): each for each in rulings}
    standing: list[Finding] = []
    passed: list[Finding] = []
    for finding in findings:
        ruling = by_place.get((finding.rule, str(finding.where.pointer)))
        if ruling is None or not _answers(ruling, finding):
            standing.append(finding)
        elif ruling.reading is RuledAs.PASS:
            passed.append(replace(finding, accepted=Accepted(ruling.id, _told(ruling), ruling.by)))
        else:
            standing.append(replace(finding, outcome="violation", readings=(), message=f"{finding.message} {_told(ruling)}"))
    return [*standing, *_faults(rulings, findings, not_run)], passed


def _answers(ruling: Ruling, finding: Finding) -> bool:
    return finding.outcome == "judgement" and any(each.gives == ruling.reading for each in finding.readings)


def _told(ruling: Ruling) -> str:
    note = f": {ruling.note}" if ruling.knows("note") else ""
    what = "the requirement does not apply here" if ruling.reading is RuledAs.PASS else "the requirement applies here"
    return f"{ruling.by} ruled on {ruling.date} that {what}{note}."


def _faults(rulings: Iterable[Ruling], findings: Sequence[Finding], not_run: AbstractSet[str]) -> Iterator[Finding]:
    for ruling in rulings:
        at_place = [each for each in findings if (each.rule, str(each.where.pointer)) == (ruling.rule, ruling.part)]
        if ruling.rule not in not_run and not any(_answers(ruling, each) for each in at_place):
            yield _finding(ruling)


def _finding(ruling: Ruling) -> Finding:
    digest = hashlib.sha256(f"{RULE}\x1f{ruling.pointer}".encode()).hexdigest()[:20]
    return Finding(
        fingerprint=f"np1-{digest}",
        rule=RULE,
        title=_TITLE,
        outcome="violation",
        severity=Severity.ADVICE,
        message=f"No judgement of {ruling.rule} at {ruling.part} has a reading {ruling.reading.value!r}: this ruling settles nothing.",
        where=Where(ruling.pointer, (ruling.id,)),
    )
