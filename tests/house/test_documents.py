"""README.md and DEVELOPERS.md under test: their plans are checked, their cases are read, their commands run."""

import json
import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner

from nailplate.catalog import catalog
from nailplate.cli import main
from nailplate.review import check
from nailplate.rulekit.cases import read_cases
from nailplate.wire import read_plan

ROOT = Path(__file__).parents[2]
TEXTS = {name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md")}
HOUSE = ROOT / "service/nailplate/examples/tamarack-wren.json"
ENDLESS = {"serve", "demo"}
"""Commands that start a service; tests of their own start and stop it."""


def fenced(text: str) -> Iterator[tuple[str, str]]:
    """Language and body of each block of code."""
    yield from re.findall(r"^```(\w*)\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)


PLANS = [body for text in TEXTS.values() for language, body in fenced(text) if language == "json" and '"plan_format"' in body]
CASES = [body for text in TEXTS.values() for language, body in fenced(text) if language == "json" and '"expect"' in body]


def commands() -> list[str]:
    """What stands as ``nailplate ...`` on a line of a block, or between backticks in a sentence; blocks of shell lines are run whole
    by ``test_readme``."""
    blocks = [line for text in TEXTS.values() for language, body in fenced(text) if not language for line in body.splitlines()]
    words = [
        span
        for text in TEXTS.values()
        for span in re.findall(r"`([^`\n]+)`", re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S))
    ]
    return sorted({command.partition(" >>")[0] for command in (*blocks, *words) if command.startswith("nailplate ")})


def is_pattern(command: str) -> bool:
    """Whether it stands for many commands, with names in capitals to be filled in, or is only the name of one."""
    return (
        len(command.split()) == 2
        or bool(re.search(r"\s[A-Z]{3,}\b|\[", command))
        or command.split()[1] in ENDLESS
        or command.endswith("...")
    )


def test_the_documents_have_a_plan_cases_and_commands() -> None:
    assert PLANS
    assert len(CASES) == 2
    assert len(commands()) >= 5


@pytest.mark.parametrize("plan", PLANS)
def test_a_plan_in_a_document_is_a_plan(plan: str) -> None:
    assert check(read_plan(plan.encode()), catalog()).verdict in ("violations", "incomplete", "clear")


@pytest.mark.parametrize("cases", CASES)
def test_cases_in_a_document_can_be_read(cases: str) -> None:
    assert read_cases(cases if cases.lstrip().startswith("[") else f"[{cases}]")


@pytest.mark.parametrize("command", [command for command in commands() if is_pattern(command)])
def test_a_pattern_names_a_command_and_options_that_there_are(command: str) -> None:
    name, *words = command.removeprefix("nailplate ").split()
    context = click.Context(main)
    found = main.get_command(context, name)
    assert found is not None
    known = {option for parameter in found.params for option in parameter.opts}
    assert {word.strip("[]").partition("=")[0] for word in words if word.strip("[]").startswith("--")} <= known


@pytest.mark.parametrize("command", [command for command in commands() if not is_pattern(command)])
def test_a_command_runs(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "service").symlink_to(ROOT / "service")
    (tmp_path / "plan.json").write_text(PLANS[0], encoding="utf-8")
    (tmp_path / "models").mkdir()
    for name in ("house.json", "models/wren.json"):
        (tmp_path / name).write_bytes(HOUSE.read_bytes())
    monkeypatch.chdir(tmp_path)
    words: list[Any] = [
        path for word in shlex.split(command)[1:] for path in (sorted(map(str, Path().glob(word))) if "*" in word else [word])
    ]
    answer = CliRunner().invoke(main, words)
    assert answer.exit_code in (0, 1, 4), answer.output
    assert answer.output
    if "json" in words:
        assert json.loads(answer.stdout)
