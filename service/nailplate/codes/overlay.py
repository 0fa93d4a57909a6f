"""Lays tables one over another while they are still plain TOML: a later edition or an amendment over an edition."""

import copy
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

from nailplate.codes.errors import CodeTableError
from nailplate.codes.nearest import unknown_name
from nailplate.codes.tables import TextStatus

Raw = dict[str, Any]
"""A table as TOML has it, before it is typed."""

EntryValue = float | int | bool | str | Sequence[float] | Sequence[str]


@dataclass(frozen=True, slots=True)
class TableChange:
    """One figure that a local amendment sets: ``TableChange("spacing", "counter.reach", 18)``, in the table's own unit."""

    table: str
    entry: str
    value: EntryValue


def laid_over(below: Raw, above: Raw, where: str) -> Raw:
    """``below`` with the entries of ``above``, less those that ``above`` lists as ``without``."""
    result = copy.deepcopy(below)
    known = _entries(below)
    for entry in above.get("without", ()):
        if entry not in known:
            raise CodeTableError(f"{where}: {unknown_name('entry to leave out', str(entry), known)}")
        holder, last = _holder(result, entry)
        del holder[last]
    _merge(result, {name: value for name, value in above.items() if name != "without"})
    return result


def mark(table: Raw, status: TextStatus) -> None:
    """Sets how well a table and the parts of it are known."""
    if "text_status" in table:
        table["text_status"] = status.value
    for value in table.values():
        if isinstance(value, dict):
            mark(value, status)


def set_entry(table: Raw, kind: type, change: TableChange) -> None:
    """Sets one entry that exists already, or one that the table may have and this edition leaves out."""
    known = [*_entries(table), *_left_out(table, kind)]
    if change.entry not in known:
        raise CodeTableError(f"{change.table}: {unknown_name('entry', change.entry, known)}")
    holder, last = _holder(table, change.entry)
    holder[last] = change.value


def _merge(below: Raw, above: Raw) -> None:
    for name, value in above.items():
        held = below.get(name)
        if isinstance(value, dict) and isinstance(held, dict):
            _merge(held, value)
        else:
            below[name] = value


def _holder(table: Raw, entry: str) -> tuple[Raw, str]:
    *path, last = entry.split(".")
    for name in path:
        table = table[name]
    return table, last


def _entries(table: Raw, prefix: str = "") -> list[str]:
    names: list[str] = []
    for name, value in table.items():
        names += _entries(value, f"{prefix}{name}.") if isinstance(value, dict) else [f"{prefix}{name}"]
    return names


def _left_out(table: Raw, kind: type) -> list[str]:
    return [each.name for each in fields(kind) if each.name not in table] if not hasattr(kind, "gathered") else []
