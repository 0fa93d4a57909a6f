"""`nailplate new` writes a plan that is read, keeps to the published schema, and is told what the house needs."""

import json
from pathlib import Path

import jsonschema
from click.testing import CliRunner

from nailplate.catalog import catalog
from nailplate.cli import main
from nailplate.review import check
from nailplate.wire import plan_schema, read_plan


def test_a_starter_plan_is_written_read_and_told_its_requirements(tmp_path: Path) -> None:
    file = tmp_path / "cabin.json"
    assert CliRunner().invoke(main, ["new", str(file)]).exit_code == 0
    jsonschema.validate(json.loads(file.read_bytes()), plan_schema())
    report = check(read_plan(file.read_bytes()), catalog())
    assert report.requirements is not None
    assert {item.room for item in report.requirements.items} == {"great-room", "bath", "bedroom", None}
    assert report.needs is not None
    assert {item.answer for item in report.needs.items} == {"not_decided"}


def test_without_a_file_it_is_printed() -> None:
    printed = CliRunner().invoke(main, ["new"])
    assert printed.exit_code == 0
    assert read_plan(printed.stdout.encode()).knows("rooms", "counters")


def test_a_file_that_is_there_is_kept_unless_it_is_forced(tmp_path: Path) -> None:
    file = tmp_path / "mine.json"
    file.write_text("mine", encoding="utf-8")
    refused = CliRunner().invoke(main, ["new", str(file)])
    assert refused.exit_code == 2
    assert "is there already" in refused.output
    assert file.read_text(encoding="utf-8") == "mine"
    assert CliRunner().invoke(main, ["new", "--force", str(file)]).exit_code == 0
    assert read_plan(file.read_bytes()).name.startswith("Larkspur")
