"""The command line: exit codes, formats, and errors that point at the fault."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from nailplate.catalog import catalog
from nailplate.cli import main

EXAMPLES = files("nailplate").joinpath("examples")
OPEN = {
    "plan_format": 1,
    "name": "open",
    "basis": {"edition": "2023"},
    "boxes": {"b": {}},
    "devices": {"s": {"kind": "switch", "box": "b"}},
}
WRONG = {
    "plan_format": 1,
    "name": "w",
    "basis": {"edition": "2023"},
    "circuits": {"c": {"breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}},
}


def run(*words: str, source: str | None = None) -> Result:
    return CliRunner().invoke(main, list(words), input=source)


def test_a_sound_house_exits_0() -> None:
    answer = run("check", str(EXAMPLES.joinpath("tamarack-wren.json")))
    assert answer.exit_code == 0
    assert "Nothing against the code was found in what was checked" in answer.output


@pytest.mark.parametrize(
    ("words", "plan", "code"),
    [
        ((), WRONG, 1),
        (("--fail-at", "danger"), WRONG, 1),
        ((), OPEN, 0),
        (("--fail-on-undetermined",), OPEN, 4),
        (("--fail-on-undetermined",), WRONG, 1),
    ],
)
def test_exit_codes_follow_the_threshold(words: tuple[str, ...], plan: object, code: int) -> None:
    assert run("check", "-", *words, source=json.dumps(plan)).exit_code == code


@pytest.mark.parametrize(
    ("source", "said"), [("{", "not JSON"), ('{"plan_format": 1}', "/name: this must be stated"), ("", "empty")]
)
def test_what_cannot_be_read_exits_2_and_says_why(source: str, said: str) -> None:
    answer = run("check", "-", source=source)
    assert answer.exit_code == 2
    assert said in answer.stderr


def test_several_outputs_are_written_at_once(tmp_path: Path) -> None:
    words = ("--output", f"json={tmp_path / 'r.json'}", "--output", f"html={tmp_path / 'r.html'}")
    run("check", "-", *words, source=json.dumps(WRONG))
    assert json.loads((tmp_path / "r.json").read_text())["verdict"] == "violations"
    assert "<!doctype html>" in (tmp_path / "r.html").read_text()


def test_explain_shows_the_page_and_suggests_for_a_misspelt_rule() -> None:
    page = run("explain", "box-volume", "--edition", "2017").output
    assert "314.16" in page
    assert "- NEC 2017: 314.16" in page
    assert "The examples below are of NEC 2017" in page
    answer = run("explain", "box-volum")
    assert answer.exit_code == 2
    assert "did you mean 'box-volume'" in answer.output


def test_rules_lists_every_rule_in_force() -> None:
    listed = [line.split()[0] for line in run("rules").output.splitlines()]
    assert listed == list(catalog().rules)


def test_calculate_gives_the_published_figure() -> None:
    # Two 14-2 cables, a switch and internal clamps: 16 in³ (https://www.examword.com/sentence/word?x=eccentric).
    fourteen = {"size": "14 AWG"}
    request = {
        "edition": "2023",
        "conductors": [{**fourteen, "count": 4}],
        "grounding_conductors": [{**fourteen, "count": 2}],
        "devices": [fourteen],
        "internal_clamps": True,
        "volume": "15 in3",
    }
    result = json.loads(run("calculate", "box-fill", "-", source=json.dumps(request)).output)["result"]
    assert (result["counted"]["value"], result["fits"]) == (16.0, False)


def test_schema_prints_the_published_schema() -> None:
    assert json.loads(run("schema").output)["title"] == "nailplate plan, format 1"


HERON = str(EXAMPLES.joinpath("tamarack-heron.json"))
TANSY = str(EXAMPLES.joinpath("amendments-tansy-county.json"))


def checked(*words: str, plan: str = HERON) -> dict[str, Any]:
    answer = run("check", plan, "--format", "json", *words)
    value: dict[str, Any] = json.loads(answer.output)
    return value


def test_a_plan_is_checked_by_another_edition_and_permit_date() -> None:
    basis = checked("--edition", "2026", "--permit-date", "2026-10-05")["basis"]
    assert (basis["edition"], basis["permit_date"]) == ("2026", "2026-10-05")
    assert checked()["basis"]["edition"] == "2023"


def test_what_is_named_beside_the_plan_changes_what_is_found(tmp_path: Path) -> None:
    house = json.loads(Path(HERON).read_text(encoding="utf-8"))
    house["circuits"]["heat-pump"]["breaker"]["protects"] = "none"
    plan = tmp_path / "plan.json"
    plan.write_text(json.dumps(house), encoding="utf-8")
    rules = {
        date: {each["rule"] for each in checked("--permit-date", date, plan=str(plan))["findings"]}
        for date in ("2026-08-31", "2026-09-01")
    }
    assert rules["2026-09-01"] - rules["2026-08-31"] == {"gfci-outdoor-outlets"}
    local = checked("--permit-date", "2026-09-01", "--amendments", TANSY, plan=str(plan))["findings"]
    assert {each["rule"] for each in local} == rules["2026-08-31"]


def test_local_amendments_are_named_in_the_report() -> None:
    basis = checked("--amendments", TANSY)["basis"]
    assert basis["jurisdiction"] == "Tansy County"
    assert [each["id"] for each in basis["amendments"]] == ["tansy-garage-250", "tansy-cooling"]


@pytest.mark.parametrize("words", [("--edition", "2019"), ("--amendments", "nowhere.json"), ("--amendments", HERON)])
def test_an_edition_or_file_of_amendments_that_is_none_is_told(words: tuple[str, ...]) -> None:
    assert run("check", HERON, *words).exit_code == 2


def test_a_date_that_is_none_is_a_fault_of_the_plan() -> None:
    answer = run("check", HERON, "--permit-date", "next week")
    assert answer.exit_code == 2
    assert "/basis/permit_date" in answer.output


@pytest.mark.parametrize("plan", ["[]", '{"basis": 3}'])
def test_what_is_no_plan_is_refused_as_ever(plan: str) -> None:
    assert run("check", "-", "--edition", "2023", source=plan).exit_code == 2
