"""The plans that a command line names: files, folders, patterns, or standard input."""

import glob
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import click

from nailplate.plan import Pointer
from nailplate.render import inert
from nailplate.review.checked import Region
from nailplate.wire import Positions

STANDARD_INPUT = "-"
_PATTERN = frozenset("*?[")


@dataclass
class Source:
    """One document. Standard input is read once and kept, a file only while it is needed."""

    name: str
    path: Path | None

    def read(self) -> bytes:
        """Its bytes. Raises OSError."""
        return self._standard_input if self.path is None else self.path.read_bytes()

    def prepare(self) -> None:
        """Reads standard input, which another process could not."""
        if self.path is None:
            _ = self._standard_input

    def locate(self, pointer: Pointer) -> Region:
        """Where a part stands in it."""
        return self._positions.region(pointer)

    @cached_property
    def _positions(self) -> Positions:
        try:
            return Positions(self.read())
        except OSError:
            return Positions(b"")

    @cached_property
    def _standard_input(self) -> bytes:
        return sys.stdin.buffer.read()


def sources(names: Sequence[str]) -> list[Source]:
    """Every document named, each once. A folder stands for the plans in it; raises UsageError where nothing is named."""
    if not names:
        if sys.stdin.isatty():
            raise click.UsageError("name the plans: files, folders, patterns such as 'models/*.json', or - for standard input")
        names = (STANDARD_INPUT,)
    found = {source.name: source for name in names for source in _named(name)}
    return list(found.values())


def _named(name: str) -> Iterator[Source]:
    path = Path(name)
    if name == STANDARD_INPUT:
        yield Source("standard input", None)
    elif path.is_dir():
        yield from _in_folder(path)
    elif not path.exists() and _PATTERN & set(name):
        matches = sorted(glob.glob(name, recursive=True))
        yield from (Source(match, Path(match)) for match in matches if Path(match).is_file())
        if not matches:
            yield Source(name, path)
    else:
        yield Source(name, path)


def _in_folder(folder: Path) -> Iterator[Source]:
    """The plans in a folder and those below it; other JSON is told and left out."""
    files = sorted(path for path in folder.rglob("*.json") if path.is_file())
    plans = [path for path in files if not _is_something_else(path)]
    if len(plans) < len(files):
        left = [path.name for path in files if path not in set(plans)]
        click.echo(inert(f"{folder}: {len(left)} files are JSON but no plans and are left out: {_few(left)}"), err=True)
    yield from (Source(str(path), path) for path in plans)
    if not plans:
        raise click.UsageError(f"{folder} holds no plan")


def _few(names: Iterable[str], most: int = 5) -> str:
    listed = list(names)
    return ", ".join(listed[:most]) + (f" and {len(listed) - most} more" if len(listed) > most else "")


def _is_something_else(path: Path) -> bool:
    """Whether a file is sound JSON that does not call itself a plan; a broken one may be a plan and is not passed over."""
    try:
        value = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return False
    return not (isinstance(value, dict) and "plan_format" in value)
