"""What differs between two editions, as data: figures and provisions of sentences, and cells of tables."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from nailplate.codes.editions import Edition
from nailplate.codes.overlay import Raw

Kind = Literal["limit", "provision", "table"]
Value = float | int | bool | str | tuple[Any, ...]

_ABOUT_ITSELF = frozenset({"cite", "source", "text_status", "section", "note", "what", "unit"})
"""What an entry says of itself; a renumbering alone is no change of what is asked."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One figure, provision or cell that differs. ``entry`` is dotted; None is what one of the two does not have.

    ``section`` is that of the later edition, ``note`` its words on the change where the tables have them.
    """

    kind: Kind
    table: str
    entry: str
    before: Value | None
    after: Value | None
    section: str = ""
    note: str = ""


def compare(before: Edition, after: Edition) -> tuple[Difference, ...]:
    """Every difference, tables in their order and entries as the later edition has them, those that it dropped last."""
    return tuple(difference for table in after.as_written for difference in _of_table(table, before, after))


def _of_table(table: str, before: Edition, after: Edition) -> Iterator[Difference]:
    earlier, later = before.as_written.get(table, {}), after.as_written[table]
    one, two = dict(_cells(earlier)), dict(_cells(later))
    for entry in dict.fromkeys((*two, *one)):
        if one.get(entry) != two.get(entry):
            about = _about(later, entry)
            yield Difference(
                _KINDS.get(table, "table"),
                table,
                entry,
                one.get(entry),
                two.get(entry),
                about.get("section", ""),
                about.get("note", ""),
            )


_KINDS: dict[str, Kind] = {"limits": "limit", "provisions": "provision"}


def _cells(table: Raw, prefix: str = "") -> Iterator[tuple[str, Value]]:
    for name, value in table.items():
        if isinstance(value, dict):
            yield from _cells(value, f"{prefix}{name}.")
        elif name not in _ABOUT_ITSELF and not name.endswith("_cite"):
            yield f"{prefix}{name}", _plain(value)


def _plain(value: object) -> Any:
    """Lists as tuples, so that differences can be compared and held in sets."""
    if isinstance(value, list):
        return tuple(_plain(each) for each in value)
    return tuple(sorted(value.items())) if isinstance(value, dict) else value


def _about(table: Raw, entry: str) -> Mapping[str, str]:
    """The nearest section above an entry, and the words on a change of that entry."""
    section, note = str(table.get("cite", "")), ""
    for name in entry.split(".")[:-1]:
        inner = table.get(name)
        if not isinstance(inner, dict):
            break
        table = inner
        section, note = str(table.get("section", table.get("cite", section))), str(table.get("note", ""))
    return {"section": section, "note": note}
