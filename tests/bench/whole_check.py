"""Prints, in one interleaved run, what each stage of a check costs against strict reading by marshmallow of the same bytes.

Run: ``PYTHONPATH=service python tests/bench/whole_check.py [rounds]``. Ratios within one run count, not milliseconds.
"""

import gc
import json
import random
import statistics
import sys
from collections.abc import Callable
from importlib.resources import files
from time import perf_counter

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.wire import read_json, read_plan, read_plan_value, report_json
from nailplate.wire.plan_schema import marshmallow_load

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


def stages(source: bytes) -> dict[str, Callable[[], object]]:
    plan, packs = read_plan(source), catalog()
    value = read_json(source)
    report = check(plan, packs)
    return {
        "json.loads": lambda: json.loads(source),
        "strict JSON": lambda: read_json(source),
        "marshmallow load": lambda: marshmallow_load(value),
        "plan read": lambda: read_plan_value(value),
        "rules and survey": lambda: check(plan, packs),
        "report bytes": lambda: report_json(report),
        "whole check": lambda: report_json(check(read_plan(source), packs)),
    }


def interleaved(work: dict[str, Callable[[], object]], rounds: int) -> dict[str, list[float]]:
    times: dict[str, list[float]] = {name: [] for name in work}
    order = list(work)
    shuffle = random.Random(7).shuffle
    for _ in range(rounds):
        shuffle(order)
        for name in order:
            gc.collect()
            start = perf_counter()
            work[name]()
            times[name].append(perf_counter() - start)
    return times


def main(rounds: int) -> None:
    for house in HOUSES:
        source = files("nailplate").joinpath("examples", f"{house}.json").read_bytes()
        times = interleaved(stages(source), rounds)
        reference = statistics.median(times["marshmallow load"])
        print(f"{house}, {len(source)} bytes, {rounds} rounds")
        for name, spent in times.items():
            median = statistics.median(spent)
            print(f"  {name:18} {median * 1000:8.2f} ms   {median / reference:6.3f} x marshmallow load")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 21)
