"""Which limits and provisions of the code a rule names: found in its functions, so that none has to be listed by hand.

A function of the rule's module, or of a module beside it that it uses, names one by its text, as in ``job.holds("fan_box_anywhere")``.
What a rule asks by way of other rooms is declared with ``limits=`` and ``provisions=``; a house test sees to it that every entry shows on some rule's page.
"""

import sys
from collections.abc import Iterable, Iterator
from itertools import pairwise
from types import CodeType, FunctionType

from nailplate.codes import EDITIONS, edition
from nailplate.codes.figures import Limit, Provision


def names_in(module: str, judge: object) -> frozenset[str]:
    """Every text that a function of ``module``, or of a module of its folder that it uses, holds as a constant.

    ``judge`` is the rule's own function, which its module no longer names.
    """
    folder = module.rpartition(".")[0] + "."
    seen: dict[str, None] = {}
    waiting = [module]
    while waiting:
        seen[(name := waiting.pop())] = None
        used = {each.__module__ for each in vars(sys.modules[name]).values() if isinstance(each, FunctionType | type)}
        waiting += [each for each in used if each.startswith(folder) and each not in seen and each not in waiting]
    judging = [judge] if isinstance(judge, FunctionType) else []
    functions = [*judging, *(each for name in seen for each in _functions(name))]
    return frozenset(text for function in functions for text in _texts(function.__code__))


def _functions(module: str) -> Iterator[FunctionType]:
    """The functions and methods that a module defines."""
    for each in vars(sys.modules[module]).values():
        if isinstance(each, FunctionType) and each.__module__ == module:
            yield each
        elif isinstance(each, type) and each.__module__ == module:
            yield from (method for method in vars(each).values() if isinstance(method, FunctionType))


def _texts(code: CodeType) -> Iterator[str]:
    for constant in code.co_consts:
        if isinstance(constant, str):
            yield constant
        elif isinstance(constant, tuple):
            yield from (each for each in constant if isinstance(each, str))
        elif isinstance(constant, CodeType):
            yield from _texts(constant)


def changes_of(limits: Iterable[str], provisions: Iterable[str]) -> dict[str, str]:
    """What each edition changed of these, in sentences, by ``nec-<year>``."""
    said: dict[str, list[str]] = {}
    for before, after in pairwise(EDITIONS):
        earlier, later = edition(before), edition(after)
        pairs: list[tuple[Limit | Provision, Limit | Provision]] = [
            *((earlier.provisions.entries[name], later.provisions.entries[name]) for name in provisions),
            *((earlier.limits.entries[name], later.limits.entries[name]) for name in limits),
        ]
        said.setdefault(f"nec-{after}", []).extend(change for one, two in pairs if (change := changed(one, two)))
    return {key: " ".join(sentences) for key, sentences in said.items() if sentences}


def changed(before: Limit | Provision, after: Limit | Provision) -> str:
    """What changed from one edition to another, in a sentence; empty where nothing did."""
    if figure_of(before) == figure_of(after):
        return ""
    if after.note:
        return after.note
    if isinstance(after, Provision):
        return f"{after.what[0].upper()}{after.what[1:]}." if after.holds else f"No longer: {after.what}."
    return f"{after.what[0].upper()}{after.what[1:]}: {figure_of(after)}; before, {figure_of(before)}."


def figure_of(entry: Limit | Provision) -> str:
    """What an entry says, for people."""
    if isinstance(entry, Provision):
        return "yes" if entry.holds else "no"
    return entry.shown
