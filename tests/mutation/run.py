"""Tries whether the tests would see a wrong sign, limit or word: mutants by chance, each put to the narrow tests of its module.

Run: ``PYTHONPATH=service:tests nice -n 10 python tests/mutation/run.py [mutants] [seed] [module ...]`` with cosmic-ray in the
environment. Modules and their tests stand in ``narrow.toml``. A module's tests are gathered once; each mutant runs in a fork of that
process, under a limit of CPU time, and is killed by the first test that fails. Survivors are printed: read each.
"""

import importlib
import os
import random
import resource
import sys
import tomllib
from collections import Counter
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from mutation.mutants import Mutant, drawn, put_in_place

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
SECONDS = 30
"""CPU seconds for one mutant; one that takes longer is killed, a loop without end among them."""
EVERY_RULE = "tests/rules/test_every_rule.py"
ALL_WELL, SEEN = 0, 3


class Trial:
    """A run of pytest that stops when all tests are gathered, and then runs them once for each mutant."""

    def __init__(self, module: str, rules: list[str], wanted: int, seed: int) -> None:
        self.module, self.rules, self.wanted = module, rules, wanted
        self.rng = random.Random(f"{seed} {module}")
        self.counts: Counter[str] = Counter()

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [each for each in items if not each.get_closest_marker("long") and self._concerns(each)]

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        module = importlib.import_module(f"nailplate.{self.module.replace('/', '.')}")
        found = sorted({each.callspec.id for each in session.items if hasattr(each, "callspec")} & set(self.rules))
        assert found == sorted(self.rules), f"{self.module}: there are only the rules {found}"
        assert _tried(session, lambda: None), f"{self.module}: its tests fail before anything is changed"
        for mutant in islice(drawn(Path(str(module.__file__)), self.rng), self.wanted):
            survived = _tried(session, lambda mutant=mutant: put_in_place(module, mutant.source))
            self.counts["survived" if survived else "killed"] += 1
            if survived:
                _tell(self.module, mutant)
        return True

    def _concerns(self, item: pytest.Item) -> bool:
        if not item.nodeid.startswith(EVERY_RULE):
            return True
        return hasattr(item, "callspec") and item.callspec.id in self.rules


def _tried(session: pytest.Session, change: Any) -> bool:
    """Whether all tests pass in a fork where something was changed."""
    child = os.fork()
    if child == 0:
        _run_all(session, change)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) == ALL_WELL


def _run_all(session: pytest.Session, change: Any) -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    code = SEEN
    try:
        change()
        for item, following in zip(session.items, [*session.items[1:], None], strict=True):
            session.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if session.testsfailed:
                return
        code = ALL_WELL
    finally:  # whatever a mutant raised, a fork goes no further than this
        os._exit(code)


def _tell(module: str, mutant: Mutant) -> None:
    print(f"{module}:{mutant.line} {mutant.operator}\n  - {mutant.before}\n  + {mutant.after}", flush=True)


def _trials(mutants: int, seed: int, modules: list[str]) -> Iterator[tuple[str, Trial, list[str]]]:
    narrow = tomllib.loads((HERE / "narrow.toml").read_text(encoding="utf-8"))
    chosen = {name: each for name, each in narrow.items() if name in modules or not modules}
    for name, each in chosen.items():
        trial = Trial(name, each["rules"], mutants // len(chosen), seed)
        yield name, trial, [*each["files"], *([EVERY_RULE] if each["rules"] else [])]


def main(arguments: list[str]) -> int:
    numbers = [int(each) for each in arguments if each.isdigit()]
    mutants, seed = (numbers + [300, 1][len(numbers) :])[:2]
    os.chdir(ROOT)
    print(f"seed {seed}")
    scores = {}
    for name, trial, files in _trials(mutants, seed, [each for each in arguments if not each.isdigit()]):
        pytest.main(["-qq", "-s", "--no-summary", "-p", "no:cacheprovider", *files], plugins=[trial])
        scores[name] = trial.counts
        print(f"== {name}: {trial.counts['killed']} killed, {trial.counts['survived']} survived", flush=True)
    total = sum(scores.values(), Counter())
    print(
        f"{total.total()} mutants, {total['killed']} killed, {total['survived']} survived: {total['killed'] / max(1, total.total()):.0%}"
    )
    return 0 if total else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
