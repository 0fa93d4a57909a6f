"""How the benchmarks measure: CPU time, in turns, so that a slow phase of the machine falls on both sides of a ratio."""

import random
import resource
import statistics
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import process_time, sleep

Times = dict[str, list[float]]

ALIVE = 0.005
"""Seconds of CPU in a second."""


def interleaved(work: Mapping[str, Callable[[], object]], rounds: int) -> Times:
    """Seconds of CPU of each piece of work, every round in another order."""
    for each in work.values():
        each()
    times: Times = {name: [] for name in work}
    order = list(work)
    shuffle = random.Random(7).shuffle
    for _ in range(rounds):
        shuffle(order)
        for name in order:
            began = process_time()
            work[name]()
            times[name].append(process_time() - began)
    return times


def ratio(over: Sequence[float], under: Sequence[float]) -> float:
    """The median of the rounds' own ratios."""
    return statistics.median(one / other for one, other in zip(over, under, strict=True))


def share_at(times: Sequence[float], share: float) -> float:
    """The time that ``share`` of the rounds stay within."""
    return sorted(times)[min(int(len(times) * share), len(times) - 1)]


def cpu_of(program: str, environment: Mapping[str, str]) -> float:
    """Seconds of CPU of a Python process that runs ``program``."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", program], env=dict(environment), check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def cpu_so_far(pid: int) -> float:
    """Seconds of CPU of a process's threads."""
    tasks = Path(f"/proc/{pid}/task").iterdir()
    return sum(int((task / "schedstat").read_text().split()[0]) for task in tasks) / 1e9


def megabytes(pid: int, kind: str) -> float:
    """Memory of a process: ``Rss`` with what it shares, ``Pss`` with its part of that."""
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith(f"{kind}:"):
            return int(line.split()[1]) / 1024
    raise ValueError(kind)


def wait_until_idle(pids: Sequence[int]) -> None:
    """Waits until none of these processes does more in a second than show that it is alive."""
    before, idle = [0.0] * len(pids), False
    while not idle:
        sleep(1)
        now = [cpu_so_far(each) for each in pids]
        idle = all(one > 0 and one - other < ALIVE for one, other in zip(now, before, strict=True))
        before = now


def children_of(pid: int) -> list[int]:
    """The processes that a process started."""
    return [int(each) for each in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


@dataclass(frozen=True)
class Figure:
    """One figure and what it is to be at most, or at least."""

    name: str
    value: float
    goal: float
    least: bool = False
    beside: str = ""
    """What tells the figure better: milliseconds, names."""
    judged: bool = True
    """False where the machine was not fit to tell."""

    @property
    def met(self) -> bool:
        """Whether it is as it is to be."""
        return self.value >= self.goal if self.least else self.value <= self.goal

    def line(self) -> str:
        """The figure in a table."""
        goal = f"{'>=' if self.least else '<='} {self.goal:g}"
        verdict = ("met" if self.met else "MISSED") if self.judged else "-"
        return f"{self.name:44} {self.value:8.3f}  {goal:9} {verdict:7} {self.beside}".rstrip()
