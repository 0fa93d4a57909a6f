"""Several plans on one command line: folders, patterns, outputs, selection, baselines, CI mode."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from nailplate.cli import main

EXAMPLES = Path(__file__).parents[2] / "service/nailplate/examples"
WREN = EXAMPLES / "tamarack-wren.json"
WRONG: dict[str, Any] = {
    "plan_format": 1,
    "name": "w",
    "basis": {"edition": "2023"},
    "circuits": {"c": {"breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}},
    "rooms": {"hall": {"level": "m", "uses": ["hallway"]}},
    "levels": {"m": {"kind": "storey"}},
}


def run(*words: object, source: str | None = None, **environment: str | None) -> Result:
    return CliRunner(env={"CI": None, **environment}).invoke(main, [str(word) for word in words], input=source)


@pytest.fixture
def models(tmp_path: Path) -> Path:
    folder = tmp_path / "models"
    (folder / "more").mkdir(parents=True)
    (folder / "a.json").write_text(json.dumps(WRONG))
    (folder / "b.json").write_text("{")
    (folder / "more" / "a.json").write_text(json.dumps({**WRONG, "circuits": {}}))
    (folder / "notes.json").write_text('{"notes": []}')
    return folder


def test_a_folder_stands_for_its_plans_and_broken_ones_are_results(models: Path) -> None:
    answer = run("check", models, "--format", "json")
    assert answer.exit_code == 2
    results = json.loads(answer.stdout)
    assert [(Path(each["file"]).relative_to(models).as_posix(), each["status"]) for each in results] == [
        ("a.json", "checked"),
        ("b.json", "unreadable"),
        ("more/a.json", "checked"),
    ]
    assert results[1]["faults"][0]["code"] == "not-json"
    assert results[0]["report"]["plan"]["file"] == results[0]["file"]
    assert "1 files are JSON but no plans and are left out: notes.json" in answer.stderr
    assert "unreadable, 1 faults" in answer.stderr


def test_a_missing_file_is_a_result_and_a_pattern_finds_the_rest(models: Path) -> None:
    results = [
        json.loads(line) for line in run("check", models / "*.jsn", models / "?.json", "--format", "ndjson").stdout.splitlines()
    ]
    assert [each["status"] for each in results] == ["unreadable", "checked", "unreadable"]
    assert results[0]["faults"][0]["code"] == "no-file"


def test_one_plan_is_one_report_that_names_its_file() -> None:
    report = json.loads(run("check", WREN, "--format", "json").stdout)
    assert report["plan"]["file"] == str(WREN)
    assert run("check", WREN).stdout.startswith(f"{WREN}: Tamarack")


def test_several_processes_give_the_same_bytes(models: Path) -> None:
    words = ("check", models, WREN, "--format", "json")
    assert run(*words, "--jobs", 2).stdout == run(*words, "--jobs", 1).stdout


def test_standard_input_reaches_other_processes(models: Path) -> None:
    answer = run("check", "-", models / "a.json", "--jobs", 2, "--format", "json", source=json.dumps(WRONG))
    assert [each["status"] for each in json.loads(answer.stdout)] == ["checked", "checked"]


def test_outputs_take_names_and_folders_and_never_write_over(models: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    words = (
        "check",
        models,
        "-q",
        "--output",
        f"html={out}/",
        "--output",
        f"json={out}/all.json",
        "--output",
        f"csv={out}/{{name}}-t.csv",
    )
    assert run(*words).exit_code == 2
    assert sorted(path.name for path in out.iterdir()) == [
        "a-2.html",
        "a-t-2.csv",
        "a-t.csv",
        "a.html",
        "all.json",
        "b-t.csv",
        "b.html",
    ]
    before = (out / "all.json").read_bytes()
    (out / "all.json").write_bytes(b"mine")
    answer = run(*words)
    assert (answer.exit_code, (out / "all.json").read_bytes()) == (2, b"mine")
    assert "--force writes over it" in answer.stderr
    assert run(*words, "--force").exit_code == 2
    assert (out / "all.json").read_bytes() == before


def test_an_output_is_refused_before_the_first_plan_is_checked(tmp_path: Path) -> None:
    answer = run("check", tmp_path / "none.json", "--output", "sarf=x")
    assert "did you mean sarif" in answer.stderr
    assert "none.json" not in answer.stderr


def test_rules_families_severities_and_rooms_are_selected(models: Path) -> None:
    def found(*words: str) -> Any:
        return json.loads(run("check", models / "a.json", "--format", "json", *words).stdout)

    whole = found()
    only = found("--rule", "conductor-protection")
    assert {each["rule"] for each in only["findings"]} == {"conductor-protection"}
    assert [each["rule"] for each in only["coverage"]["rules"]] == ["conductor-protection"]
    assert "conductor-protection" not in {each["rule"] for each in found("--ignore", "circuits")["findings"]}
    danger = found("--severity", "danger")
    assert {each["severity"] for each in danger["findings"]} == {"danger"}
    assert danger["selection"]["hidden"] == len(whole["findings"]) - len(danger["findings"])
    misspelt = found("--room", "hal")
    assert misspelt["findings"] == []
    assert misspelt["verdict"] == "incomplete"
    assert misspelt["selection"]["notes"] == ["There is no room 'hal' in this plan; did you mean 'hall'?"]


def test_a_misspelt_rule_gets_the_nearest() -> None:
    for option in ("--rule", "--ignore"):
        assert "did you mean 'box-volume'" in run("check", WREN, option, "box-volum").stderr


def test_a_baseline_lets_only_what_is_new_fail(models: Path, tmp_path: Path) -> None:
    plan, kept = models / "a.json", tmp_path / "baseline.json"
    assert run("check", plan, "-q", "--output", f"baseline={kept}").exit_code == 1
    assert run("check", plan, "-q", "--baseline", kept).exit_code == 0
    report = json.loads(run("check", plan, "--baseline", kept, "--format", "json").stdout)
    assert {each["baseline"] for each in report["findings"]} == {"unchanged"}
    assert report["baseline"] == {"new": 0, "unchanged": len(report["findings"]), "absent": []}
    worse = {**WRONG, "circuits": {**WRONG["circuits"], "d": WRONG["circuits"]["c"]}}
    plan.write_text(json.dumps(worse))
    assert run("check", plan, "-q", "--baseline", kept).exit_code == 1
    plan.write_text(json.dumps({**WRONG, "circuits": {}}))
    gone = json.loads(run("check", plan, "--baseline", kept, "--format", "json").stdout)["baseline"]["absent"]
    assert "conductor-protection" in {each["rule"] for each in gone}


def test_suppressions_beside_the_plan_accept_as_those_in_it_do(tmp_path: Path) -> None:
    plan = tmp_path / "plan.json"
    plan.write_text(json.dumps({**WRONG, "boxes": {"b": {"volume": "4 in3", "clamps": "none"}}}))
    beside = tmp_path / "accepted.json"
    entry = {"rule": "box-accessible", "part": "/boxes/b", "reason": "shown on the old drawing", "accepted_by": "the builder"}
    beside.write_text(json.dumps({"s": entry}))
    report = json.loads(run("check", plan, "--suppressions", beside, "--format", "json").stdout)
    assert [each["accepted"]["suppression"] for each in report["accepted"]] == ["s"]
    shown = json.loads(run("check", plan, "--suppressions", beside, "--show-accepted", "--format", "json").stdout)
    assert shown["accepted"] == []
    assert len(shown["findings"]) == len(report["findings"]) + 1


def test_ci_mode_fails_on_danger_that_nobody_could_decide(tmp_path: Path) -> None:
    plan = tmp_path / "plan.json"
    plan.write_text(json.dumps({**WRONG, "circuits": {"c": {"breaker": {"rating": 20}}}}))
    report = json.loads(run("check", plan, "--format", "json").stdout)
    assert "undetermined" in {each["outcome"] for each in report["findings"] if each["severity"] == "danger"}
    plain = run("check", plan, "-q", "--rule", "conductor-protection")
    assert plain.exit_code == 0
    assert run("check", plan, "-q", "--rule", "conductor-protection", "--ci").exit_code == 4
    assert run("check", plan, "-q", "--rule", "conductor-protection", CI="true").exit_code == 4
    assert run("check", plan, "-q", "--rule", "conductor-protection", "--undecided-at", "never", CI="true").exit_code == 0


def test_text_is_colored_only_where_wanted() -> None:
    assert "\x1b[" not in run("check", WREN).stdout
    assert "\x1b[1m" in CliRunner().invoke(main, ["check", str(WREN), "--color"], color=True).stdout


def test_quiet_prints_nothing_and_still_tells_what_is_broken(models: Path) -> None:
    answer = run("check", models, "-q")
    assert answer.stdout == ""
    assert "b.json" in answer.stderr


def test_help_and_version_load_no_rules() -> None:
    import subprocess
    import sys

    for words in ("--version", "--help"):
        loaded = subprocess.run(
            [sys.executable, "-X", "importtime", "-m", "nailplate", words],
            env={"PYTHONPATH": str(EXAMPLES.parents[1])},
            capture_output=True,
            text=True,
            check=True,
        ).stderr
        assert "nailplate.rulekit" not in loaded
        assert "nailplate.cli.commands" in loaded
