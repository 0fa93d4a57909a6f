"""Prints the figures that the service is held to, each beside its goal: whether it is met or missed.

Run: ``PYTHONPATH=service:tests python tests/bench/figures.py [check|growth|batch|start|service ...] [dwellings]``. Every figure is a ratio of
CPU times (of elapsed times for the batch) taken in turns in one run, so that the machine matters little. The denominator of most
is REF, ``json.loads`` and the load of the same plan by marshmallow alone. The growth takes a plan of 300 dwellings, some minutes
and 2 GB.
"""

import gc
import json
import logging
import math
import os
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from importlib.resources import files
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

import requests

import nailplate
from bench.many_dwellings import UNBOUND, dwellings
from bench.measured import Figure, children_of, cpu_of, cpu_so_far, interleaved, megabytes, ratio, share_at, wait_until_idle
from nailplate import collector
from nailplate.catalog import catalog
from nailplate.cli.working import in_order
from nailplate.plan import Plan
from nailplate.review import Options, check, job_for, judged
from nailplate.review.law import law_of
from nailplate.web import create_app, serve_command
from nailplate.web.warming import warm
from nailplate.wire import read_json, read_plan, read_plan_value, report_json, report_on
from nailplate.wire.plan_schema import marshmallow_load
from nailplate.wire.reading import loaded
from web.served import environment, free_port

HOUSE = "tamarack-wren"
SOURCE = files("nailplate").joinpath("examples", f"{HOUSE}.json").read_bytes()
VALUE: Any = json.loads(SOURCE)


def named(number: int) -> bytes:
    """The house under another name, so that nobody has seen it before."""
    return json.dumps({**VALUE, "name": f"Wren {number}"}).encode()


def checked(source: bytes) -> bytes:
    """A whole check: bytes in, bytes out."""
    return report_json(report_on(read_json(source), catalog(), Options()))


def of_one_check() -> Iterator[Figure]:
    plan = read_plan(SOURCE)
    report = check(plan, catalog())
    reference = {"loads": lambda: json.loads(SOURCE), "marshmallow": lambda: marshmallow_load(VALUE)}
    ours = {
        "JSON": lambda: read_json(SOURCE),
        "load": lambda: loaded(VALUE),
        "read": lambda: read_plan_value(VALUE),
        "write": lambda: report_json(report),
        "check": lambda: checked(SOURCE),
    }
    with collecting() as collected:
        times = interleaved({**reference, **ours}, 41)
    both = [one + other for one, other in zip(times["loads"], times["marshmallow"], strict=True)]
    middle = {name: statistics.median(each) * 1000 for name, each in times.items()}
    yield Figure("whole check / REF", ratio(times["check"], both), 0.6, beside=f"{middle['check']:.1f} ms of CPU; aim 0.4")
    yield Figure("loader / marshmallow", ratio(times["load"], times["marshmallow"]), 0.12, beside=f"{middle['load']:.1f} ms")
    slow, control = (share_at(times[each], 0.9) / statistics.median(times[each]) for each in ("check", "marshmallow"))
    share = sum(collected) / sum(sum(each) for each in times.values())
    yield Figure(
        "p90 of a check / its median", slow, 1.1, beside=f"collector {share:.1%} of the time; marshmallow's own {control:.2f}"
    )
    beside = [sum(each) for each in zip(times["JSON"], times["read"], times["write"], strict=True)]
    yield Figure("reading and writing / whole check", ratio(beside, times["check"]), 0.2, beside="what a drag cannot save")
    yield _slowest_rule(plan)


@contextmanager
def collecting() -> Iterator[list[float]]:
    """Seconds of CPU of each collection within."""
    spent: list[float] = []
    began = [0.0]

    def told(phase: str, _: object) -> None:
        if phase == "start":
            began[0] = process_time()
        else:
            spent.append(process_time() - began[0])

    gc.callbacks.append(told)
    try:
        yield spent
    finally:
        gc.callbacks.remove(told)


def _slowest_rule(plan: Plan) -> Figure:
    """What several rules ask of the survey counts for the first of them."""
    rules, spent = catalog().rules, dict[str, list[float]]()
    law = law_of(plan, rules)
    for _ in range(11):
        job = job_for(plan, law)
        with job.survey:
            for rule, _ in law.rules:
                began = process_time()
                list(judged(rule, job))
                spent.setdefault(rule.id, []).append(process_time() - began)
    middle = {name: statistics.median(each) for name, each in spent.items()}
    slowest = max(middle, key=lambda name: middle[name])
    return Figure("slowest single rule / all of them", middle[slowest] / sum(middle.values()), 0.15, beside=slowest)


def of_growth(most: int) -> Iterator[Figure]:
    times: dict[int, tuple[float, float]] = {}
    for number in (1, most):
        plan, text = dwellings(number, ("levels",)), json.dumps([VALUE] * number)
        judging, loading = partial(check, plan, catalog(), UNBOUND), partial(json.loads, text)
        times[number] = _spent(judging, 9 if number == 1 else 1), _spent(loading, 9)
        del plan, judging
    exponents = [math.log(times[most][each] / times[1][each]) / math.log(most) for each in (0, 1)]
    said = f"{exponents[0]:.3f} and {exponents[1]:.3f}, 1 to {most} dwellings; {times[most][0]:.1f} s"
    yield Figure("growth of a check over that of json.loads", exponents[0] - exponents[1], 0.05, beside=said)


def _spent(work: Callable[[], object], rounds: int) -> float:
    times = []
    for _ in range(rounds):
        began = process_time()
        work()
        times.append(process_time() - began)
    return statistics.median(times)


def burn(_: object) -> int:
    """Work of the CPU alone."""
    return sum(number * number for number in range(1_500_000))


def of_a_batch() -> Iterator[Figure]:
    """Speed-up over two processes, elapsed, against that of work which needs nothing but CPU."""
    plans, repeats = [named(number) for number in range(12)], 3
    gained: dict[str, list[float]] = {"check": [], "burn": []}
    for _ in range(repeats):
        for name, work in (("check", checked), ("burn", burn)):
            alone, both = (_elapsed(work, plans, jobs) for jobs in (1, 2))
            gained[name].append(alone / both)
    control = statistics.median(gained["burn"])
    fit = control >= 1.5
    said = f"{statistics.median(gained['check']):.2f} and {control:.2f} times" + ("" if fit else "; machine not fit")
    gain = ratio(gained["check"], gained["burn"])
    yield Figure("batch speed-up / that of CPU burn", gain, 0.9, least=True, beside=said, judged=fit)
    with tempfile.TemporaryDirectory() as folder:
        for number, plan in enumerate(plans):
            Path(folder, f"{number}.json").write_bytes(plan)
        words = ["batch", folder, "--quiet", "--fail-at", "danger", "--jobs"]
        program = "from nailplate.cli import main\nmain({}, standalone_mode=False)"
        spent = {jobs: [cpu_of(program.format([*words, jobs]), environment({})) for _ in range(3)] for jobs in ("1", "2")}
    said = f"{statistics.median(spent['1']) / len(plans) * 1000:.0f} ms of CPU a plan, the start within"
    yield Figure("batch in one process / CPU of two", ratio(spent["1"], spent["2"]), 0.9, least=True, beside=said)


def _elapsed(work: Callable[[bytes], object], plans: list[bytes], jobs: int) -> float:
    began = perf_counter()
    for _ in in_order(work, plans, jobs, lambda _: None):
        pass
    return perf_counter() - began


def of_the_start() -> Iterator[Figure]:
    with tempfile.TemporaryDirectory() as compiled:
        around = environment({"PYTHONPYCACHEPREFIX": compiled, "PYTHONDONTWRITEBYTECODE": ""})
        app = "from nailplate.web import create_app\napp = create_app()\n"
        programs = {
            "flask": "import flask",
            "app": app,
            "warm": f"{app}from nailplate.web.warming import warm\nwarm(app)",
            "version": "from nailplate.cli import main\nmain(['--version'], standalone_mode=False)",
        }
        for each in programs.values():
            cpu_of(each, around)
        times = {name: [cpu_of(each, around) for _ in range(7)] for name, each in programs.items()}
    flask = statistics.median(times["flask"])
    shares = {name: statistics.median(each) / flask for name, each in times.items()}
    said = f"{flask * 1000:.0f} ms of CPU; ready, one check made: {shares['warm']:.1f}"
    yield Figure("create_app() / import flask", shares["app"], 2.5, beside=said)
    yield Figure("nailplate --version / import flask", shares["version"], 1.0)


class Service:
    """A service of one worker or more, without a request so far."""

    def __init__(self, workers: int = 1) -> None:
        self._port = free_port()
        command = serve_command("127.0.0.1", self._port, workers)
        self._process = subprocess.Popen(command, env=environment({}), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        while len(children_of(self._process.pid)) < workers:
            os.sched_yield()
        self.workers = children_of(self._process.pid)
        wait_until_idle(self.workers)

    def __enter__(self) -> "Service":
        return self

    def __exit__(self, *_: object) -> None:
        self._process.terminate()
        self._process.wait(30)

    def spent(self, body: bytes) -> float:
        """Seconds of CPU of its first worker on one check."""
        before = cpu_so_far(self.workers[0])
        address = f"http://127.0.0.1:{self._port}/v1/checks"
        answer = requests.post(address, data=body, headers={"Content-Type": "application/json"}, timeout=60)
        assert answer.status_code == 200
        return cpu_so_far(self.workers[0]) - before


def of_the_service() -> Iterator[Figure]:
    with Service(workers=2) as two:
        resting = [megabytes(each, "Rss") for each in two.workers]
        parts = [megabytes(each, "Pss") for each in two.workers]
        for number in range(20):
            two.spent(named(number))
        worked = [megabytes(each, "Pss") for each in two.workers]
    yield Figure("memory of a worker at rest, RSS, MB", max(resting), 45, beside="with what it shares with the others")
    yield Figure(
        "memory of a worker at rest, PSS, MB", max(parts), 45, beside=f"shared memory parted; after 20 checks {max(worked):.0f}"
    )
    firsts, nexts, again, inside = [], [], [], []
    for start in range(3):
        with Service() as one:
            firsts.append(one.spent(named(1000 * start)))
            for number in range(1, 8):
                body = named(1000 * start + number)
                nexts.append(one.spent(body))
                again.append(one.spent(body) / nexts[-1])
                began = process_time()
                checked(body)
                inside.append(process_time() - began)
    usual = statistics.median(nexts)
    yield Figure("first request / the next", statistics.median(firsts) / usual, 1.1, beside=f"{usual * 1000:.1f} ms of CPU")
    yield Figure("the same bytes again / the first time", statistics.median(again), 0.1)
    yield Figure("HTTP's share of a request", 1 - statistics.median(inside) / usual, 0.3)


def main(arguments: list[str]) -> None:
    logging.disable(logging.INFO)
    collector.collect_seldom()
    warm(create_app())
    gc.collect()
    collector.keep_for_good()
    most = next((int(each) for each in arguments if each.isdigit()), 300)
    parts: dict[str, Callable[[], Iterator[Figure]]] = {
        "check": of_one_check,
        "service": of_the_service,
        "start": of_the_start,
        "batch": of_a_batch,
        "growth": lambda: of_growth(most),
    }
    print(
        f"nailplate {nailplate.__version__}, {HOUSE}, {len(SOURCE)} bytes; {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"
    )
    for name in [each for each in parts if each in arguments] or parts:
        for figure in parts[name]():
            print(figure.line(), flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
