"""Plans made wrong on purpose, read at once and by marshmallow alone: the same values, and the same faults in the same words.

Run: ``PYTHONPATH=service:tests nice -n 19 python tests/fuzz/loader.py [documents] [first seed]``. A seed is all that it takes to
have a document again: ``document(SEED)``.
"""

import copy
import random
import sys
from collections import Counter
from collections.abc import Callable
from functools import cache
from time import process_time
from typing import Any

from fuzz.mutants import MUTATIONS, OTHERS, add_fact, another_choice, paths, put
from fuzz.mutants import at as standing_at
from fuzz.seeds import HOUSES, Document, cases, example
from nailplate.plan import PART_KINDS
from nailplate.wire.compound_fields import Loaded
from nailplate.wire.default_fields import Section
from nailplate.wire.fields import Problem
from nailplate.wire.plan_schema import by_marshmallow_alone
from nailplate.wire.reading import loaded

ODD_KEYS = (
    "",
    "kind ",
    "Kind",
    "ratng",
    "_schema",
    "from",
    "start",
    "at",
    "to",
    "pointer",
    "stated",
    "extra",
    "é",
    "x" * 65,
    "type",
    "id",
)
QUANTITIES = (
    *(
        "7 ft 6 in",
        "7'-6 1/2\"",
        "0 in",
        "-1 in",
        "3600 in",
        "3600.000000001 in",
        "3601 in",
        "91440 mm",
        "12",
        "12 A",
        "20 A",
        "18 in3",
    ),
    *(
        "86 degF",
        "-90 degC",
        "1500 W",
        "120/240 V",
        "nan in",
        "9**9 ft",
        " 5 in",
        "5  in",
        "٣ in",
        "x" * 65,
        "1e3 in",
        "35 lb",
        "1 V",
    ),
)
NUMBERS = (
    0,
    -0.0,
    1,
    -1,
    1.0,
    0.5,
    3600,
    3600.0000001,
    3600.1,
    -3600,
    1e7,
    1e7 + 1,
    -1e7,
    1e308,
    2**53,
    100,
    101,
    12,
    13,
    True,
)
HOUSE_IN = 500
"""Houses are large, and take as long as eighty cases: one document of so many begins as one."""

MOST_TOLD = 20


def document(seed: int) -> Document:
    """The document that a seed makes."""
    rng = random.Random(seed)
    made: Document = copy.deepcopy(_house(rng.choice(HOUSES)) if rng.randrange(HOUSE_IN) == 0 else rng.choice(cases())[1])
    for _ in range(rng.choice((0, 1, 1, 1, 2, 2, 4))):
        rng.choice(CHANGES)(rng, made)
    return made


_house = cache(example)


def other_value(rng: random.Random, made: Document) -> None:
    """Anything, anywhere."""
    place = rng.choice(paths(made) or [("name",)])
    put(made, place, copy.deepcopy(rng.choice((*QUANTITIES, *NUMBERS, *OTHERS))))


def other_key(rng: random.Random, made: Document) -> None:
    """A fact under another name, or one more under it."""
    place = rng.choice([place for place in paths(made) if isinstance(place[-1], str)] or [("name",)])
    holder = standing_at(made, place[:-1])
    value = holder.pop(place[-1]) if rng.randrange(2) and place[-1] in holder else rng.choice(OTHERS)
    holder[rng.choice((*ODD_KEYS, f"{place[-1]}s", str(place[-1])[:-1]))] = copy.deepcopy(value)


def another_fact(rng: random.Random, made: Document) -> None:
    """A fact as some other case states it."""
    others = paths(rng.choice(cases())[1])
    wanted = rng.choice(others)[-1]
    places = [place for place in paths(made) if place[-1] == wanted]
    if places:
        source = rng.choice(cases())[1]
        donors = [place for place in paths(source) if place[-1] == wanted] or [rng.choice(paths(source))]
        put(made, rng.choice(places), copy.deepcopy(standing_at(source, rng.choice(donors))))


def one_more_fact(rng: random.Random, made: Document) -> None:
    """A fact that a part of the same map states in some other case."""
    source = rng.choice(cases())[1]
    held = [name for name in PART_KINDS if isinstance(made.get(name), dict) and made[name] and source.get(name)]
    if held:
        name = rng.choice(held)
        donor, taker = (rng.choice(list(each[name].values())) for each in (source, made))
        if isinstance(taker, dict) and donor:
            fact = rng.choice(list(donor))
            taker[fact] = copy.deepcopy(donor[fact])


def other_units(rng: random.Random, made: Document) -> None:
    """Bare lengths in another unit, in none, or in one that is none."""
    made["units"] = rng.choice(
        ({"length": "mm"}, {"length": "ft"}, {"length": "m"}, {"length": "cubit"}, {}, {"length": 1}, None)
    )
    if rng.randrange(4) == 0:
        del made["units"]


def defaults(rng: random.Random, made: Document) -> None:
    """A part's fact as a default, for all or for a kind, taken from the part or not."""
    held = [name for name in PART_KINDS if isinstance(made.get(name), dict) and made[name]]
    sections = made.setdefault("defaults", {})
    if not held or not isinstance(sections, dict):
        return
    name = rng.choice(held)
    part = made[name][rng.choice(list(made[name]))]
    section = sections.setdefault(name, {})
    if not isinstance(part, dict) or not part or not isinstance(section, dict):
        return
    fact = rng.choice(list(part))
    kind = part.get(rng.choice(("kind", "shape", "size", "type", "purpose")))
    inner = section.setdefault(kind, {}) if isinstance(kind, str) and rng.randrange(3) == 0 else section
    if isinstance(inner, dict):
        inner[fact] = part.pop(fact) if rng.randrange(3) else copy.deepcopy(part[fact])


def short_route(rng: random.Random, made: Document) -> None:
    """A cable's segment that says only where it ends."""
    cables = made.get("cables")
    routed = [
        each for each in (cables.values() if isinstance(cables, dict) else ()) if isinstance(each, dict) and each.get("route")
    ]
    if routed and isinstance(route := rng.choice(routed)["route"], list):
        route.append({"how": "through", "to": [rng.randrange(99), 3], "to_height": rng.choice((9, "3 ft", "x"))})


CHANGES: tuple[Callable[[random.Random, Document], None], ...] = (
    *(other_value, other_value, other_value, other_key, other_key, other_units, defaults, defaults, short_route),
    *(another_fact, another_fact, one_more_fact, one_more_fact),
    *(each for each in MUTATIONS if each not in (another_choice, add_fact)),  # which walk whole houses
)


def differing(made: Document) -> str | None:
    """How the two ways differ over a document."""
    quick, quick_problems = loaded(made)
    with by_marshmallow_alone():
        slow, slow_problems = loaded(made)
    if [_said(each) for each in quick_problems] != [_said(each) for each in slow_problems]:
        return f"other faults: {quick_problems[:3]} and {slow_problems[:3]}"
    return None if same_members(quick, slow) else "other values"


def _said(placed: tuple[str, Problem]) -> tuple[str, ...]:
    pointer, problem = placed
    return (pointer, problem.code, problem.detail, problem.in_full() if problem.in_full else "")


def same(one: Any, other: Any) -> bool:
    """Equality that tells 1 from 1.0 and true; the order of facts says nothing, that of parts does."""
    if type(one) is not type(other):
        return False
    if isinstance(one, Loaded):
        return one.kind is other.kind and one.said_at == other.said_at and same_members(one.facts, other.facts)
    if isinstance(one, Section):
        return same_members(one.facts, other.facts) and same(one.by_kind, other.by_kind)
    if isinstance(one, dict):
        return list(one) == list(other) and same_members(one, other)
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    return repr(one) == repr(other)


def same_members(one: Any, other: Any) -> bool:
    return one.keys() == other.keys() and all(same(value, other[key]) for key, value in one.items())


def main(arguments: list[str]) -> int:
    numbers = [int(each) for each in arguments]
    documents, first = (numbers + [10_000, 1][len(numbers) :])[:2]
    seen: Counter[str] = Counter()
    wrong, begun = 0, process_time()
    for seed in range(first, first + documents):
        made = document(seed)
        seen.update({"sound"} if not (problems := loaded(made)[1]) else {problem.code.value for _, problem in problems})
        if what := differing(made):
            wrong += 1
            if wrong <= MOST_TOLD:
                print(f"seed {seed}: {what[:2000]}", flush=True)
        if (seed - first + 1) % 10_000 == 0:
            print(f"{seed - first + 1} documents, {wrong} read differently, {process_time() - begun:.0f} CPU s", flush=True)
    print(f"{documents} documents from seed {first}: {wrong} read differently, {process_time() - begun:.0f} CPU s")
    for kind, number in seen.most_common():
        print(f"{number:8} {kind}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
