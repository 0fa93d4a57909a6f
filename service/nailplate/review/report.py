"""The report: what was found, what was looked at, and what was not."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from nailplate.plan import Pointer, Stage
from nailplate.plan.words import LengthUnit
from nailplate.rulekit import Line, Reading, Remedy, Severity, TextStatus
from nailplate.sheets.loads import Loads
from nailplate.sheets.needs.items import NeedsAnswered
from nailplate.sheets.requirements.items import Requirements
from nailplate.sheets.site_items import SiteList
from nailplate.units import Measure

OutcomeName = Literal["violation", "undetermined", "judgement"]
Verdict = Literal["violations", "incomplete", "clear"]


@dataclass(frozen=True, slots=True)
class Citation:
    """Where a code says so. ``text_status`` is how sure that is: verified in a public source, from memory, or assumed."""

    document: str
    edition: str
    section: str
    text_status: TextStatus
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Where:
    """The place of a finding: its pointer, the ids of its parts, and as far as the plan says it room, level and point (inches)."""

    pointer: Pointer
    ids: tuple[str, ...]
    label: str | None = None
    room: str | None = None
    level: str | None = None
    point: tuple[float, float] | None = None
    wall: str | None = None
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None
    related: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class Accepted:
    """Who accepted a finding, why, and until when."""

    suppression: str
    reason: str
    accepted_by: str
    until: str | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a rule found, or could not decide, about one place."""

    fingerprint: str
    rule: str
    title: str
    outcome: OutcomeName
    severity: Severity
    message: str
    where: Where
    severity_by_default: Severity | None = None
    measured: Measure | None = None
    limit: Measure | None = None
    figures_shown: str | None = None
    lines: tuple[Line, ...] = ()
    citations: tuple[Citation, ...] = ()
    hazards: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    needs: tuple[Pointer, ...] = ()
    readings: tuple[Reading, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    accepted: Accepted | None = None
    baseline: Literal["new", "unchanged"] | None = None
    cause: str | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """Findings of one cause: the act that corrects them all, and their fingerprints."""

    cause: str
    remedy: Remedy
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Nearest:
    """Of the places that a rule passed, the one nearest to its limit. ``margin`` is the distance as a share of the limit."""

    at: Pointer
    measured: Measure
    limit: Measure
    margin: float


@dataclass(slots=True)
class RuleCoverage:
    """How many places one rule judged, and how. ``later`` were undetermined by facts that a later stage will bring."""

    rule: str
    severity: Severity
    passed: int = 0
    violations: int = 0
    undetermined: int = 0
    judgements: int = 0
    later: int = 0
    not_concerned: int = 0
    crashed: int = 0
    nearest: Nearest | None = None


@dataclass(frozen=True, slots=True)
class NotInForce:
    """A rule that did not run, and why."""

    rule: str
    why: str


class Gap(StrEnum):
    """Why a subject is not covered, or not whole."""

    NO_RULE = "no_rule"
    NOT_IN_FORCE = "not_in_force"
    IN_PART = "in_part"
    UNDETERMINED = "undetermined"
    LATER = "later"
    NOTHING_DRAWN = "nothing_drawn"


@dataclass(frozen=True, slots=True)
class NotCovered:
    """A subject that the verdict says nothing of, or not all: in words, why, and the rules that it is up to."""

    subject: str
    gap: Gap
    why: str
    rules: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Coverage:
    """What the report rests on, and what it does not."""

    rules: tuple[RuleCoverage, ...]
    not_in_force: tuple[NotInForce, ...]
    not_checked: tuple[str, ...]
    site_checks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PackStamp:
    """A rule pack in force and its version."""

    name: str
    version: str


@dataclass(frozen=True, slots=True)
class AmendmentStamp:
    """A local amendment that acted, in words."""

    id: str
    effect: str
    citation: str
    reason: str


@dataclass(frozen=True, slots=True)
class BasisStamp:
    """What the house was judged by, as understood."""

    edition: str
    stage: Stage
    stage_assumed: bool
    regime: str
    packs: tuple[PackStamp, ...]
    permit_date: str | None = None
    residential_code: str | None = None
    jurisdiction: str | None = None
    amendments: tuple[AmendmentStamp, ...] = ()


@dataclass(frozen=True, slots=True)
class MadeStamp:
    """Which version made the report, and the caller's date, by which suppressions hold or have ended."""

    version: str
    date: str | None = None


@dataclass(frozen=True, slots=True)
class PlanStamp:
    """Which plan this is."""

    name: str
    digest: str | None = None
    file: str | None = None
    length_unit: LengthUnit | None = None


@dataclass(frozen=True, slots=True)
class Wanted:
    """A missing fact that several findings wait for, and how many do."""

    pointer: Pointer
    findings: int


@dataclass(frozen=True, slots=True)
class SelectionStamp:
    """What the caller's selection left out: ``hidden`` findings were made and are not listed."""

    rules: tuple[str, ...]
    ignore: tuple[str, ...]
    severities: tuple[Severity, ...]
    rooms: tuple[str, ...]
    hidden: int
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BaselineEntry:
    """A finding of an earlier report."""

    fingerprint: str
    rule: str
    pointer: Pointer
    severity: Severity | None = None


@dataclass(frozen=True, slots=True)
class BaselineStamp:
    """The findings against an earlier report: how many are new and unchanged, and the entries that are gone."""

    new: int
    unchanged: int
    absent: tuple[BaselineEntry, ...]


@dataclass(frozen=True, slots=True)
class DefaultStamp:
    """One of the plan's own defaults, and how many parts took it because they state nothing else."""

    pointer: Pointer
    value: object
    parts: int


@dataclass(frozen=True, slots=True)
class Summary:
    """The findings counted."""

    danger: int
    code: int
    advice: int
    violations: int
    undetermined: int
    judgements: int
    accepted: int
    later: int
    listed: int
    left_out: int


@dataclass(frozen=True, slots=True)
class Report:
    """The answer to one plan."""

    plan: PlanStamp
    basis: BasisStamp
    verdict: Verdict
    not_covered: tuple[NotCovered, ...]
    summary: Summary
    findings: tuple[Finding, ...]
    accepted: tuple[Finding, ...]
    coverage: Coverage
    cautions: tuple[str, ...]
    loads: Loads | None = None
    made: MadeStamp | None = None
    state_first: tuple[Wanted, ...] = ()
    groups: tuple[Group, ...] = ()
    selection: SelectionStamp | None = None
    baseline: BaselineStamp | None = None
    defaults: tuple[DefaultStamp, ...] = ()
    site_list: SiteList | None = None
    requirements: Requirements | None = None
    needs: NeedsAnswered | None = None
    report_format: int = field(default=1)
