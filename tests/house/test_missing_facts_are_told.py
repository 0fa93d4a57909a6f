"""A missing fact never becomes an answer in silence: who catches one passes its pointer on, or says why nothing hangs on it."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from house.converted import ROOT, converted_files

MARK = "# unknown: "


def silent(source: str) -> Iterator[int]:
    """The lines of handlers of UnknownFact that neither use what was caught, nor raise, nor say ``# unknown: why``."""
    lines = source.splitlines()
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.ExceptHandler) or node.type is None or "UnknownFact" not in ast.unparse(node.type):
            continue
        inside = [each for statement in node.body for each in ast.walk(statement)]
        used = node.name and any(isinstance(each, ast.Name) and each.id == node.name for each in inside)
        said = any(
            MARK in line and line.partition(MARK)[2].strip() for line in lines[node.lineno - 1 : node.body[-1].end_lineno]
        )
        if not (used or said or isinstance(node.body[-1], ast.Raise)):
            yield node.lineno


@pytest.mark.parametrize("file", [pytest.param(file, id=str(file.relative_to(ROOT))) for file in converted_files()])
def test_a_handler_says_why_a_missing_fact_does_not_matter(file: Path) -> None:
    assert list(silent(file.read_text(encoding="utf-8"))) == []


HANDLER = "try:\n    a()\nexcept UnknownFact{as_}:\n    {body}\n"


@pytest.mark.parametrize(
    ("as_", "body", "wrong"),
    [
        ("", "return False", True),
        (" as missing", "return False", True),
        ("", "return False  # unknown: ", True),
        ("", "return False  # unknown: the device is told of by itself", False),
        (" as missing", "needs.append(missing.pointer)", False),
        ("", "raise", False),
    ],
)
def test_a_silent_handler_is_found(as_: str, body: str, wrong: bool) -> None:
    source = f"def f():\n    {HANDLER.format(as_=as_, body=body).rstrip().replace(chr(10), chr(10) + '    ')}\n"
    assert bool(list(silent(source))) is wrong
