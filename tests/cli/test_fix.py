"""``fix`` shows what patches would do, writes only when asked, and leaves out what has gone stale or conflicts."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from nailplate.cli import main
from web.plans import SMALL


def run(*words: object) -> Result:
    return CliRunner(env={"CI": None}).invoke(main, [str(word) for word in words])


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(SMALL, indent=3) + "\n")
    return path


def crowded(plan: Path) -> list[Any]:
    report = json.loads(run("check", plan, "--format", "json").stdout)
    return [each for each in report["findings"] if each["rule"] == "box-volume" and each["outcome"] == "violation"]


def test_a_fix_is_shown_and_nothing_is_written(plan: Path) -> None:
    before = plan.read_bytes()
    answer = run("fix", plan, "--rule", "box-volume")
    assert "fix box-volume /boxes/hall: " in answer.stdout
    assert '-      "volume": "4 in3",' in answer.stdout.replace("         ", "      ")
    assert "1 applied, 1 cleared, 0 introduced, 0 left out" in answer.stdout
    assert answer.exit_code == 0
    assert plan.read_bytes() == before


def test_a_fix_is_written_in_the_plan_s_own_layout_and_clears(plan: Path) -> None:
    before = plan.read_text().splitlines()
    assert run("fix", plan, "--rule", "box-volume", "--write").exit_code == 0
    after = plan.read_text().splitlines()
    assert len([pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]) == 1
    assert crowded(plan) == []


def test_one_finding_is_fixed_by_its_fingerprint(plan: Path) -> None:
    [finding] = crowded(plan)
    assert "1 applied" in run("fix", plan, "--finding", finding["fingerprint"]).stdout
    answer = run("fix", plan, "--finding", "np1-nothing")
    assert (answer.exit_code, "no finding 'np1-nothing'" in answer.stderr) == (2, True)


def test_patches_of_an_earlier_report_refuse_a_plan_that_has_changed(plan: Path, tmp_path: Path) -> None:
    report = tmp_path / "report.json"
    run("check", plan, "--rule", "box-volume", "-q", "--output", f"json={report}")
    assert "1 applied" in run("fix", plan, "--from", report).stdout
    changed = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {"volume": "5 in3", "clamps": "none"}}}
    plan.write_text(json.dumps(changed))
    answer = run("fix", plan, "--from", report, "--write")
    assert answer.exit_code == 1
    assert "the plan has changed at /boxes/hall" in answer.stdout
    assert json.loads(plan.read_text()) == changed


def test_a_plan_without_anything_to_fix_says_so(tmp_path: Path) -> None:
    empty = tmp_path / "empty.json"
    empty.write_text('{"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}')
    answer = run("fix", empty)
    assert (answer.exit_code, "no finding here has a patch" in answer.stdout) == (0, True)


@pytest.mark.parametrize("text", ["{", '{"plan_format": 1}', "[]"])
def test_what_is_no_plan_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "bad.json"
    path.write_text(text)
    assert run("fix", path).exit_code == 2


def test_a_misspelt_rule_gets_the_nearest(plan: Path) -> None:
    assert "did you mean 'box-volume'" in run("fix", plan, "--rule", "box-volum").stderr
