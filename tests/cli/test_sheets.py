"""``nailplate sheets``: every sheet in every form into a folder, none written over unasked, a wrong waste told."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from houses import house as whole_house
from nailplate.cli import main
from nailplate.sheets.registry import TABLES

WREN = json.dumps(whole_house("tamarack-wren"))


def run(*words: str, given: str | None = None) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["sheets", *words], input=given, standalone_mode=True)
    return result.exit_code, result.output


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    path.write_text(WREN, encoding="utf-8")
    return path


def test_every_sheet_is_written_in_every_form_asked(plan: Path, tmp_path: Path) -> None:
    code, said = run(str(plan), "--out", str(tmp_path / "out"), "--format", "markdown", "--format", "csv", "--waste", "10%")
    assert code == 0, said
    assert {path.name for path in (tmp_path / "out").iterdir()} == {f"{name}.{end}" for name in TABLES for end in ("md", "csv")}
    assert "10 % waste is added" in (tmp_path / "out" / "take-off.md").read_text(encoding="utf-8")


def test_all_sheets_are_one_pdf(plan: Path, tmp_path: Path) -> None:
    words = ("--format", "pdf", "--sheet", "take-off", "--sheet", "panel")
    assert run(str(plan), "--out", str(tmp_path / "out"), *words)[0] == 0
    [path] = (tmp_path / "out").iterdir()
    assert path.name == "sheets.pdf"
    assert path.read_bytes().startswith(b"%PDF-")


def test_a_sheet_that_is_there_is_not_written_over_unless_forced(plan: Path, tmp_path: Path) -> None:
    words = (str(plan), "--out", str(tmp_path / "out"), "--sheet", "cables")
    assert run(*words)[0] == 0
    code, said = run(*words)
    assert code == 2
    assert "--force" in said
    assert run(*words, "--force")[0] == 0


def test_a_wrong_waste_and_a_broken_plan_are_usage_errors(plan: Path, tmp_path: Path) -> None:
    code, said = run(str(plan), "--out", str(tmp_path / "out"), "--waste", "plenty")
    assert code == 2
    assert "percentage" in said
    assert not (tmp_path / "out").exists()
    assert run("-", "--out", str(tmp_path / "out"), given=json.dumps({"plan_format": 1}))[0] == 2
