"""Turns what a rule answered into a finding with its place, citations, cautions and fingerprint."""

import hashlib

from nailplate.plan import PART_KINDS, Box, Device, Facts, Panel, Part, Pointer, Room, UnknownFact, Wall
from nailplate.review.engine import Judged
from nailplate.review.missing_facts import not_said
from nailplate.review.own_units import as_measured
from nailplate.review.report import Citation, Finding, OutcomeName, Where
from nailplate.rulekit import Job, Judgement, Rule, Severity, TextStatus, Undetermined, Violation
from nailplate.survey import standing

FINGERPRINT_VERSION = "np1"


def finding_of(rule: Rule, severity: Severity, job: Job, said: Judged, ordinal: int) -> Finding:
    """The finding for a violation, judgement or undetermined outcome. ``ordinal`` tells equal facets of one part apart."""
    outcome = said.outcome
    if not isinstance(outcome, Violation | Judgement | Undetermined):
        raise TypeError(f"{outcome!r} makes no finding")
    pointer = outcome.at or said.part.pointer
    found = outcome if not isinstance(outcome, Undetermined) else None
    finding = Finding(
        fingerprint=_fingerprint(rule, said.part, outcome.facet, ordinal),
        rule=rule.id,
        title=rule.title,
        outcome=_NAMES[type(outcome)],
        severity=severity,
        severity_by_default=rule.severity if rule.severity is not severity else None,
        message=message_of(outcome, job),
        where=_where(job, said.part, pointer, found.related if found else ()),
        measured=found.measured if found else None,
        limit=found.limit if found else None,
        lines=outcome.lines,
        citations=citations(rule, job),
        hazards=tuple(hazard.value for hazard in rule.hazards),
        cautions=tuple(hazard.caution for hazard in rule.hazards),
        needs=outcome.needs if isinstance(outcome, Undetermined) else (),
        readings=outcome.readings if isinstance(outcome, Judgement) else (),
        remedies=found.remedies if found else (),
    )
    return as_measured(finding, job.plan)


_NAMES: dict[type, OutcomeName] = {Violation: "violation", Judgement: "judgement", Undetermined: "undetermined"}


def message_of(outcome: Violation | Judgement | Undetermined, job: Job) -> str:
    """What a finding says; what is missing, in words, where the rule says nothing itself."""
    if outcome.message or not isinstance(outcome, Undetermined):
        return outcome.message
    return f"Cannot be decided. {not_said(job.plan, outcome.needs)}"


def citations(rule: Rule, job: Job) -> tuple[Citation, ...]:
    """Where the code in force says so: the NEC, and the IRC where the rule cites it and the plan states its edition.

    What the residential code alone asks for is cited where the plan states no edition too: from the edition of the IRC that
    carries this NEC (it is dated one year later), as an assumption.
    """
    found = []
    cite = rule.cite(job.edition.year)
    if cite:
        found.append(Citation("NEC", str(job.edition.year), cite.section, cite.status(job.edition.year), cite.note or None))
    stated = job.plan.basis.knows("residential_code")
    if stated or not found:
        year = int(job.plan.basis.residential_code) if stated else job.edition.year + 1
        irc = rule.residential_cite(year)
        if irc:
            status = irc.status(year) if stated else TextStatus.ASSUMED
            found.append(Citation("IRC", str(year), irc.section, status, irc.note or None))
    return tuple(found)


def _fingerprint(rule: Rule, part: Facts, facet: str, ordinal: int) -> str:
    text = "\x1f".join((rule.id, part.pointer, facet, str(ordinal)))
    return f"{FINGERPRINT_VERSION}-{hashlib.sha256(text.encode()).hexdigest()[:20]}"


def _where(job: Job, judged: Facts, pointer: Pointer, related: tuple[Pointer, ...]) -> Where:
    named = _part_at(job, pointer)  # none where a finding is about a whole map, whose name is not that of the part judged
    part = named or judged
    parts = [each for each in dict.fromkeys((part, judged)) if isinstance(each, Part)]
    room, level, point = _place(job, part)
    return Where(
        pointer=pointer,
        ids=tuple(each.id for each in parts),
        label=named.label if named is not None and named.knows("label") else None,
        room=room,
        level=level,
        point=point,
        related=related,
    )


def _part_at(job: Job, pointer: Pointer) -> Part | None:
    members = pointer.members
    if len(members) < 2 or members[0] not in PART_KINDS:
        return None
    part: Part | None = getattr(job.plan, members[0]).get(members[1])
    return part


def _place(job: Job, part: Facts) -> tuple[str | None, str | None, tuple[float, float] | None]:
    if isinstance(part, Room):
        return part.id, part.level, None
    if isinstance(part, Wall):
        return None, part.level, None
    if isinstance(part, Device | Box | Panel):
        try:
            found = standing(job.survey, part)
        except UnknownFact:
            return None, None, None
        return (found.drawn.id if found.drawn else None), found.level, found.point
    room = getattr(part, "room", None) if part.may_state("room") and part.knows("room") else None
    return room, None, None
