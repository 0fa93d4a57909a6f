"""Every row of the table of exit codes, seen from outside, by the commands that end so."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from nailplate.cli.exits import MEANINGS, Exit, worst

SERVICE = Path(__file__).parents[2] / "service"
WREN = str(SERVICE / "nailplate/examples/tamarack-wren.json")
WRONG = {
    "plan_format": 1,
    "name": "w",
    "basis": {"edition": "2023"},
    "circuits": {"c": {"breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}},
}
OPEN = {
    "plan_format": 1,
    "name": "o",
    "basis": {"edition": "2023"},
    "boxes": {"b": {}},
    "devices": {"s": {"kind": "switch", "box": "b"}},
}


def run(*words: str, source: object = None, **more: Any) -> "subprocess.CompletedProcess[str]":
    environment = {name: value for name, value in os.environ.items() if name not in ("CI", "NAILPLATE_PACKS")}
    return subprocess.run(
        [sys.executable, "-m", "nailplate", *words],
        input=None if source is None else source if isinstance(source, str) else json.dumps(source),
        env={**environment, "PYTHONPATH": str(SERVICE), **more},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


ROWS: list[tuple[Exit, tuple[str, ...], object]] = [
    (Exit.CLEAN, ("check", WREN, "--quiet"), None),
    (Exit.CLEAN, ("check", "-", "-q"), OPEN),
    (Exit.FOUND, ("check", "-", "-q"), WRONG),
    (Exit.CLEAN, ("check", "-", "-q", "--ignore", "circuits"), WRONG),
    (Exit.USAGE, ("check", "-"), "{"),
    (Exit.USAGE, ("check", "nowhere.json"), None),
    (Exit.USAGE, ("check", WREN, "--pack", "nobody"), None),
    (Exit.USAGE, ("check", WREN, "--rule", "box-volum"), None),
    (Exit.USAGE, ("check", WREN, "--output", "json=/proc/nowhere/x.json"), None),
    (Exit.USAGE, ("check", WREN, "--output", "jsn=x.json"), None),
    (Exit.USAGE, ("check", WREN, "--baseline", "nowhere.json"), None),
    (Exit.USAGE, ("check", WREN, "--format", "word"), None),
    (Exit.USAGE, ("explain", "box-volum"), None),
    (Exit.USAGE, ("nosuch",), None),
    (Exit.OPEN, ("check", "-", "-q", "--fail-on-undetermined"), OPEN),
    (Exit.OPEN, ("check", "-", "-q", "--undecided-at", "code"), OPEN),
    (Exit.FOUND, ("check", "-", "-q", "--fail-on-undetermined"), WRONG),
]


@pytest.mark.parametrize(
    ("code", "words", "source"), ROWS, ids=lambda value: " ".join(value)[-40:] if isinstance(value, tuple) else ""
)
def test_each_way_to_end(code: Exit, words: tuple[str, ...], source: object) -> None:
    answer = run(*words, source=source)
    assert answer.returncode == code, answer.stderr
    assert "Traceback" not in answer.stderr
    if code is Exit.USAGE:
        assert answer.stderr.strip()


def test_a_rule_that_fails_ends_with_3_and_beats_findings(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(
        "import nailplate.rules as r\n"
        "from dataclasses import replace\n"
        "from nailplate.rulekit import RulePack\n"
        "whole = r.pack()\n"
        "def broken(part, job):\n    raise RuntimeError('x')\n"
        "bad = tuple(replace(x, judge=broken) if x.id == 'conductor-protection' else x for x in whole.rules)\n"
        "made = replace(whole, rules=bad)\n"
        "r.pack = lambda: made\n"
    )
    answer = run("check", "-", "-q", source=WRONG, PYTHONPATH=f"{tmp_path}:{SERVICE}")
    assert answer.returncode == Exit.BROKEN, answer.stderr


def test_a_service_that_does_not_start_ends_with_3() -> None:
    answer = run("demo", NAILPLATE_PACKS="nobody")
    assert answer.returncode == Exit.BROKEN
    assert "Traceback" not in answer.stderr


def test_the_keyboard_ends_with_130(tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": str(SERVICE)}
    process = subprocess.Popen(
        [sys.executable, "-m", "nailplate", "check", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        env=environment,
    )
    time.sleep(3)  # it waits for standard input by then
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=30)
    assert process.returncode == Exit.INTERRUPTED
    assert b"Traceback" not in said


def test_a_reader_that_went_away_ends_with_141() -> None:
    environment = {**os.environ, "PYTHONPATH": str(SERVICE)}
    process = subprocess.Popen(
        [sys.executable, "-m", "nailplate", "check", WREN, "--format", "markdown"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment,
    )
    assert process.stdout
    assert process.stderr
    process.stdout.close()
    said = process.stderr.read()
    assert process.wait(60) == Exit.PIPE_CLOSED
    assert b"Traceback" not in said
    process.stderr.close()


def test_the_table_is_whole_and_printed_by_help() -> None:
    assert set(MEANINGS) == set(Exit)
    shown = " ".join(run("check", "--help").stdout.split())
    for code, words in MEANINGS.items():
        assert f"{int(code)} {words}" in shown


@pytest.mark.parametrize(("codes", "wanted"), [([], 0), ([0, 4], 4), ([4, 1], 1), ([1, 2], 2), ([2, 3, 1], 3)])
def test_the_worst_of_several_plans_decides(codes: list[int], wanted: int) -> None:
    assert worst(codes) == wanted
