"""The items of a batch as a command line finds them: a folder of plans and models, NDJSON, a JSON array, or one envelope.

On a command line an item's ``base`` may also be a file beside it. A line or file that cannot be read is a record like the others.
"""

import json
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import click

from nailplate.batch import Batch, BatchRefused, cases_of, read_head, read_item, refused_record
from nailplate.batch.items import HEAD_FIELDS
from nailplate.cli.engines import Piece
from nailplate.plan import ROOT, Fault, FaultCode
from nailplate.wire import NotJson, read_json


@dataclass(frozen=True)
class Found:
    """One item as found: its key if it has none of its own, its JSON value or what is wrong with its text, and where it lies."""

    key: str
    value: Any
    folder: Path
    fault: Fault | None = None


@dataclass(frozen=True)
class Catalogue:
    """The head and the items, one after another."""

    head: Batch
    items: Iterable[Found]


def catalogue(name: str, asked: Mapping[str, Any]) -> Catalogue:
    """What ``name`` stands for; ``asked`` are fields of the head that the command line gives. Raises UsageError."""
    if name == "-":
        return _lines(sys.stdin.buffer, Path(), asked)
    path = Path(name)
    if path.is_dir():
        return Catalogue(_head({}, asked), _folder(path))
    try:
        if path.suffix == ".json":
            return _whole(path.read_bytes(), path.parent, asked)
        return _lines(_lines_of(path), path.parent, asked)
    except OSError as error:
        raise click.UsageError(f"{name}: {error.strerror}") from None


def _lines_of(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        yield from file


def _folder(folder: Path) -> Iterator[Found]:
    for path in sorted(folder.rglob("*.json")):
        key = path.relative_to(folder).with_suffix("").as_posix()
        try:
            value = read_json(path.read_bytes())
        except (OSError, NotJson) as error:
            yield _broken(key, path.parent, error)
            continue
        if isinstance(value, dict) and "plan_format" in value:
            yield Found(key, {"plan": value}, path.parent)
        elif isinstance(value, dict) and ("base" in value or "plan" in value):
            yield Found(key, value, path.parent)


def _whole(text: bytes, folder: Path, asked: Mapping[str, Any]) -> Catalogue:
    try:
        value = read_json(text)
    except NotJson as error:
        raise click.UsageError(f"not JSON: {error}") from None
    head, items = (
        ({}, value) if isinstance(value, list) else (dict(value), value.get("items")) if isinstance(value, dict) else ({}, None)
    )
    head.pop("items", None)
    if not isinstance(items, list):
        raise click.UsageError("a list of items was wanted, or an object with items")
    return Catalogue(_head(head, asked), (Found(f"item-{number}", each, folder) for number, each in enumerate(items, 1)))


def _lines(file: Iterable[bytes], folder: Path, asked: Mapping[str, Any]) -> Catalogue:
    """NDJSON; a first line without a key is the head."""
    numbered = ((number, line) for number, line in enumerate(file, 1) if line.strip())
    first = next(numbered, None)
    if first is None:
        raise click.UsageError("there is no item")
    found = _line(*first, folder)
    is_head = isinstance(found.value, dict) and "key" not in found.value and set(found.value) <= set(HEAD_FIELDS)
    head = _head(found.value if is_head else {}, asked)

    def items() -> Iterator[Found]:
        if not is_head:
            yield found
        yield from (_line(number, line, folder) for number, line in numbered)

    return Catalogue(head, items())


def _line(number: int, line: bytes, folder: Path) -> Found:
    try:
        return Found(f"line-{number}", read_json(line), folder)
    except NotJson as error:
        return _broken(f"line-{number}", folder, error)


def _broken(key: str, folder: Path, error: Exception) -> Found:
    code = FaultCode.NOT_JSON if isinstance(error, NotJson) else FaultCode.NO_FILE
    return Found(key, None, folder, Fault(ROOT, code, f"{'not JSON: ' if isinstance(error, NotJson) else ''}{error}"))


def _head(value: Mapping[str, Any], asked: Mapping[str, Any]) -> Batch:
    try:
        return read_head({**value, **asked})
    except BatchRefused as refused:
        raise click.UsageError("; ".join(f"{each.pointer or '/'}: {each.detail}" for each in refused.faults)) from None


def pieces(found: Catalogue, combinations: str | None = None) -> Iterator[Piece]:
    """The cases of every item, and a record for each item that makes none. A key that comes twice is refused the second time.

    ``combinations`` are those of models that have options and do not say in which combinations.
    """
    seen: set[str] = set()
    for each in found.items:
        value = {"key": each.key, **each.value} if isinstance(each.value, dict) else each.value
        if combinations and isinstance(value, dict) and "model_options" in value:
            value.setdefault("combinations", combinations)
        key = str(value.get("key")) if isinstance(value, dict) else each.key
        try:
            if each.fault:
                raise BatchRefused([each.fault])
            if key in seen:
                raise BatchRefused(
                    [Fault(ROOT / "key", FaultCode.BAD_ID, f"an item before this one has the key {key[:200]!r}")]
                )
            seen.add(key)
            yield from cases_of(read_item(_with_base(value, each.folder, found.head), found.head), found.head)
        except BatchRefused as refused:
            yield refused_record(key[:200], refused.faults)


def _with_base(value: Any, folder: Path, head: Batch) -> Any:
    """An item whose base is a file beside it, with that plan in it."""
    base = value.get("base") if isinstance(value, dict) else None
    if not isinstance(base, str) or base in head.bases or not (folder / base).is_file():
        return value
    try:
        plan = _plan(folder / base)
    except (OSError, NotJson) as error:
        raise BatchRefused([Fault(ROOT / "base", FaultCode.NOT_JSON, f"{base}: {error}")]) from None
    return {**{name: each for name, each in value.items() if name != "base"}, "plan": plan}


@lru_cache(maxsize=16)
def _plan(path: Path) -> Any:
    return read_json(path.read_bytes())


def local_amendments(words: Iterable[str]) -> dict[str, Any]:
    """``NAME=FILE`` of amendments, by name. Raises UsageError."""
    found = {}
    for word in words:
        name, _, file = word.partition("=")
        try:
            found[name] = json.loads(Path(file).read_bytes())
        except (OSError, ValueError) as error:
            raise click.UsageError(f"--jurisdiction {word}: write NAME=FILE of amendments: {error}") from None
    return found


def earlier_records(path: Path) -> dict[str, Any]:
    """The baseline that the records of an earlier batch are, or a file that ``check --output baseline=`` wrote. Raises UsageError."""
    try:
        lines = path.read_bytes().splitlines()
        first = read_json(lines[0]) if lines else None
        if isinstance(first, dict) and "plans" in first:
            return first
        records = (read_json(line) for line in lines)
        return {"plans": {each["key"]: _findings(each) for each in records if each["status"] == "checked"}}
    except (OSError, NotJson, KeyError, TypeError) as error:
        said = f"--baseline {path}: the records of an earlier batch were wanted, with their findings: {error}"
        raise click.UsageError(said) from None


def _findings(record: Mapping[str, Any]) -> dict[str, Any]:
    """What a baseline needs of a record. Raises KeyError where it has no findings."""
    kept = [*record.get("report", record)["findings"]]
    return {
        "findings": [
            {
                "fingerprint": each["fingerprint"],
                "rule": each["rule"],
                "where": {"pointer": each["where"]["pointer"]},
                "severity": each["severity"],
            }
            for each in kept
        ]
    }
