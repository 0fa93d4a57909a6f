"""``batch``: a catalogue of models with their options, editions and jurisdictions; a record for each, and the whole folded."""

import json
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

import click

from nailplate.batch import Folding, Tally
from nailplate.batch.cache import Cache
from nailplate.batch.items import DETAILS, WAYS
from nailplate.batch.record import Work
from nailplate.batch.tables import folded_csv, folded_html
from nailplate.catalog import catalog
from nailplate.cli.catalogue import catalogue, earlier_records, local_amendments, pieces
from nailplate.cli.engines import Piece, worked
from nailplate.cli.exits import Exit, meanings, worst
from nailplate.cli.options import jobs_option, packs_option, quiet_option, threshold_of, threshold_options, today
from nailplate.cli.output import writable
from nailplate.cli.progress import counted
from nailplate.codes import EDITIONS
from nailplate.render import inert
from nailplate.review.threshold import Threshold
from nailplate.rulekit import Severity


@click.command("batch", epilog=meanings())
@click.argument("source")
@click.option("--edition", "editions", multiple=True, type=click.Choice(EDITIONS), help="Check every model by these.")
@click.option("--jurisdiction", "locals_", multiple=True, metavar="NAME=FILE", help="And by these local amendments.")
@click.option("--combinations", type=click.Choice(WAYS), help="Of options, for models that do not list their own.")
@click.option("--detail", type=click.Choice(DETAILS), help="Of each record; findings unless said.")
@click.option(
    "--baseline", type=click.Path(path_type=Path), help="Fail only on what the records of this earlier batch do not have."
)
@click.option("--output", "output", type=click.Path(path_type=Path), help="Write the records here, not on standard output.")
@click.option("--resume", is_flag=True, help="Go on after the records that --output holds already.")
@click.option("--fold", "folds", multiple=True, metavar="csv|html=PATH", help="Write every finding once, over all models.")
@click.option("--force", is_flag=True, help="Write over files that are there.")
@click.option(
    "--cache", "cache", type=click.Path(path_type=Path, file_okay=False), help="Keep records in this folder, by content."
)
@click.option("--engine", default="local", show_default=True, metavar="local|dask=ADDRESS", help="Where the work is done.")
@threshold_options
@packs_option
@jobs_option
@quiet_option
def command(
    source: str,
    editions: tuple[str, ...],
    locals_: tuple[str, ...],
    combinations: str | None,
    detail: str | None,
    baseline: Path | None,
    output: Path | None,
    resume: bool,
    folds: tuple[str, ...],
    force: bool,
    cache: Path | None,
    engine: str,
    packs: tuple[str, ...],
    jobs: int,
    quiet: bool,
    **further: object,
) -> int:
    """Check a catalogue: a folder of plans and models, an NDJSON or JSON file of items, or - for standard input.

    One record a combination, in the order of the items, whatever is wrong with another; the last one is a summary.
    """
    asked: dict[str, Any] = {"editions": list(editions)} if editions else {}
    asked |= {"jurisdictions": local_amendments(locals_)} if locals_ else {}
    asked |= {"detail": detail} if detail else {}
    asked |= {"baseline": earlier_records(baseline)} if baseline else {}
    tables = [_table(word, force=force) for word in folds]
    if resume and output is None:
        raise click.UsageError("--resume goes on with the file that --output names")
    if output and not resume:
        writable("--output", output, force=force)
    found = catalogue(source, asked)
    catalog(packs)  # read before the processes part, which then share it
    work = Work(today(), found.head.detail, packs, Cache(cache) if cache else None)
    run = _Run(threshold_of(further))
    every = pieces(found, combinations)
    began = time.perf_counter()
    with _Records(output, resume=resume) as records:
        rest = records.skip(every, run)
        for line in counted(worked(_Judge(work), rest, engine, jobs), quiet=quiet):
            records.write(line)
            run.count(line)
        records.write(run.tally.line())
    folding = run.folding.close()
    for form, path in tables:
        page = folded_csv(folding) if form == "csv" else folded_html(folding, run.tally)
        path.write_text(page, encoding="utf-8", newline="")
    if not quiet:
        click.echo(_told(run, time.perf_counter() - began), err=True)
    return worst(run.codes)


@dataclass(frozen=True)
class _Judge:
    """The work on one piece, as another process does it."""

    work: Work

    def __call__(self, piece: Piece) -> str:
        return piece if isinstance(piece, str) else self.work(piece)


@dataclass
class _Run:
    """What is kept of the records as they go by."""

    threshold: Threshold
    tally: Tally = field(default_factory=Tally)
    folding: Folding = field(default_factory=Folding)
    codes: set[Exit] = field(default_factory=set)

    def count(self, line: str) -> None:
        """Counts one record."""
        record = json.loads(line)
        self.tally.count(line, record)
        self.folding.take(record)
        self.codes.add(_code(record, self.threshold))


def _code(record: dict[str, Any], threshold: Threshold) -> Exit:
    """The exit code of one record."""
    if record["status"] != "checked":
        return Exit.USAGE if record["status"] == "refused" else Exit.BROKEN
    told = record.get("report", record)
    counted = record.get("new", told["summary"])
    severities = list(Severity)
    fatal = severities[: severities.index(threshold.fail_at) + 1]
    if any(counted[each.value] for each in fatal):
        return Exit.FOUND
    least = threshold.undecided_at
    if least is None:
        return Exit.CLEAN
    if "findings" not in told:
        return Exit.OPEN if counted["undetermined"] or counted["judgements"] else Exit.CLEAN
    weighty = {each.value for each in severities[: severities.index(least) + 1]}
    undecided = (each for each in told["findings"] if each["outcome"] != "violation" and each["severity"] in weighty)
    return Exit.OPEN if any(each.get("baseline") != "unchanged" for each in undecided) else Exit.CLEAN


class _Records:
    """Where the records go: standard output or a file, which may hold those of an earlier run that ended too soon."""

    def __init__(self, path: Path | None, *, resume: bool) -> None:
        self._path = path
        self._resume = resume and path is not None and path.exists()
        self._file: BinaryIO = sys.stdout.buffer

    def __enter__(self) -> "_Records":
        if self._path:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            self._file = self._path.open("r+b" if self._resume else "wb")
        return self

    def __exit__(self, *_: object) -> None:
        self._file.flush()
        if self._path:
            self._file.close()

    def write(self, line: str) -> None:
        """Writes a record; whole, so that an end at any moment leaves whole records before it."""
        self._file.write(line.encode() + b"\n")
        self._file.flush()

    def skip(self, every: Iterator[Piece], run: _Run) -> Iterator[Piece]:
        """The pieces whose records are not there yet. Raises UsageError where those that are there are of another batch."""
        if not self._resume:
            return every
        end = 0
        for line in self._file:
            record = _record(line)
            if record is None or record["status"] == "summary":
                break
            piece = next(every, None)
            if piece is None or _key(piece) != record["key"]:
                raise click.UsageError(f"{self._path} holds the record {record['key']!r} that this batch does not have there")
            run.count(line.decode().rstrip("\n"))
            end += len(line)
        self._file.seek(end)
        self._file.truncate()
        return every


def _record(line: bytes) -> dict[str, Any] | None:
    """A whole record; None for one that was cut off."""
    try:
        value = json.loads(line) if line.endswith(b"\n") else None
    except ValueError:
        return None
    return value if isinstance(value, dict) else None


def _key(piece: Piece) -> str:
    return str(json.loads(piece)["key"]) if isinstance(piece, str) else piece.key


def _table(word: str, *, force: bool) -> tuple[str, Path]:
    form, _, place = word.partition("=")
    if form not in ("csv", "html") or not place:
        raise click.UsageError(f"--fold {word}: write csv=PATH or html=PATH")
    writable(f"--fold {word}", Path(place), force=force)
    return form, Path(place)


def _told(run: _Run, seconds: float) -> str:
    said = run.tally.value()
    statuses = ", ".join(f"{number} {name}" for name, number in said["statuses"].items() if number)
    verdicts = ", ".join(f"{number} {name}" for name, number in said["verdicts"].items() if number)
    lines = [
        f"{run.folding.models} models, {said['records']} combinations in {seconds:.1f} s: {statuses}"
        + (f"; {verdicts}" if verdicts else "")
    ]
    often = ", ".join(f"{each['rule']} ({each['violations']})" for each in said["violated_most"][:5])
    lines += [f"violated most: {often}"] if often else []
    near = run.folding.nearest[:3]
    lines += [f"nearest to a limit: {each.key}, {each.rule} at {each.at}: {each.measured}, limit {each.limit}" for each in near]
    return "\n".join(inert(line) for line in lines)
