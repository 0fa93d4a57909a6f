"""Checks mutated plans and prints what breaks, each with the seed that makes it and the smallest plan found that still does.

Run: ``PYTHONPATH=service:tests nice -n 19 python tests/fuzz/run.py [plans] [first seed] [--shrink] [--no-schema]``. A night line is
100,000 plans from a seed of the day: ``run.py 100000 $(date +%Y%m%d)00000``. Seeds are printed, so that a plan can be had again:
``python -c "from fuzz.mutants import mutant; print(mutant(SEED))"``.
"""

import copy
import json
import sys
from collections import Counter
from time import process_time

from fuzz.invariants import broken
from fuzz.mutants import Path, at, mutant, paths
from fuzz.seeds import Document

SECONDS = 60
"""CPU seconds for which smaller plans are tried for one finding."""
DEEPEST = 6
"""How deep in a plan things are left out."""
ALL_PATCHES = 1000


def main(arguments: list[str]) -> int:
    numbers = [int(each) for each in arguments if each.isdigit()]
    plans, first = (numbers + [2000, 1][len(numbers) :])[:2]
    seen: Counter[str] = Counter()
    start, dearest = process_time(), (0.0, 0)
    for seed in range(first, first + plans):
        document, before = mutant(seed), process_time()
        for what in dict.fromkeys(broken(document, schema="--no-schema" not in arguments)):
            seen[what] += 1
            if seen[what] == 1:
                print(f"seed {seed}: {what}", flush=True)
                if "--shrink" in arguments:
                    print(f"  {json.dumps(shrunk(document, what))[:3000]}", flush=True)
        dearest = max(dearest, (process_time() - before, seed))
    spent = process_time() - start
    print(
        f"{plans} plans from seed {first}: {len(seen)} kinds broken, {spent:.0f} CPU s; the dearest {dearest[0]:.1f} s, seed {dearest[1]}"
    )
    for what, number in seen.most_common():
        print(f"{number:6} {what}")
    return 1 if seen else 0


def shrunk(document: Document, what: str) -> Document:
    """The smallest plan found, by leaving things out, that still breaks in the same way: the deepest last, and all of it again."""
    until = process_time() + SECONDS
    small, before = document, None
    while small != before and process_time() < until:
        before = small
        for deep in range(1, DEEPEST + 1):
            for holder in [path for path in [(), *paths(small)] if len(path) == deep - 1]:
                small = _thinned(small, holder, what, until)
    return small


def _thinned(document: Document, holder: Path, what: str, until: float) -> Document:
    """Leaves out of one object or list as much as can be: first all of it, then ever smaller shares."""
    share = _size(document, holder)
    while share:
        start = 0
        while start < _size(document, holder) and process_time() < until:
            smaller = _without(document, holder, start, share)
            if what in broken(smaller, schema=what.startswith("off"), most_patches=ALL_PATCHES):
                document = smaller
            else:
                start += share
        share //= 2
    return document


def _size(document: Document, holder: Path) -> int:
    try:
        held = at(document, holder)
    except (KeyError, IndexError, TypeError):
        return 0
    return len(held) if isinstance(held, dict | list) else 0


def _without(document: Document, holder: Path, start: int, number: int) -> Document:
    """A copy without some members of what it has at a place."""
    smaller = copy.deepcopy(document)
    held = at(smaller, holder)
    if isinstance(held, list):
        del held[start : start + number]
    else:
        for key in list(held)[start : start + number]:
            del held[key]
    return smaller


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
