"""The forms that results are written in, and the outputs that a command line names.

``FORMAT=PATH`` writes one file for all plans; where PATH holds ``{name}``, or is a folder, each plan has a file of its own.
"""

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from nailplate.codes import nearest
from nailplate.render import (
    annotations,
    code_quality,
    csv,
    junit,
    lines,
    markdown,
    sarif,
    several_html,
    summary,
    table,
    text,
)
from nailplate.render.text import Paint, unpainted
from nailplate.review.checked import Checked
from nailplate.review.threshold import Threshold
from nailplate.rulekit import Rule
from nailplate.wire import baselines_json, report_value, text_of
from nailplate.wire.results import ndjson, result_value


@dataclass(frozen=True)
class Context:
    """What a form may need beside the results: the rules in force, what fails, and color."""

    rules: dict[str, Rule]
    threshold: Threshold
    paint: Paint = unpainted
    many: bool = False
    """Whether several plans were asked for, though perhaps only one was found."""


Write = Callable[[Sequence[Checked], Context], str | bytes]


@dataclass(frozen=True)
class Form:
    """One form: what its files end in, and what writes it."""

    ending: str
    write: Write


def _json(checked: Sequence[Checked], context: Context) -> bytes:
    if len(checked) == 1 and not context.many:
        only = checked[0]
        return text_of(report_value(only.report) if only.report else result_value(only))
    return text_of([result_value(each) for each in checked])


def _markdown(checked: Sequence[Checked], context: Context) -> str:
    pages = [markdown(each.report) if each.report else text(each) for each in checked]
    return "\n".join([*pages, summary(checked)] if context.many else pages)


def _text(checked: Sequence[Checked], context: Context) -> str:
    pages = [text(each, context.paint) for each in checked]
    return "\n".join([*pages, table(checked)] if context.many else pages)


FORMS: dict[str, Form] = {
    "annotations": Form("txt", lambda checked, context: annotations(checked)),
    "baseline": Form("json", lambda checked, context: baselines_json(checked)),
    "code-quality": Form("json", lambda checked, context: code_quality(checked)),
    "csv": Form("csv", lambda checked, context: csv(checked)),
    "html": Form("html", lambda checked, context: several_html(checked)),
    "json": Form("json", _json),
    "junit": Form("xml", lambda checked, context: junit(checked, context.threshold)),
    "lines": Form("txt", lambda checked, context: lines(checked)),
    "markdown": Form("md", _markdown),
    "ndjson": Form("ndjson", lambda checked, context: ndjson(checked)),
    "sarif": Form("sarif", lambda checked, context: sarif(checked, context.rules)),
    "summary": Form("md", lambda checked, context: summary(checked)),
    "text": Form("txt", _text),
}
"""Name of each form to how it is written."""


def written(form: str, checked: Sequence[Checked], context: Context) -> bytes:
    """The results in a form, as bytes."""
    made = FORMS[form].write(checked, context)
    return made.encode("utf-8", "backslashreplace") if isinstance(made, str) else made


@dataclass(frozen=True)
class Output:
    """One output that was requested, checked before any plan is."""

    form: str
    path: Path
    each: bool
    force: bool

    def write(self, checked: Sequence[Checked], context: Context) -> None:
        """Writes it. Raises UsageError where a file is there already, OSError where one cannot be written."""
        if not self.each:
            self._put(self.path, written(self.form, checked, context))
            return
        taken: set[Path] = set()
        for one in checked:
            path = _free(self._path_of(one), taken)
            taken.add(path)
            self._put(path, written(self.form, [one], Context(context.rules, context.threshold)))

    def _path_of(self, one: Checked) -> Path:
        name = re.sub(r"[^A-Za-z0-9._-]+", "-", Path(one.name).stem).strip("-.") or "plan"
        return Path(str(self.path).replace("{name}", name))

    def _put(self, path: Path, content: bytes) -> None:
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            with path.open("wb" if self.force else "xb") as file:
                file.write(content)
        except FileExistsError:
            raise _exists(path) from None


def _free(path: Path, taken: set[Path]) -> Path:
    """Two plans of one name in different folders each get a file."""
    number = 2
    found = path
    while found in taken:
        found = path.with_stem(f"{path.stem}-{number}")
        number += 1
    return found


def outputs(words: Sequence[str], *, force: bool) -> list[Output]:
    """The outputs requested. Raises UsageError for a form there is not, a path that is taken or cannot be written."""
    return [_output(word, force=force) for word in words]


def _output(word: str, *, force: bool) -> Output:
    form, _, place = word.partition("=")
    if form not in FORMS or not place:
        hint = f"; did you mean {nearest(form, FORMS)}?" if place and form not in FORMS else ""
        raise click.UsageError(f"--output {word}: write it as FORMAT=PATH with {', '.join(FORMS)}{hint}")
    path = Path(place)
    each = "{name}" in place
    if place.endswith(("/", os.sep)) or path.is_dir():
        path, each = path / f"{{name}}.{FORMS[form].ending}", True
    writable(f"--output {word}", path, force=force or each)
    return Output(form, path, each, force)


def writable(option: str, path: Path, *, force: bool) -> None:
    """Raises UsageError where a file is there already, or where the nearest folder that is there lets none be made."""
    if path.exists() and not force:
        raise _exists(path)
    folder = next(parent for parent in (path.parent, *path.parent.parents) if parent.exists() and "{name}" not in str(parent))
    if not folder.is_dir() or not os.access(folder, os.W_OK | os.X_OK):
        raise click.UsageError(f"{option}: {folder} is no folder that can be written to")


def _exists(path: Path) -> click.UsageError:
    return click.UsageError(f"{path} is there already; --force writes over it")


def painter(color: bool | None, stream: Any) -> Paint:
    """Color for a terminal that wants it: ``--color`` decides, then NO_COLOR, then whether it is a terminal at all."""
    wanted = (stream.isatty() and not os.environ.get("NO_COLOR")) if color is None else color
    return _colored if wanted else unpainted


_STYLES: dict[str, dict[str, Any]] = {
    "danger": {"fg": "magenta", "bold": True},
    "code": {"fg": "yellow", "bold": True},
    "advice": {"fg": "cyan"},
    "clear": {"fg": "green", "bold": True},
    "head": {"bold": True},
    "faint": {"dim": True},
}


def _colored(style: str, words: str) -> str:
    return click.style(words, **_STYLES[style])
