"""What people read is in the words that a US electrician says: reports, pages, faults, schema texts, commands and pages of HTML."""

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import nailplate

ROOT = Path(nailplate.__file__).parent

WORDS = {
    r"\bstor(ey|eys|eyed)\b(?! ?')": "story (storey stays as the plan's own word for a kind of level)",
    r"\bcentres?\b|\bcentred\b": "center",
    r"\bpanelling\b|\bcolou?rs? code\b|\bcolour\w*|\bmetres?\b|\bgrey\b|\b(label|travel|level)l(ed|ers?|ing)\b": "US spelling",
    r"\b(\w+) rating of the \1\b": "the rating, said once",
    r"(?<!load-)\bbears?\b|\bborne\b": "has an ampacity of, or carries",
    r"\bputs? (it|them|this|that|all of them|every \w+|\w+ )?right\b|\bput right\b|\bmended\b": "correct, fix, repaired",
    r"\basks? for\b|\basked for\b|\basking for\b": "requires",
    r"\blet off\b": "exempt",
    r"\bfor good\b": "permanently",
    r"\binterrupters?\b": "GFCI device, AFCI device",
    r"\bopens? together\b": "disconnect simultaneously",
    r"\blives (on|by)\b": "powered by, supplied only by",
    r"\bcries\b": "nuisance-alarms",
    r"\bput out\b": "switched off",
    r"\bjoin them all\b": "interconnect",
    r"\bplugged in by hand\b": "portable cord-and-plug",
    r"\btold of\b": "covered by",
    r"\b(it|that|surface that) burns\b(?! (up|out|open))": "is combustible, uses fuel",
    r"\b(a|the) (breaker|circuit) of [0-9]+ [AV]\b": "a 30 A breaker, a 20 A circuit",
    r"\bstands? behind (a|the|[0-9])": "is fed by, is on",
    r"\ba (8|18|80)\b": "an 8 AWG conductor",
    r"(?-i:\bthe evse\b)": "EVSE",
    r"(?<!coffee )\bmakers?\b": "manufacturer",
    r"(?-i:\bFit an?\b)": "Install",
}
"""What nobody says in the trade, and what is said instead."""

_READ = ("plan", "calculations", "web", "cli")
"""Rooms of which the docstrings of classes and commands are published too: schemas, the API description, help texts."""


def read_by_people(file: Path) -> Iterator[tuple[int, str]]:
    """Every text of a module that reaches people, with its line: literals, and the docstrings that are printed."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    room = file.relative_to(ROOT).parts[0]
    silent = {id(_docstring(node)) for node in _documented(tree) if not _is_printed(node, room)}
    noted = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)}
    documented = {id(_docstring(node)) for node in _documented(tree)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            if id(node) in silent or (id(node) in noted and id(node) not in documented):
                continue
            yield node.lineno, node.value


def _docstring(node: ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) -> ast.expr | None:
    first = node.body[0]
    return first.value if isinstance(first, ast.Expr) else None


def _documented(tree: ast.Module) -> Iterator[ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
            and ast.get_docstring(node) is not None
        ):
            yield node


def _is_printed(node: ast.AST, room: str) -> bool:
    if room == "rules":
        return isinstance(node, ast.Module)
    return room in _READ and not isinstance(node, ast.Module)


def texts(file: Path) -> Iterator[tuple[int, str]]:
    """What people read of a module, of a table or template, or of a file of cases or an example."""
    if file.suffix == ".py":
        yield from read_by_people(file)
    elif file.suffix == ".json":
        yield from ((0, text) for text in _said(json.loads(file.read_text(encoding="utf-8"))))
    else:
        yield from enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)


SAID_IN_JSON = frozenset({"description", "label", "name", "what", "where", "why", "reason", "directory", "title"})
"""Members of cases, examples and their faults that are words for people; ids and values are the plan's own."""


def _said(value: Any) -> Iterator[str]:
    for name, member in value.items() if isinstance(value, dict) else ():
        if name in SAID_IN_JSON and isinstance(member, str):
            yield member
        else:
            yield from _said(member)
    for member in value if isinstance(value, list) else ():
        yield from _said(member)


def files() -> list[Path]:
    """Modules, tables, templates, cases and examples of the service."""
    return sorted(file for suffix in ("py", "toml", "html", "json") for file in ROOT.rglob(f"*.{suffix}"))


@pytest.mark.parametrize("word", WORDS)
def test_nobody_reads_a_word_that_the_trade_does_not_say(word: str) -> None:
    banned = re.compile(word, re.IGNORECASE)
    hits = [
        f"{file.relative_to(ROOT)}:{line}: {found.group(0)!r} in {text[:100]!r}; say: {WORDS[word]}"
        for file, line, text in _everything()
        if (found := banned.search(text)) and text not in ("storey", "Storey", "centre")
    ]
    assert hits == []


def _everything() -> list[tuple[Path, int, str]]:
    if not _READ_ONCE:
        _READ_ONCE.extend((file, line, text) for file in files() for line, text in texts(file))
    return _READ_ONCE


_READ_ONCE: list[tuple[Path, int, str]] = []


def test_the_list_catches_what_it_is_for() -> None:
    for wrong in (
        "it bears 55 A",
        "Put it right by a larger box",
        "a breaker of 30 A",
        "an interrupter",
        "the storey above",
        "travellers",
    ):
        assert any(re.search(word, wrong, re.IGNORECASE) for word in WORDS)
