"""What a change of a plan, or of the edition, changes: findings, parts, what boxes hold, lengths of cable, and load."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import Literal

from nailplate.calc.box_fill import counted_volume
from nailplate.calc.work import Meter, WorkSpent, doing, metered
from nailplate.catalog import Catalog
from nailplate.codes import Edition, edition
from nailplate.codes.comparing import Value, compare
from nailplate.plan import ROOT, Facts, Part, Plan, Pointer, UnknownFact
from nailplate.plan.document import PART_KINDS
from nailplate.plan.facts import json_names
from nailplate.review import BUDGET, Options, OverBudget, Report, check
from nailplate.review.report import Finding, Verdict
from nailplate.survey import Survey
from nailplate.survey.boxes import contents_of
from nailplate.survey.names import name_of
from nailplate.survey.wiring import LengthFrom, cable_length
from nailplate.units import Measure, cubic_inches, inches

_ALL = 10**9


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two plans as it was checked."""

    name: str
    edition: str
    verdict: Verdict
    findings: int
    digest: str | None = None


@dataclass(frozen=True, slots=True)
class Told:
    """One finding that both have and tell otherwise: its message in each, and what differs."""

    fingerprint: str
    rule: str
    at: Pointer
    before: str
    after: str
    differs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part that was added, removed or changed, and the fields that differ; facts from defaults count as the part's own."""

    at: Pointer
    change: Literal["added", "removed", "changed"]
    label: str | None = None
    fields: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FigureChange:
    """A figure that differs. None is what one of the two does not have. ``derived``: the plan states neither it nor a route."""

    at: Pointer
    name: str
    what: str
    before: Measure | None = None
    after: Measure | None = None
    derived: bool = False


@dataclass(frozen=True, slots=True)
class ProvisionChange:
    """A figure, provision or table cell of the code that differs between the two editions."""

    kind: Literal["limit", "provision", "table"]
    table: str
    entry: str
    section: str
    note: str
    before: object = None
    after: object = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two plans, or one by two editions. Findings are the same where their fingerprints are."""

    old: Side
    new: Side
    added: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    changed: tuple[Told, ...]
    unchanged: int
    parts: tuple[PartChange, ...]
    boxes: tuple[FigureChange, ...]
    cables: tuple[FigureChange, ...]
    loads: tuple[FigureChange, ...]
    provisions: tuple[ProvisionChange, ...]
    left_out: int = 0
    comparison_format: int = field(default=1)


def compared(
    old: Plan, new: Plan, catalog: Catalog, options: Options, digests: tuple[str | None, str | None] = (None, None)
) -> Comparison:
    """What the second plan changes against the first.

    Raises PlanRefused for amendments that name nothing there is, and OverBudget where what boxes hold and how long cables are takes
    more steps than two checks have.
    """
    reports = [
        check(plan, catalog, replace(options, max_findings=_ALL), digest)
        for plan, digest in zip((old, new), digests, strict=True)
    ]
    before, after = (_by_fingerprint(report) for report in reports)
    laws = edition(old.basis.edition), edition(new.basis.edition)
    boxes, cables = _figures(old, new, laws, 2 * (options.budget or BUDGET))
    added = [each for key, each in after.items() if key not in before]
    gone = [each for key, each in before.items() if key not in after]
    changed = [told for key, each in after.items() if key in before and (told := _told(before[key], each)) is not None]
    most = options.max_findings
    return Comparison(
        old=_side(reports[0]),
        new=_side(reports[1]),
        added=tuple(added[:most]),
        gone=tuple(gone[:most]),
        changed=tuple(changed[:most]),
        unchanged=len(after) - len(added) - len(changed),
        parts=tuple(_parts(old, new)),
        boxes=boxes,
        cables=cables,
        loads=tuple(_differing(_loads(reports[0]), _loads(reports[1]))),
        provisions=tuple(_provisions(*laws)) if laws[0].year != laws[1].year else (),
        left_out=sum(max(0, len(each) - most) for each in (added, gone, changed)),
    )


def _side(report: Report) -> Side:
    return Side(report.plan.name, report.basis.edition, report.verdict, len(report.findings), report.plan.digest)


# Findings


def _by_fingerprint(report: Report) -> dict[str, Finding]:
    return {each.fingerprint: each for each in (*report.findings, *report.accepted)}


def _told(before: Finding, after: Finding) -> Told | None:
    names = ("outcome", "severity", "message", "measured", "limit", "accepted")
    differs = tuple(name for name in names if getattr(before, name) != getattr(after, name))
    if not differs:
        return None
    return Told(after.fingerprint, after.rule, after.where.pointer, before.message, after.message, differs)


# Parts


def _parts(old: Plan, new: Plan) -> Iterator[PartChange]:
    for name in PART_KINDS:
        before, after = getattr(old, name), getattr(new, name)
        for key in dict.fromkeys((*before, *after)):
            change = _part_change(before.get(key), after.get(key))
            if change is not None:
                yield change


def _part_change(before: Part | None, after: Part | None) -> PartChange | None:
    part = after or before
    if part is None:
        return None
    label = part.label if part.knows("label") else None
    if before is None or after is None:
        return PartChange(part.pointer, "added" if before is None else "removed", label)
    one, two = _said(before), _said(after)
    fields = tuple(sorted(name for name in one.keys() | two.keys() if one.get(name) != two.get(name)))
    return PartChange(part.pointer, "changed", label, fields) if fields else None


def _said(facts: Facts) -> dict[str, object]:
    """What is said of a part, by JSON names, in canonical units."""
    names = json_names(type(facts))
    return {names[name]: _plain(getattr(facts, name)) for name in facts.stated}


def _plain(value: object) -> object:
    if isinstance(value, Facts):
        return _said(value)
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return value.value if isinstance(value, Enum) else value


# Figures


_Figures = dict[tuple[Pointer, str], FigureChange]
_Changes = tuple[FigureChange, ...]


def _figures(old: Plan, new: Plan, laws: tuple[Edition, Edition], budget: int) -> tuple[_Changes, _Changes]:
    """What boxes hold and how long cables are, where it differs. Raises OverBudget."""
    doing("the comparison of boxes and cables")
    try:
        with metered(Meter(budget)), Survey(old, laws[0]) as before, Survey(new, laws[1]) as after:
            boxes = tuple(_differing(_box_fill(before, laws[0]), _box_fill(after, laws[1])))
            return boxes, tuple(_differing(_lengths(before), _lengths(after)))
    except WorkSpent as spent:
        raise OverBudget(ROOT, spent.limit) from None


def _differing(before: _Figures, after: _Figures) -> Iterator[FigureChange]:
    """The figures of which one is missing or differs by more than shows."""
    for key in dict.fromkeys((*before, *after)):
        one, two = before.get(key), after.get(key)
        each = two or one
        if each is None or (one is not None and two is not None and _same(one.after, two.after)):
            continue
        derived = any(side is not None and side.derived for side in (one, two))
        yield replace(each, before=one.after if one else None, after=two.after if two else None, derived=derived)


def _same(one: Measure | None, other: Measure | None) -> bool:
    return one is not None and other is not None and one.unit is other.unit and abs(one.value - other.value) < _DUST


_DUST = 1e-6


def _box_fill(survey: Survey, law: Edition) -> _Figures:
    found: _Figures = {}
    for box in survey.plan.boxes.values():
        try:
            counted = counted_volume(contents_of(survey, box, law).most, law.box_fill).total
        except UnknownFact:  # unknown: a figure that neither plan has, or one alone, is no change of a figure
            continue
        what = "counted volume at the most"
        found[box.pointer, what] = FigureChange(box.pointer, name_of(box), what, after=cubic_inches(counted))
    return found


def _lengths(survey: Survey) -> _Figures:
    found: _Figures = {}
    for cable in survey.plan.cables.values():
        try:
            length = cable_length(survey, cable)
        except UnknownFact:  # unknown: as above
            continue
        derived = length.source in (LengthFrom.DERIVED, LengthFrom.ESTIMATED)
        figure = FigureChange(cable.pointer, name_of(cable), "length", after=inches(length.inches), derived=derived)
        found[cable.pointer, "length"] = figure
    return found


def _loads(report: Report) -> _Figures:
    found: _Figures = {}
    if report.loads is None:
        return found
    for method in report.loads.methods:
        for what, measure in (
            ("load", method.total),
            ("current of each leg", method.current),
            ("neutral current", method.neutral),
        ):
            _keep(found, Pointer(""), "the dwelling", f"{what} by the {method.method} method", measure)
    for panel in report.loads.panels:
        _keep(found, panel.at, panel.name, "leg A", panel.leg_a)
        _keep(found, panel.at, panel.name, "leg B", panel.leg_b)
    for supply in report.loads.supplies:
        for place, measure in enumerate(supply.legs):
            _keep(found, supply.at, supply.name, f"leg {'AB'[place]}", measure)
    return found


def _keep(found: _Figures, at: Pointer, name: str, what: str, measure: Measure | None) -> None:
    if measure is not None:
        found[at, what] = FigureChange(at, name, what, after=measure)


# Editions


def _provisions(before: Edition, after: Edition) -> Iterator[ProvisionChange]:
    for each in compare(before, after):
        yield ProvisionChange(each.kind, each.table, each.entry, each.section, each.note, _json(each.before), _json(each.after))


def _json(value: Value | None) -> object:
    return [_json(each) for each in value] if isinstance(value, tuple) else value
