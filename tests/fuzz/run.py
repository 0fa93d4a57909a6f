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
from fuzz.mutants import at, mutant, paths
from fuzz.seeds import Document

MOST_TRIALS = 400
"""Smaller plans that are tried for one finding."""


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
    """The smallest plan found, by leaving things out, that still breaks in the same way."""
    trials, small, again = 0, document, True
    while again and trials < MOST_TRIALS:
        again = False
        for path in sorted(paths(small), key=len):
            if trials >= MOST_TRIALS:
                break
            smaller = copy.deepcopy(small)
            try:
                del at(smaller, path[:-1])[path[-1]]
            except (KeyError, IndexError, TypeError):
                continue
            trials += 1
            if what in broken(smaller, schema=what.startswith("off")):
                small, again = smaller, True
                break
    return small


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
