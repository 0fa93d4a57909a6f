"""The README's lines run as they stand, and what it quotes is what comes out."""

import os
import re
import stat
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from nailplate.cli.exits import MEANINGS
from web.served import SERVICE, free_port

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
BLOCKS: list[tuple[str, str]] = re.findall(r"^```([a-z]*)\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)

PROGRAMS = {"read_report.py": "json.load(", "box_in_metric.py": "UnitRegistry("}


def first(kind: str, holding: str) -> str:
    return next(text for name, text in BLOCKS if name == kind and holding in text)


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the README's files, and this project on the path."""
    folder = tmp_path_factory.mktemp("readme")
    (folder / "plan.json").write_text(first("json", "Hall box"))
    (folder / "model.json").write_text(first("json", "model_options"))
    for name, holding in PROGRAMS.items():
        (folder / name).write_text(first("python", holding))
    (folder / "bin").mkdir()
    for name, words in (("nailplate", "-m nailplate"), ("python3", "")):
        program = folder / "bin" / name
        program.write_text(f'#!/bin/sh\nexec {sys.executable} {words} "$@"\n')
        program.chmod(program.stat().st_mode | stat.S_IXUSR)
    return folder


def run(place: Path, script: str, *, exit_code: int | None = 0) -> str:
    environment = {name: value for name, value in os.environ.items() if name != "CI" and not name.startswith("NAILPLATE_")}
    environment |= {"PATH": f"{place / 'bin'}:{os.environ['PATH']}", "PYTHONPATH": str(SERVICE)}
    port = str(free_port())
    for name, holding in PROGRAMS.items():
        (place / name).write_text(first("python", holding).replace("8080", port))
    answer = subprocess.run(
        ["bash", "-c", script.replace("8080", port)],
        cwd=place,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    if exit_code is not None:
        assert answer.returncode == exit_code, answer.stderr
    return answer.stdout


SCRIPTS = [(number, text) for number, (name, text) in enumerate(BLOCKS) if name == "sh"]


@pytest.mark.parametrize(("number", "script"), SCRIPTS, ids=[text.split("\n")[0][:40] for _, text in SCRIPTS])
def test_lines_run_and_print_what_is_quoted(place: Path, number: int, script: str) -> None:
    quoted = next(text for name, text in BLOCKS[number + 1 :] if name == "text")
    said = run(place, script, exit_code=None)
    shown = [line for line in said.splitlines() if not line.startswith(("{", "["))]
    assert shown == quoted.splitlines()


def test_the_workflow_s_line_runs(place: Path) -> None:
    steps = yaml.safe_load(first("yaml", "nailplate check"))["jobs"]["wiring"]["steps"]
    line = next(step["run"] for step in steps if "nailplate check" in step.get("run", ""))
    run(
        place,
        "mkdir -p plans && cp plan.json plans && nailplate check plans -q --output baseline=baseline.json",
        exit_code=None,
    )
    assert re.fullmatch(r"::notice title=nailplate::[0-9]+ findings are those of the baseline\n", run(place, line))
    worse = (place / "plan.json").read_text().replace('"20 in3"', '"5 in3"')
    (place / "plans" / "plan.json").write_text(worse)
    told = run(place, line.replace("wiring.", "again."), exit_code=1)
    assert told.startswith("::error file=plans/plan.json,line=7,")
    assert (place / "wiring.sarif").exists()
    assert (place / "wiring.xml").exists()


def test_the_table_of_exit_codes_is_the_command_line_s() -> None:
    rows = re.findall(r"^\| ([0-9]+) \| (.*) \|$", README, re.MULTILINE)
    assert {int(code): words for code, words in rows} == {int(code): words for code, words in MEANINGS.items()}
