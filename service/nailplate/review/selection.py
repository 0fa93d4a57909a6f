"""Which rules a caller wants run, and which findings listed. A selection never makes a plan look clear.

Errors: ``SelectionError`` (carries each unknown name with the nearest that there is).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nailplate.codes import nearest
from nailplate.plan import Plan
from nailplate.review.report import Finding, NotInForce, SelectionStamp
from nailplate.rulekit import Rule, Severity

WHY = "left out by the caller's selection"


class SelectionError(ValueError):
    """A selection that names rules there are none of; ``unknown`` maps each name to the nearest that there is."""

    def __init__(self, unknown: dict[str, str]) -> None:
        hints = (f"{name[:80]!r} (did you mean {near!r}?)" if near else f"{name[:80]!r}" for name, near in unknown.items())
        super().__init__(f"there is no rule or family of rules {', '.join(hints)}")
        self.unknown = unknown


@dataclass(frozen=True, slots=True)
class Selection:
    """What to run and list; empty means everything. ``rules`` and ``ignore`` name ids of rules or their families.

    ``severities`` and ``rooms`` (ids) list only such findings; the others are counted, not listed.
    """

    rules: tuple[str, ...] = ()
    ignore: tuple[str, ...] = ()
    severities: tuple[Severity, ...] = ()
    rooms: tuple[str, ...] = ()

    @property
    def whole(self) -> bool:
        """Whether it leaves nothing out."""
        return not (self.rules or self.ignore or self.severities or self.rooms)


EVERYTHING = Selection()

Ruled = tuple[Rule, Severity]


def check_names(selection: Selection, rules: Iterable[Rule]) -> None:
    """Raises SelectionError for names that no rule and no family has."""
    listed = list(rules)
    known = {rule.id for rule in listed} | {rule.family for rule in listed}
    unknown = {name: nearest(name, known) for name in (*selection.rules, *selection.ignore) if name not in known}
    if unknown:
        raise SelectionError(unknown)


def chosen(selection: Selection, rules: Sequence[Ruled]) -> tuple[list[Ruled], list[NotInForce]]:
    """The rules to run, and those left out."""
    run = [ruled for ruled in rules if _wanted(selection, ruled[0])]
    return run, [NotInForce(rule.id, WHY) for rule, _ in rules if not _wanted(selection, rule)]


def _wanted(selection: Selection, rule: Rule) -> bool:
    names = {rule.id, rule.family}
    return (not selection.rules or bool(names & {*selection.rules})) and not names & {*selection.ignore}


def listed(selection: Selection, findings: Iterable[Finding]) -> list[Finding]:
    """The findings that the selection wants listed."""
    return [
        finding
        for finding in findings
        if (not selection.severities or finding.severity in selection.severities)
        and (not selection.rooms or finding.where.room in selection.rooms)
    ]


def stamp(selection: Selection, plan: Plan, hidden: int) -> SelectionStamp | None:
    """What the report says of the selection; None where it leaves nothing out."""
    if selection.whole:
        return None
    notes = [
        f"There is no room {room[:80]!r} in this plan" + (f"; did you mean {near!r}?" if near else ".")
        for room in selection.rooms
        if room not in plan.rooms
        for near in (nearest(room, plan.rooms),)
    ]
    return SelectionStamp(
        rules=selection.rules,
        ignore=selection.ignore,
        severities=selection.severities,
        rooms=selection.rooms,
        hidden=hidden,
        notes=tuple(notes),
    )
