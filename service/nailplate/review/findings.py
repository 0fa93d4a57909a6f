"""Turns what a rule answered into a finding with its place, citations, cautions and fingerprint."""

import hashlib

from nailplate.plan import Facts
from nailplate.review.engine import Judged
from nailplate.review.missing_facts import not_said
from nailplate.review.own_units import as_measured
from nailplate.review.report import Citation, Finding, OutcomeName
from nailplate.review.where import where_of
from nailplate.rulekit import Job, Judgement, Outcome, Rule, Severity, TextStatus, Undetermined, Violation

FINGERPRINT_VERSION = "np1"


def finding_of(rule: Rule, severity: Severity, job: Job, said: Judged, ordinal: int) -> Finding:
    """The finding for a violation, judgement or undetermined outcome. ``ordinal`` tells equal facets of one part apart."""
    outcome = said.outcome
    if not isinstance(outcome, Violation | Judgement | Undetermined):
        raise TypeError(f"{outcome!r} makes no finding")
    found = outcome if not isinstance(outcome, Undetermined) else None
    finding = Finding(
        fingerprint=_fingerprint(rule, said.part, outcome.facet, ordinal),
        rule=rule.id,
        title=rule.title,
        outcome=outcome_name(outcome),
        severity=severity,
        severity_by_default=rule.severity if rule.severity is not severity else None,
        message=message_of(outcome, job),
        where=where_of(job, said.part, outcome),
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
    return as_measured(finding, job.survey)


def outcome_name(outcome: Outcome) -> OutcomeName:
    """What was seen, as a finding gives it."""
    return _NAMES[type(outcome)]


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
