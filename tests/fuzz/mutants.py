"""Plans made wrong on purpose: facts dropped, doubled, retyped, made extreme, pointed nowhere, swapped, and two plans in one.

Every choice comes from one random number generator, so that a seed is all that it takes to have a plan again.
"""

import copy
import random
from collections.abc import Callable
from typing import Any

from fuzz.seeds import Document, cases, houses
from nailplate.plan import PART_KINDS

EXTREMES = (
    0,
    1,
    -1,
    2,
    3,
    7,
    12,
    100,
    101,
    3599,
    3600,
    1e-9,
    0.1,
    1e7,
    -1e7,
    1e308,
    2**53,
    "0 in",
    "300 ft",
    "1e9 in",
    "4/0 AWG",
    "1000 kcmil",
)
OTHERS: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    1,
    "",
    "x",
    "none",
    [],
    {},
    [[]],
    [1, 2],
    {"a": 1},
    "14 AWG",
    "20 A",
    "12 in",
    "2023",
)
CASES_TO_HOUSES = 399
"""Cases are small and many, and a house costs as much as two hundred of them."""

Path = tuple[str | int, ...]
Mutation = Callable[[random.Random, Document], None]


def mutant(seed: int) -> Document:
    """The plan that a seed makes."""
    rng = random.Random(seed)
    document = copy.deepcopy(_start(rng))
    for _ in range(rng.choice((0, 1, 1, 1, 2, 2, 3, 5, 8))):
        rng.choice(MUTATIONS)(rng, document)
    return document


def _start(rng: random.Random) -> Document:
    if rng.randrange(CASES_TO_HOUSES + 1):
        return rng.choice(cases())[1]
    return rng.choice(houses())


def paths(value: Any, at: Path = ()) -> list[Path]:
    """Every place of a document but the whole."""
    found: list[Path] = []
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in members:
        found.append((*at, key))
        found += paths(inner, (*at, key))
    return found


def at(document: Any, path: Path) -> Any:
    """What stands at a place."""
    for key in path:
        document = document[key]
    return document


def put(document: Any, path: Path, value: Any) -> None:
    """Puts a value at a place."""
    at(document, path[:-1])[path[-1]] = value


def drop(rng: random.Random, document: Document) -> None:
    path = _somewhere(rng, document)
    if path:
        del at(document, path[:-1])[path[-1]]


def duplicate(rng: random.Random, document: Document) -> None:
    """A part, or an item of a list, once more."""
    path = _somewhere(rng, document, deepest=4)
    if not path:
        return
    holder, again = at(document, path[:-1]), copy.deepcopy(at(document, path))
    if isinstance(holder, list):
        holder.append(again)
    elif len(path) == 2 and path[0] in PART_KINDS:
        holder[f"{path[1]}-2"[:64]] = again


def retype(rng: random.Random, document: Document) -> None:
    path = _somewhere(rng, document)
    if path:
        put(document, path, copy.deepcopy(rng.choice(OTHERS)))


def extreme(rng: random.Random, document: Document) -> None:
    """Another number, size or quantity where one stands."""
    path = _somewhere(rng, document, lambda value: isinstance(value, int | float | str) and not isinstance(value, bool))
    if path:
        put(document, path, rng.choice(EXTREMES))


def another_choice(rng: random.Random, document: Document) -> None:
    """A fact as another part of the plan, or of a house, states it."""
    path = _somewhere(rng, document, lambda value: isinstance(value, str | bool))
    if not path:
        return
    source = rng.choice((document, rng.choice(houses())))
    others = [other for other in paths(source) if other[-1] == path[-1]]
    if others:
        put(document, path, copy.deepcopy(at(source, rng.choice(others))))


def add_fact(rng: random.Random, document: Document) -> None:
    """A fact that another part of the same map, here or in a house, states."""
    maps = [name for name in PART_KINDS if isinstance(document.get(name), dict) and document[name]]
    if not maps:
        return
    name = rng.choice(maps)
    source = rng.choice((document, rng.choice(houses()), rng.choice(cases())[1]))
    donors = [part for part in source.get(name, {}).values() if isinstance(part, dict) and part]
    taker = document[name][rng.choice(list(document[name]))]
    if donors and isinstance(taker, dict):
        donor = rng.choice(donors)
        fact = rng.choice(list(donor))
        taker[fact] = copy.deepcopy(donor[fact])


def dangle(rng: random.Random, document: Document) -> None:
    """A part taken away that others may name."""
    maps = [name for name in PART_KINDS if isinstance(document.get(name), dict) and document[name]]
    if maps:
        name = rng.choice(maps)
        del document[name][rng.choice(list(document[name]))]


def swap(rng: random.Random, document: Document) -> None:
    """Two facts of one name, exchanged."""
    found = paths(document)
    if not found:
        return
    one = rng.choice(found)
    alike = [path for path in found if path[-1] == one[-1] and path[: len(one)] != one and one[: len(path)] != path]
    if alike:
        other = rng.choice(alike)
        first, second = copy.deepcopy(at(document, one)), copy.deepcopy(at(document, other))
        put(document, one, second)
        put(document, other, first)


def merge(rng: random.Random, document: Document) -> None:
    """The parts of another case's plan beside, or instead of, those that are here."""
    other = rng.choice(cases())[1]
    for name in PART_KINDS:
        if isinstance(other.get(name), dict) and isinstance(document.get(name, {}), dict):
            document.setdefault(name, {}).update(copy.deepcopy(other[name]))


def shuffle(rng: random.Random, document: Document) -> None:
    """The same facts, in another order."""
    shuffled(rng, document)


def shuffled(rng: random.Random, value: Any) -> None:
    """Puts the keys of every object in another order."""
    if isinstance(value, dict):
        keys = list(value)
        rng.shuffle(keys)
        held = {key: value[key] for key in keys}
        value.clear()
        value.update(held)
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        shuffled(rng, inner)


def other_edition(rng: random.Random, document: Document) -> None:
    basis = document.get("basis")
    if isinstance(basis, dict):
        basis["edition"] = rng.choice(("2017", "2020", "2023", "2026"))
        if rng.randrange(3) == 0:
            basis["regime"] = rng.choice(("dwelling", "recreational_vehicle", "park_trailer", "manufactured_home", "undecided"))


MUTATIONS: tuple[Mutation, ...] = (
    drop,
    drop,
    duplicate,
    retype,
    extreme,
    extreme,
    another_choice,
    another_choice,
    add_fact,
    add_fact,
    dangle,
    swap,
    merge,
    shuffle,
    other_edition,
)


def _somewhere(
    rng: random.Random, document: Document, fits: Callable[[Any], bool] = lambda _: True, deepest: int = 99
) -> Path | None:
    found = [path for path in paths(document) if len(path) <= deepest and fits(at(document, path))]
    return rng.choice(found) if found else None
