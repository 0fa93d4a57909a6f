"""What a batch is made of: a head that all items share, and items, each one model.

The head: ``bases`` (plans by name), ``jurisdictions`` (amendments and the jurisdiction whose they are, by name), ``editions``,
``options`` (of a check), ``detail``, ``resume_after`` (a record's key), ``baseline`` (of several plans, by the records' keys).
An item: ``key``; ``plan``, or ``base`` by name; ``patch`` to it; ``model_options`` (a JSON Patch by name, with what it ``needs`` and
``excludes``); ``combinations`` of them; ``editions``, ``jurisdictions`` and ``options`` of its own; ``suppressions``; a ``baseline``.

Errors: ``BatchRefused`` with every fault found.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from nailplate.codes import EDITIONS, nearest
from nailplate.plan import ROOT, Fault, FaultCode, Pointer

HEAD_FIELDS = ("batch_format", "bases", "jurisdictions", "editions", "options", "detail", "resume_after", "baseline")
ITEM_FIELDS = (
    "key",
    "plan",
    "base",
    "patch",
    "model_options",
    "combinations",
    "editions",
    "jurisdictions",
    "options",
    "suppressions",
    "baseline",
)
OPTION_FIELDS = ("title", "patch", "needs", "excludes")
DETAILS = ("report", "findings", "summary")
WAYS = ("base", "each", "pairs", "all")
"""Combinations by name: none of the options; each alone; up to two; every set. Each of them begins with the base alone."""

MOST_OPERATIONS = 500
"""Operations of one patch."""
MOST_OPTIONS = 30
"""Named options of one model."""
_NAME = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)
_KEY = re.compile(r"[A-Za-z0-9._:/ -]{1,200}", re.ASCII)


class BatchRefused(ValueError):
    """A head or an item that cannot be taken; ``faults`` lists everything found."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(f"{len(self.faults)} faults, the first at {self.faults[0].pointer or '/'}: {self.faults[0].detail}")


@dataclass(frozen=True)
class Batch:
    """The head of a batch."""

    bases: Mapping[str, Any] = field(default_factory=dict)
    jurisdictions: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    editions: tuple[str, ...] = ()
    options: Mapping[str, Any] = field(default_factory=dict)
    detail: str = "findings"
    resume_after: str | None = None
    baseline: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class ModelOption:
    """One option of a model."""

    patch: tuple[Mapping[str, Any], ...]
    needs: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Item:
    """One model. Empty ``editions`` and ``jurisdictions`` are those of the head, and without any, the plan's own basis."""

    key: str
    plan: Any
    patch: tuple[Mapping[str, Any], ...] = ()
    model_options: Mapping[str, ModelOption] = field(default_factory=dict)
    combinations: str | tuple[tuple[str, ...], ...] = "base"
    editions: tuple[str, ...] = ()
    jurisdictions: tuple[str, ...] = ()
    options: Mapping[str, Any] = field(default_factory=dict)
    suppressions: Mapping[str, Any] = field(default_factory=dict)
    baseline: Mapping[str, Any] | None = None


def read_head(value: Any) -> Batch:
    """The head that a JSON value is. Raises BatchRefused."""
    _raise(_head_faults(value))
    return Batch(
        bases=value.get("bases", {}),
        jurisdictions=value.get("jurisdictions", {}),
        editions=tuple(value.get("editions", ())),
        options=value.get("options", {}),
        detail=value.get("detail", "findings"),
        resume_after=value.get("resume_after"),
        baseline=value.get("baseline"),
    )


def _head_faults(value: Any) -> Iterator[Fault]:
    if not isinstance(value, dict):
        yield _fault(ROOT, FaultCode.WRONG_TYPE, "an object was wanted")
        return
    yield from _unknown(value, HEAD_FIELDS, ROOT)
    if value.get("batch_format", 1) != 1:
        yield _fault(ROOT / "batch_format", FaultCode.BAD_VALUE, "1 was wanted")
    for name in ("bases", "jurisdictions", "options"):
        if not isinstance(value.get(name, {}), dict):
            yield _fault(ROOT / name, FaultCode.WRONG_TYPE, "an object was wanted")
    yield from _name_faults(value.get("editions", []), EDITIONS, ROOT / "editions")
    if value.get("detail", "findings") not in DETAILS:
        yield _fault(ROOT / "detail", FaultCode.BAD_CHOICE, f"one of {', '.join(DETAILS)} was wanted")
    if not isinstance(value.get("resume_after", ""), str):
        yield _fault(ROOT / "resume_after", FaultCode.WRONG_TYPE, "the key of a record was wanted")
    baseline = value.get("baseline", {"plans": {}})
    if not (isinstance(baseline, dict) and isinstance(baseline.get("plans"), dict)):
        yield _fault(
            ROOT / "baseline", FaultCode.WRONG_TYPE, "an object with plans was wanted: findings by the key of a record"
        )
    for name, local in _entries(value.get("jurisdictions")):
        if not (
            isinstance(local, dict) and isinstance(local.get("jurisdiction"), str) and isinstance(local.get("amendments"), dict)
        ):
            at = ROOT / "jurisdictions" / name
            yield _fault(
                at, FaultCode.WRONG_TYPE, "an object with jurisdiction and amendments was wanted, as a plan's basis has them"
            )


def read_item(value: Any, head: Batch) -> Item:
    """The item that a JSON value is. Raises BatchRefused."""
    _raise(_item_faults(value, head))
    options = {name: _option(each) for name, each in value.get("model_options", {}).items()}
    ways = value.get("combinations", "each" if options else "base")
    return Item(
        key=value["key"],
        plan=value["plan"] if "plan" in value else head.bases[value["base"]],
        patch=tuple(value.get("patch", ())),
        model_options=options,
        combinations=ways if isinstance(ways, str) else tuple(tuple(each) for each in ways),
        editions=tuple(value.get("editions", head.editions)),
        jurisdictions=tuple(value.get("jurisdictions", head.jurisdictions)),
        options={**head.options, **value.get("options", {})},
        suppressions=value.get("suppressions", {}),
        baseline=value.get("baseline", head.baseline),
    )


def _option(value: Mapping[str, Any]) -> ModelOption:
    return ModelOption(tuple(value["patch"]), tuple(value.get("needs", ())), tuple(value.get("excludes", ())))


def _item_faults(value: Any, head: Batch) -> Iterator[Fault]:
    if not isinstance(value, dict):
        yield _fault(ROOT, FaultCode.WRONG_TYPE, "an object was wanted")
        return
    yield from _unknown(value, ITEM_FIELDS, ROOT)
    if not (isinstance(value.get("key"), str) and _KEY.fullmatch(value["key"])):
        yield _fault(ROOT / "key", FaultCode.BAD_ID, "a key of at most 200 letters, digits, spaces and ._:/- was wanted")
    if ("plan" in value) == ("base" in value):
        yield _fault(ROOT / "plan", FaultCode.MISSING_FIELD, "either plan or base was wanted")
    elif "base" in value and value["base"] not in [*head.bases]:
        yield _fault(ROOT / "base", FaultCode.DANGLING_REFERENCE, f"there is no base {str(value['base'])[:80]!r} in the head")
    for name in ("options", "suppressions", "baseline"):
        if not isinstance(value.get(name, {}), dict):
            yield _fault(ROOT / name, FaultCode.WRONG_TYPE, "an object was wanted")
    yield from _patch_faults(value.get("patch", []), ROOT / "patch")
    yield from _name_faults(value.get("editions", []), EDITIONS, ROOT / "editions")
    yield from _name_faults(value.get("jurisdictions", []), head.jurisdictions, ROOT / "jurisdictions")
    yield from _option_faults(value.get("model_options", {}))
    yield from _combination_faults(value)


def _option_faults(options: Any) -> Iterator[Fault]:
    at = ROOT / "model_options"
    if not isinstance(options, dict) or len(options) > MOST_OPTIONS:
        yield _fault(at, FaultCode.WRONG_TYPE, f"an object of at most {MOST_OPTIONS} options was wanted")
        return
    for name, option in options.items():
        if not _NAME.fullmatch(name):
            yield _fault(at / name[:200], FaultCode.BAD_ID, "a name of at most 64 letters, digits and ._- was wanted")
        if not isinstance(option, dict) or "patch" not in option:
            yield _fault(at / name[:200], FaultCode.MISSING_FIELD, "an object with a patch was wanted")
            continue
        yield from _unknown(option, OPTION_FIELDS, at / name)
        yield from _patch_faults(option["patch"], at / name / "patch")
        for other in ("needs", "excludes"):
            yield from _name_faults(option.get(other, []), options, at / name / other)


def _combination_faults(value: Mapping[str, Any]) -> Iterator[Fault]:
    ways, at = value.get("combinations", "base"), ROOT / "combinations"
    options = value.get("model_options", {})
    if isinstance(ways, str):
        if ways not in WAYS:
            yield _fault(at, FaultCode.BAD_CHOICE, f"one of {', '.join(WAYS)} was wanted, or a list of lists of options")
    elif not isinstance(ways, list):
        yield _fault(at, FaultCode.WRONG_TYPE, f"one of {', '.join(WAYS)} was wanted, or a list of lists of options")
    else:
        for number, names in enumerate(ways):
            yield from _name_faults(names, options if isinstance(options, dict) else (), at / number)


def _patch_faults(patch: Any, at: Pointer) -> Iterator[Fault]:
    """``copy`` is refused: a few of them make a plan of any size."""
    if not isinstance(patch, list) or len(patch) > MOST_OPERATIONS:
        yield _fault(at, FaultCode.WRONG_TYPE, f"a JSON Patch of at most {MOST_OPERATIONS} operations was wanted")
        return
    for number, each in enumerate(patch):
        if not (isinstance(each, dict) and isinstance(each.get("path"), str)):
            yield _fault(at / number, FaultCode.WRONG_TYPE, "an operation with op and path was wanted")
        elif each.get("op") not in ("add", "replace", "remove", "test", "move"):
            yield _fault(at / number / "op", FaultCode.BAD_CHOICE, "add, replace, remove, test or move was wanted")


def _name_faults(names: Any, known: Iterable[str], at: Pointer) -> Iterator[Fault]:
    if not isinstance(names, list):
        yield _fault(at, FaultCode.WRONG_TYPE, "a list of names was wanted")
        return
    there = list(known)
    for number, name in enumerate(names):
        if name not in there:
            near = nearest(str(name)[:80], there)
            hint = f"; did you mean {near!r}?" if near else ""
            yield _fault(at / number, FaultCode.DANGLING_REFERENCE, f"there is no {str(name)[:80]!r} here{hint}")


def _entries(value: Any) -> Iterable[tuple[str, Any]]:
    return value.items() if isinstance(value, dict) else ()


def _unknown(value: Mapping[str, Any], known: tuple[str, ...], at: Pointer) -> Iterator[Fault]:
    for name in value:
        if name not in known:
            yield _fault(
                at / name[:200],
                FaultCode.UNKNOWN_FIELD,
                f"there is no field {name[:40]!r} here; did you mean {nearest(name, known)!r}?",
            )


def _fault(at: Pointer, code: FaultCode, detail: str) -> Fault:
    return Fault(at, code, detail)


def _raise(faults: Iterator[Fault]) -> None:
    found = list(faults)
    if found:
        raise BatchRefused(found)
