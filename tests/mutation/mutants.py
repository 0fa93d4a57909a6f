"""Mutants of a module by the operators of cosmic-ray, and one of them put in its place in the process that runs."""

import gc
import random
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

_PLAIN = ("AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd", "NumberReplacer")
_FLOW = ("ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "ZeroIterationForLoop")
_SIGNS = ("ReplaceUnaryOperator_USub_UAdd", "ReplaceUnaryOperator_Delete_USub", "ReplaceUnaryOperator_Delete_Not")
_ALIKE = ({"Add", "Sub", "Mul", "Div"}, {"Eq", "NotEq", "Lt", "LtE", "Gt", "GtE"}, {"Is", "IsNot"})
"""What is put in place of each other: what fails by its type alone (a shift of floats) would only flatter the score."""


@dataclass(frozen=True)
class Mutant:
    operator: str
    line: int
    before: str
    after: str
    source: str


def operators() -> Iterator[str]:
    """The names of the operators that are used."""
    for name in operator_names():
        short = name.removeprefix("core/")
        pair = set(short.split("_")[1:])
        if short in (*_PLAIN, *_FLOW, *_SIGNS) or (pair and any(pair <= group for group in _ALIKE)):
            yield name


def drawn(path: Path, rng: random.Random) -> Iterator[Mutant]:
    """Every mutant of a file that changes what is run, in an order by chance."""
    source = path.read_text(encoding="utf-8")
    tree, lines, places = get_ast(source), source.splitlines(), []
    for name in operators():
        operator = get_operator(name)()
        found = [(start[0], _decorates(node)) for node in ast_nodes(tree) for start, _ in operator.mutation_positions(node)]
        places += [(name, number, line) for number, (line, decorates) in enumerate(found) if not decorates]
    rng.shuffle(places)
    for name, number, line in places:
        mutated = mutate_code(source, get_operator(name)(), number)
        with suppress(SyntaxError):
            if mutated is not None and _differs(source, mutated, str(path)):
                yield Mutant(
                    name.removeprefix("core/"), line, lines[line - 1].strip(), mutated.splitlines()[line - 1].strip(), mutated
                )


def _decorates(node: Any) -> bool:
    """Whether a node stands in a decorator: slots and citations, whose laws stand elsewhere."""
    return node is not None and (node.type == "decorator" or _decorates(node.parent))


def put_in_place(module: ModuleType, mutated: str) -> None:
    """Functions get the mutant's code wherever they are held already, defaults and constants its values."""
    path = str(module.__file__)
    new = _codes(compile(mutated, path, "exec"))
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__code__.co_filename == path:
            each.__code__ = new[_key(each.__code__)]
    fresh: dict[str, Any] = {"__name__": module.__name__, "__file__": path, "__package__": module.__package__}
    exec(compile(mutated, path, "exec"), fresh)
    for name, old in list(vars(module).items()):
        if getattr(old, "__module__", None) == module.__name__ and isinstance(old, FunctionType | type):
            _set_defaults(old, fresh[name])
        elif name in fresh and not name.startswith("__") and not callable(old) and repr(old) != repr(fresh[name]):
            _bind_anew(name, old, fresh[name])


def _set_defaults(old: Any, new: Any) -> None:
    pairs = [(old, new)] if isinstance(old, FunctionType) else [(each, vars(new).get(name)) for name, each in vars(old).items()]
    for one, other in pairs:
        if isinstance(one, FunctionType) and isinstance(other, FunctionType):
            one.__defaults__, one.__kwdefaults__ = other.__defaults__, other.__kwdefaults__


def _bind_anew(name: str, old: Any, new: Any) -> None:
    for module in list(sys.modules.values()):
        if getattr(module, "__dict__", {}).get(name) is old:
            setattr(module, name, new)


def _differs(source: str, mutated: str, path: str) -> bool:
    """Whether code differs that a function runs, or that of a module or class but for annotations."""
    head = "from __future__ import annotations\n"
    one, other = (_codes(compile(head + each, path, "exec")) for each in (source, mutated))
    return any(
        (each.co_code, _values(each)) != (other[key].co_code, _values(other[key])) for key, each in one.items() if key in other
    )


def _values(code: CodeType) -> list[object]:
    return [repr(each) for each in code.co_consts if not isinstance(each, CodeType)]


def _key(code: CodeType) -> tuple[str, int, int]:
    return code.co_qualname, code.co_firstlineno, code.co_argcount


def _codes(code: CodeType) -> dict[tuple[str, int, int], CodeType]:
    found = {_key(code): code}
    for each in code.co_consts:
        if isinstance(each, CodeType):
            found |= _codes(each)
    return found
