"""The command line: exit codes, formats, and errors that point at the fault."""

import json
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from nailplate.catalog import catalog
from nailplate.cli import main, worst

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
    assert "Nothing was found wrong in what was checked" in answer.output


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


@pytest.mark.parametrize(("codes", "wanted"), [([], 0), ([0, 4], 4), ([4, 1], 1), ([1, 2], 2), ([2, 3, 1], 3)])
def test_the_worst_of_several_plans_decides(codes: list[int], wanted: int) -> None:
    assert worst(codes) == wanted


def test_explain_shows_the_page_and_suggests_for_a_misspelt_rule() -> None:
    page = run("explain", "box-volume", "--edition", "2017").output
    assert "314.16" in page
    assert "NEC 2023" not in page
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
