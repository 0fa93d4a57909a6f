"""Patches of one report kept apart: what two findings would add under one id is added under two."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from nailplate.plan import PART_KINDS, Pointer
from nailplate.review.report import Finding
from nailplate.rulekit import Operation, Remedy

_MOST = 64
"""Characters of an id."""


def kept_apart(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings in their order; a part that an earlier finding's patch adds already gets another id in a later one's.

    The remedies of one finding are one instead of the other, so they may share an id.
    """
    taken: dict[tuple[str, str], int] = {}
    return tuple(_apart(each, taken) if any(remedy.patch for remedy in each.remedies) else each for each in findings)


def _apart(finding: Finding, taken: dict[tuple[str, str], int]) -> Finding:
    """``taken`` maps each part that is added already to the number from which on an id for the next is looked for."""
    added = dict.fromkeys(part for remedy in finding.remedies for part in _added(remedy.patch))
    renamed = {part: _free(part, taken) for part in added if part in taken}
    for map_name, name in added:
        taken.setdefault((map_name, renamed.get((map_name, name), name)), _FIRST)
    if not renamed:
        return finding
    return replace(finding, remedies=tuple(_renamed(remedy, renamed) for remedy in finding.remedies))


def _added(patch: Iterable[Operation]) -> Iterable[tuple[str, str]]:
    """Map and id of each part that a patch adds, by itself or with its whole map."""
    for each in patch:
        members = each.path.members
        if each.op != "add" or members[0] not in PART_KINDS:
            continue
        if len(members) == 1 and isinstance(each.value, dict):
            yield from ((members[0], name) for name in each.value)
        elif len(members) == 2:
            yield members[0], members[1]


_FIRST = 2


def _free(part: tuple[str, str], taken: dict[tuple[str, str], int]) -> str:
    number = taken[part]
    while (part[0], _numbered(part[1], number)) in taken:
        number += 1
    taken[part] = number
    return _numbered(part[1], number)


def _numbered(name: str, number: int) -> str:
    return f"{name[: _MOST - len(str(number)) - 1]}-{number}"


def _renamed(remedy: Remedy, renamed: dict[tuple[str, str], str]) -> Remedy:
    names = {name: other for (_, name), other in renamed.items()}
    return replace(remedy, patch=tuple(_operation(each, renamed, names) for each in remedy.patch))


def _operation(each: Operation, renamed: dict[tuple[str, str], str], names: dict[str, str]) -> Operation:
    members = list(each.path.members)
    if len(members) > 1 and (members[0], members[1]) in renamed:
        members[1] = renamed[members[0], members[1]]
    path = Pointer("")
    for member in members:
        path = path / member
    return Operation(each.op, path, _value(each.value, names))


def _value(value: Any, names: dict[str, str]) -> Any:
    """A value with every id in it that has another name now: as a key of a map, and where a part refers to another."""
    if isinstance(value, dict):
        return {names.get(key, key): _value(inner, names) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_value(inner, names) for inner in value]
    return names.get(value, value) if isinstance(value, str) else value
