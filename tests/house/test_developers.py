"""DEVELOPERS.md leads a stranger: its rule is pasted where it says and works, its tree is the one there is, its paths are there."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from nailplate.rulekit.case_layout import case_file

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "service/nailplate"
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def pasted(path: str) -> str:
    """The block that follows the first sentence naming the file."""
    language = "python" if path.endswith(".py") else "json"
    found = re.search(rf"`{re.escape(path)}`.*?^```{language}\n(.*?)^```$", TEXT, re.M | re.S)
    assert found is not None
    return found[1]


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with the worked example's two files in it."""
    folder = tmp_path_factory.mktemp("stranger")
    shutil.copytree(PACKAGE, folder / "nailplate", ignore=shutil.ignore_patterns("__pycache__"))
    for path in ("rules/box_fill/box_gangs.py", "rules/box_fill/box_gangs.json"):
        assert not (PACKAGE / path).exists()
        (folder / "nailplate" / path).write_text(pasted(path))
    return folder


def nailplate(copied: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {"PATH": os.environ["PATH"], "PYTHONPATH": str(copied)}
    command = [sys.executable, "-m", "nailplate", *words]
    return subprocess.run(command, cwd=copied, env=environment, capture_output=True, text=True, check=False)


def test_the_worked_example_is_a_rule_that_passes_its_cases(copied: Path) -> None:
    tried = nailplate(copied, "try", "box-gangs")
    assert tried.returncode == 0, tried.stdout + tried.stderr
    assert "box-gangs: 9 runs, 0 failed" in tried.stdout
    page = nailplate(copied, "explain", "box-gangs").stdout
    assert "at most four gangs" in page
    assert "5 gangs wide" in page


def test_its_cases_fail_when_its_limit_is_another(copied: Path) -> None:
    rule = copied / "nailplate/rules/box_fill/box_gangs.py"
    kept = rule.read_text()
    rule.write_text(kept.replace("MOST: Final = 4", "MOST: Final = 5"))
    tried = nailplate(copied, "try", "box-gangs")
    rule.write_text(kept)
    assert tried.returncode == 1
    assert "box-gangs: 9 runs, 4 failed" in tried.stdout


def test_the_example_is_in_the_house_s_style(copied: Path) -> None:
    rule = copied / "nailplate/rules/box_fill/box_gangs.py"
    for words in (["check"], ["format", "--check"]):
        command = [sys.executable, "-m", "ruff", *words, "--config", str(ROOT / "pyproject.toml"), str(rule)]
        answer = subprocess.run(command, capture_output=True, text=True, check=False)
        assert answer.returncode == 0, answer.stdout + answer.stderr


def test_its_cases_are_in_the_one_layout() -> None:
    cases = pasted("rules/box_fill/box_gangs.json")
    assert case_file(json.loads(cases)) == cases


def test_the_tree_is_the_one_there_is() -> None:
    drawn = re.search(r"^service/nailplate/ .*?\n((?:  .*\n)+)```", TEXT, re.M)
    assert drawn is not None
    names = {name.strip(",") for line in drawn[1].splitlines() for name in re.findall(r"^  (\S+, \S+|\S+)", line)[0].split()}
    there = {f"{each.name}/" if each.is_dir() else each.name for each in PACKAGE.iterdir() if not each.name.startswith("_")}
    assert names == there


@pytest.mark.parametrize("path", sorted(set(re.findall(r"`((?:tests|openapi|schemas)/[\w./-]+\.\w+)", TEXT))))
def test_a_file_that_is_named_is_there(path: str) -> None:
    assert (ROOT / path).is_file()


def test_the_editor_s_schemas_are_there() -> None:
    block = next(body for body in re.findall(r"^```json\n(.*?)^```$", TEXT, re.M | re.S) if '"json.schemas"' in body)
    for each in json.loads(block)["json.schemas"]:
        assert (ROOT / each["url"]).is_file()
