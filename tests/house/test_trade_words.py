"""A named set of the trade's words stands once, in ``plan.trade``: a copy would fork and give another answer."""

import ast
import importlib
import pkgutil
import re
from collections.abc import Iterator
from enum import Enum
from itertools import combinations, pairwise
from pathlib import Path

import pytest

import nailplate
from nailplate.plan import trade, words

ROOT = Path(nailplate.__file__).parent
ENUMS = {name: kind for name, kind in vars(words).items() if isinstance(kind, type) and issubclass(kind, Enum)}
NAMED = {
    frozenset(value): name
    for name, value in vars(trade).items()
    if isinstance(value, frozenset | tuple) and len(value) >= 3 and all(isinstance(each, Enum) for each in value)
}
MOST = 3


def literals(source: str) -> Iterator[tuple[int, frozenset[Enum]]]:
    """Every literal set, list or tuple of members of one of the plan's enums, with its line."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Set | ast.Tuple | ast.List):
            continue
        found = [_member(each) for each in node.elts]
        if found and None not in found and len({type(each) for each in found}) == 1:
            yield node.lineno, frozenset(each for each in found if each is not None)


def _member(node: ast.expr) -> Enum | None:
    if not isinstance(node, ast.Attribute):
        return None
    kind = ENUMS.get(ast.unparse(node.value).rpartition(".")[2])
    return kind.__members__.get(node.attr) if kind else None


def wrong(source: str) -> list[str]:
    found = []
    for line, members in literals(source):
        if members in NAMED:
            found.append(f"line {line} repeats trade.{NAMED[members]}")
        elif len(members) > MOST:
            found.append(f"line {line} has {len(members)} words; name the set in plan/trade.py")
    return found


def test_no_set_of_words_stands_outside_the_module_of_the_trade() -> None:
    files = [file for file in sorted(ROOT.rglob("*.py")) if file != ROOT / "plan" / "trade.py"]
    found = {str(file.relative_to(ROOT)): wrong(file.read_text(encoding="utf-8")) for file in files}
    assert {file: lines for file, lines in found.items() if lines} == {}


@pytest.mark.parametrize(
    "source",
    [
        "X = {Use.KITCHEN, Use.PANTRY, Use.DINING, Use.DEN}",
        "X = frozenset((words.Use.KITCHEN, words.Use.PANTRY, words.Use.DINING, words.Use.DEN))",
        "X = (DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.HEAT_ALARM)",
    ],
)
def test_a_literal_set_is_found(source: str) -> None:
    assert wrong(source)


def test_no_two_names_of_the_trade_mean_the_same() -> None:
    sets = [name for name, value in vars(trade).items() if isinstance(value, frozenset)]
    assert len({getattr(trade, name) for name in sets}) == len(sets)


def test_every_name_of_the_trade_is_used_and_tells_its_section_or_practice() -> None:
    source = (ROOT / "plan" / "trade.py").read_text(encoding="utf-8")
    others = "".join(file.read_text(encoding="utf-8") for file in ROOT.rglob("*.py") if file.name != "trade.py")
    names = [name for name in vars(trade) if name.isupper()]
    assert [
        name for name in names if not re.search(rf"\b{name}\b", others) and len(re.findall(rf"\b{name}\b", source)) < 2
    ] == []
    body = ast.parse(source).body
    for statement, after in pairwise(body):
        if isinstance(statement, ast.AnnAssign):
            assert isinstance(after, ast.Expr), ast.unparse(statement.target)


def test_no_two_enums_hold_the_same_words() -> None:
    kinds: dict[type[Enum], frozenset[object]] = {}
    for module in pkgutil.walk_packages(nailplate.__path__, "nailplate."):
        if not module.name.endswith("__main__"):
            found = [each for each in vars(importlib.import_module(module.name)).values() if isinstance(each, type)]
            kinds |= {kind: frozenset(each.value for each in kind) for kind in found if issubclass(kind, Enum) and len(kind)}
    twins = [(one.__qualname__, two.__qualname__) for one, two in combinations(kinds, 2) if kinds[one] == kinds[two]]
    assert twins == []
