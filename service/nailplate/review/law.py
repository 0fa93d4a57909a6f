"""Which law a plan is judged by: its edition with local amendments, and the rules in force under it."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.codes import CodeTableError, Edition, TableChange, amended, edition
from nailplate.plan import Amendment, Fault, FaultCode, Plan, PlanRefused
from nailplate.plan.trade import NOT_DWELLINGS
from nailplate.plan.words import Change
from nailplate.review.cautions import REGIME_WORDS
from nailplate.review.report import AmendmentStamp, NotInForce
from nailplate.rulekit import Rule, Severity
from nailplate.survey import regime_of


@dataclass(frozen=True, slots=True)
class Law:
    """The edition as amended, the rules in force with the severity they have here, and what was left out."""

    edition: Edition
    rules: tuple[tuple[Rule, Severity], ...]
    not_in_force: tuple[NotInForce, ...]
    amendments: tuple[AmendmentStamp, ...]


def law_of(plan: Plan, rules: dict[str, Rule]) -> Law:
    """The law for this plan. Raises PlanRefused for an amendment that names no rule, table or value there is."""
    amendments = list(plan.basis.amendments.values()) if plan.basis.knows("amendments") else []
    faults = tuple(fault for amendment in amendments for fault in _faults(amendment, rules))
    if faults:
        raise PlanRefused(faults)
    in_force = _amended_edition(plan, amendments)
    off = {amendment.rule: amendment for amendment in amendments if amendment.change is Change.OFF and amendment.knows("rule")}
    changed = {amendment.rule: amendment.severity for amendment in amendments if amendment.change is Change.SEVERITY}
    reasons = {rule.id: why for rule in rules.values() if (why := _why_not(rule, plan, in_force.year, off))}
    return Law(
        edition=in_force,
        rules=tuple((rule, changed.get(rule.id, rule.severity)) for rule in rules.values() if rule.id not in reasons),
        not_in_force=tuple(NotInForce(rule_id, why) for rule_id, why in reasons.items()),
        amendments=tuple(
            AmendmentStamp(amendment.id, _effect(amendment), amendment.citation, amendment.reason) for amendment in amendments
        ),
    )


def _why_not(rule: Rule, plan: Plan, year: int, off: dict[str, Amendment]) -> str | None:
    if rule.id in off:
        return f"switched off by a local amendment: {off[rule.id].citation}"
    if not rule.is_in(year):
        return f"NEC {year} has no such requirement"
    if rule.dwelling_only and regime_of(plan) in NOT_DWELLINGS - set(rule.also_for):
        return f"it speaks of dwelling units, and the plan says that this is {REGIME_WORDS[regime_of(plan)]}"
    return None


_WANTED = {
    Change.OFF: ("rule",),
    Change.ON: ("table", "entry"),
    Change.SEVERITY: ("rule", "severity"),
    Change.VALUE: ("table", "entry", "value"),
}


def _faults(amendment: Amendment, rules: dict[str, Rule]) -> Iterator[Fault]:
    for name in ("table", "entry") if _is_of_table(amendment) else _WANTED[amendment.change]:
        if not amendment.knows(name):
            yield Fault(amendment.where(name), FaultCode.MISSING_FIELD, f"a change of kind {amendment.change} states {name}")
    if amendment.knows("rule") and "rule" in _WANTED[amendment.change] and amendment.rule not in rules:
        yield Fault(amendment.where("rule"), FaultCode.DANGLING_REFERENCE, f"there is no rule {amendment.rule!r}")


def _amended_edition(plan: Plan, amendments: list[Amendment]) -> Edition:
    in_force = edition(plan.basis.edition)
    for amendment in amendments:
        if amendment.change in (Change.VALUE, Change.ON) or _is_of_table(amendment):
            value = amendment.value if amendment.change is Change.VALUE else amendment.change is Change.ON
            try:
                in_force = amended(in_force, [TableChange(amendment.table, amendment.entry, value)])
            except CodeTableError as error:
                raise PlanRefused((Fault(amendment.where("entry"), FaultCode.BAD_VALUE, str(error)),)) from error
    return in_force


def _is_of_table(amendment: Amendment) -> bool:
    """Whether it switches an entry of a table, and no rule."""
    return amendment.change is Change.OFF and amendment.knows("table") and not amendment.knows("rule")


def _effect(amendment: Amendment) -> str:
    match amendment.change:
        case Change.ON:
            return f"table {amendment.table}, {amendment.entry} is switched on"
        case Change.OFF if _is_of_table(amendment):
            return f"table {amendment.table}, {amendment.entry} is switched off"
        case Change.OFF:
            return f"rule {amendment.rule} is switched off"
        case Change.SEVERITY:
            return f"rule {amendment.rule} has severity {amendment.severity}"
        case Change.VALUE:
            return f"table {amendment.table}, {amendment.entry} is {amendment.value:g}"
