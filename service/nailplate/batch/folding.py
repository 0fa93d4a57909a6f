"""Findings of a whole catalogue, each told once: where it appears, and the smallest sets of options that raise it.

Records come item by item; only the item that goes by is held whole, so memory grows with the findings there are and not with the
plans that have them.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

_MOST_NAMED = 20
"""Models, sets of options and the like that a row names."""
_MOST_NEAR = 100
"""Models that are listed by how near they come to a limit."""


@dataclass
class Named:
    """Names in the order in which they came, the first of them kept, all counted.

    Models come one after the other and may be very many, so of those beyond the first only the last is known again; of other
    names, which are few, ``beyond`` knows all.
    """

    names: dict[str, None] = field(default_factory=dict)
    more: int = 0
    last: str | None = None
    beyond: set[str] | None = None

    def add(self, name: str) -> None:
        """Counts a name that was not counted yet."""
        if name in self.names or name == self.last or (self.beyond is not None and name in self.beyond):
            return
        self.last = name
        if len(self.names) < _MOST_NAMED:
            self.names[name] = None
            return
        self.more += 1
        if self.beyond is not None:
            self.beyond.add(name)

    @property
    def count(self) -> int:
        """How many."""
        return len(self.names) + self.more

    def __str__(self) -> str:
        return ", ".join(self.names) + (f" and {self.more} more" if self.more else "")


def _few() -> Named:
    return Named(beyond=set())


@dataclass
class Row:
    """One finding over the catalogue."""

    fingerprint: str
    rule: str
    severity: str
    outcome: str
    pointer: str
    message: str
    citation: str
    remedy: str
    times: int = 0
    models: Named = field(default_factory=Named)
    editions: Named = field(default_factory=_few)
    jurisdictions: Named = field(default_factory=_few)
    raised_by: Named = field(default_factory=_few)
    """The smallest sets of options that raise it, model by model; ``base`` where none is needed."""


@dataclass(frozen=True)
class Near:
    """A model's pass nearest to a limit."""

    margin: float
    item: str
    key: str
    rule: str
    at: str
    measured: str
    limit: str


class Folding:
    """Takes records one after another; ``rows`` and ``nearest`` are whole after ``close``."""

    def __init__(self) -> None:
        self._rows: dict[str, Row] = {}
        self._item: str | None = None
        self._raised: dict[str, set[frozenset[str]]] = {}
        self._near: list[Near] = []
        self._item_near: Near | None = None
        self.models = 0

    def take(self, record: dict[str, Any]) -> None:
        """Folds one record in."""
        if record["item"] != self._item:
            self._end_item()
            self._item = record["item"]
            self.models += 1
        told = record.get("report", record)
        options = frozenset(record["model_options"])
        for finding in told.get("findings", ()):
            self._take_finding(record, told, finding, options)
        for near in _near_of(record, told):
            if self._item_near is None or near.margin < self._item_near.margin:
                self._item_near = near

    def _take_finding(
        self, record: dict[str, Any], told: dict[str, Any], finding: dict[str, Any], options: frozenset[str]
    ) -> None:
        row = self._rows.get(finding["fingerprint"])
        if row is None:
            row = self._rows[finding["fingerprint"]] = _row(finding)
        row.times += 1
        row.models.add(record["item"])
        edition = record.get("edition") or _edition(finding)
        if edition:
            row.editions.add(edition)
        if record.get("jurisdiction"):
            row.jurisdictions.add(record["jurisdiction"])
        self._raised.setdefault(row.fingerprint, set()).add(options)

    def close(self) -> "Folding":
        """Ends the last item."""
        self._end_item()
        return self

    @property
    def rows(self) -> list[Row]:
        """Every finding once, the worst first, then those of most models."""
        return sorted(
            self._rows.values(),
            key=lambda row: (
                _SEVERITIES.index(row.severity),
                _OUTCOMES.index(row.outcome),
                -row.models.count,
                row.rule,
                row.pointer,
            ),
        )

    @property
    def nearest(self) -> list[Near]:
        """Models by how near they come to a limit, the nearest first."""
        return sorted(self._near, key=lambda near: (near.margin, near.key))

    def _end_item(self) -> None:
        for fingerprint, sets in self._raised.items():
            for smallest in minimal(sets):
                self._rows[fingerprint].raised_by.add("+".join(sorted(smallest)) or "base")
        self._raised.clear()
        if self._item_near:
            self._near = sorted([*self._near, self._item_near], key=lambda near: (near.margin, near.key))[:_MOST_NEAR]
        self._item_near = None


_SEVERITIES = ("danger", "code", "advice")
_OUTCOMES = ("violation", "judgement", "undetermined")


def minimal(sets: Iterable[frozenset[str]]) -> list[frozenset[str]]:
    """The sets of which none other is a part, the smallest first."""
    found: list[frozenset[str]] = []
    for each in sorted(sets, key=lambda names: (len(names), sorted(names))):
        if not any(known <= each for known in found):
            found.append(each)
    return found


def _row(finding: dict[str, Any]) -> Row:
    first = next(iter(finding.get("citations", ())), None)
    return Row(
        fingerprint=finding["fingerprint"],
        rule=finding["rule"],
        severity=finding["severity"],
        outcome=finding["outcome"],
        pointer=finding["where"]["pointer"],
        message=finding["message"],
        citation=f"{first['document']} {first['section']}" if first else "",
        remedy=next((each["words"] for each in finding.get("remedies", ())), ""),
    )


def _edition(finding: dict[str, Any]) -> str | None:
    return next((each["edition"] for each in finding.get("citations", ()) if each["document"] == "NEC"), None)


def _near_of(record: dict[str, Any], told: dict[str, Any]) -> Iterable[Near]:
    if "coverage" in told:
        listed = [{"rule": each["rule"], **each["nearest"]} for each in told["coverage"]["rules"] if "nearest" in each]
    else:
        listed = told.get("nearest", [])
    for each in listed:
        measured, limit = (f"{figure['value']:g} {figure['unit']}" for figure in (each["measured"], each["limit"]))
        yield Near(each["margin"], record["item"], record["key"], each["rule"], each["at"], measured, limit)
