"""Facts that a plan leaves out, in the words of the contract: which part, and what is not said of it."""

from collections.abc import Iterator, Sequence
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from nailplate.plan import PART_KINDS, Facts, Part, Plan, Pointer
from nailplate.plan.facts import Doc, json_names
from nailplate.survey.names import kind_words, name_of

MOST = 6
"""How many facts a message names."""

_LINKS = frozenset({"of", "in", "at", "for", "from", "by", "below", "above", "if", "between", "on", "as"})
_VERBS = frozenset({"brings", "can", "carries", "has", "lies", "passes", "runs", "sits", "stands", "takes"})


def not_said(plan: Plan, needs: Sequence[Pointer]) -> str:
    """One sentence for each part: what is not said of it."""
    if not needs:
        return "The plan does not say enough."
    facts: dict[str, list[str]] = {}
    for need in needs[:MOST]:
        facts.setdefault(_owner(plan, need), []).append(_fact(plan, need))
    more = f" And {len(needs) - MOST} more." if len(needs) > MOST else ""
    return " ".join(f"Not said{owner}: {'; '.join(dict.fromkeys(said))}." for owner, said in facts.items()) + more


def _owner(plan: Plan, need: Pointer) -> str:
    part = _part(plan, need)
    if part is None:
        return ""
    kind = getattr(part, "kind", None) if type(part).__name__ in ("Device", "Appliance") else None
    return f" of {kind_words(kind or type(part).__name__.lower())} {name_of(part)}"


def _part(plan: Plan, need: Pointer) -> Part | None:
    members = need.members
    if len(members) < len(("map", "id")) or members[0] not in PART_KINDS:
        return None
    found: Part | None = getattr(plan, members[0]).get(members[1])
    return found


def _fact(plan: Plan, need: Pointer) -> str:
    members = list(need.members)
    if not members:
        return "enough"
    kind: type[Facts] | None = Plan
    if _part(plan, need) is not None:
        kind, members = PART_KINDS[members[0]], members[2:]
    if not members:
        return "enough"
    *before, name = [member for member in members if not member.isdecimal()] or members
    owner = _within(kind, before)
    lead = f"{before[-1].replace('_', ' ')}, " if before and kind is not Plan else ""
    return lead + _worded(owner, name)


def _within(kind: type[Facts] | None, names: Sequence[str]) -> type[Facts] | None:
    for name in names:
        kind = next(iter(_kinds(_hint(kind, name))), None) if kind else None
    return kind


def _worded(owner: type[Facts] | None, name: str) -> str:
    """The contract's words for a fact: its name stands before words that hang on it, ``whether`` before a yes or no."""
    hint = _hint(owner, name)
    doc = next((mark.text for mark in getattr(hint, "__metadata__", ()) if isinstance(mark, Doc)), "").split(";")[0]
    spoken = name.replace("_", " ").replace("centre", "center")
    first = doc.partition(" ")[0]
    if not doc:
        return spoken
    if get_args(hint)[0] is bool:
        return _whether(doc, first)
    return f"{spoken} {doc}" if first in _LINKS else doc


def _whether(doc: str, first: str) -> str:
    if first == "whether":
        return doc
    return f"whether it {'' if first in _VERBS else 'is '}{doc}"


def _hint(owner: type[Facts] | None, name: str) -> Any:
    return _hints(owner).get(name) if owner else None


_HINTS: dict[type, dict[str, Any]] = {}


def _hints(owner: type[Facts]) -> dict[str, Any]:
    if owner not in _HINTS:
        hints = get_type_hints(owner, include_extras=True)
        _HINTS[owner] = {key: hints[python] for python, key in json_names(owner).items()}
    return _HINTS[owner]


def _kinds(hint: Any) -> Iterator[type[Facts]]:
    """The kinds of facts that a field may hold, through lists and choices."""
    if isinstance(hint, type) and issubclass(hint, Facts):
        yield hint
    elif get_origin(hint) in (Annotated, Union, UnionType, tuple, dict):
        for inner in get_args(hint):
            yield from _kinds(inner)
