"""Prints, in one interleaved run, what each step of reading a plan and writing its report costs in CPU time, for two houses.

Run: ``PYTHONPATH=service python tests/bench/reading.py [rounds]``. The reference is reading as it was before anything was read at
once: json.loads and marshmallow alone. Ratios within one run count, not milliseconds.
"""

import json
import random
import statistics
import sys
from collections.abc import Callable
from importlib.resources import files
from time import process_time

from nailplate.catalog import catalog
from nailplate.plan import ROOT
from nailplate.review import check
from nailplate.wire import plan_digest, read_json, read_plan_value, report_json
from nailplate.wire.json_text import read_exactly
from nailplate.wire.plan_schema import marshmallow_load
from nailplate.wire.reading import built, loaded

HOUSES = ("tamarack-wren", "tamarack-osprey")
Work = dict[str, Callable[[], object]]


def steps(source: bytes) -> Work:
    """Each step by itself, from the same bytes."""
    value = read_json(source)
    facts = loaded(value)[0]
    report = check(read_plan_value(value), catalog(), digest=plan_digest(value))
    return {
        "json.loads": lambda: json.loads(source),
        "exact JSON": lambda: read_exactly(source),
        "strict JSON": lambda: read_json(source),
        "marshmallow load": lambda: marshmallow_load(value),
        "load": lambda: loaded(value),
        "parts built": lambda: {name: built(each, ROOT / name) for name, each in facts.items()},
        "whole plan": lambda: read_plan_value(value),
        "plan digest": lambda: plan_digest(value),
        "report bytes": lambda: report_json(report),
    }


def interleaved(work: Work, rounds: int, seed: int = 7) -> dict[str, list[float]]:
    """CPU seconds of each step, each round in another order."""
    times: dict[str, list[float]] = {name: [] for name in work}
    order, rng = list(work), random.Random(seed)
    for each in work.values():
        each()
    for _ in range(rounds):
        rng.shuffle(order)
        for name in order:
            begun = process_time()
            work[name]()
            times[name].append(process_time() - begun)
    return times


def ratio(times: dict[str, list[float]], one: str, other: str) -> float:
    """The median over the rounds of what one step takes of another, so that slow stretches of a shared machine cancel."""
    return statistics.median(first / second for first, second in zip(times[one], times[other], strict=True))


def measured(house: str, rounds: int) -> dict[str, list[float]]:
    """The steps of one example house."""
    return interleaved(steps(files("nailplate").joinpath("examples", f"{house}.json").read_bytes()), rounds)


def main(rounds: int) -> None:
    for house in HOUSES:
        times = measured(house, rounds)
        print(f"{house}, {rounds} rounds; CPU ms, median and least, and the share of marshmallow's load")
        for name, spent in times.items():
            least, share = min(spent) * 1000, ratio(times, name, "marshmallow load")
            print(f"  {name:18} {statistics.median(spent) * 1000:8.2f} {least:8.2f} {share:8.3f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 31)
