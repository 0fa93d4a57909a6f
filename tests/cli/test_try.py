"""``nailplate try``: one rule's cases, as whoever writes the rule reads them."""

import pytest
from click.testing import CliRunner, Result

from nailplate.catalog import catalog
from nailplate.cli import main
from nailplate.rulekit import Case, Rule

SHOWN = Case("states its gangs", ("nec-2023",), {"boxes": {"a": {}}}, ({"at": "/boxes/a", "outcome": "pass"},), shown=True)


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["try", *words])


def beside(monkeypatch: pytest.MonkeyPatch, *cases: Case) -> None:
    """These cases lie beside every rule."""
    monkeypatch.setattr(Rule, "cases", property(lambda _: cases))


def test_every_case_is_a_line_with_its_editions() -> None:
    answer = run("usb-receptacle")
    assert answer.exit_code == 0
    lines = answer.stdout.splitlines()
    assert all(line.startswith("pass  2") for line in lines[:-1])
    runs = sum(len(case.editions) for case in catalog().rules["usb-receptacle"].cases)
    assert f": {runs} runs, 0 failed, " in lines[-1]


def test_one_edition_alone() -> None:
    answer = run("box-volume", "--edition", "2020")
    assert {line[6:25].strip() for line in answer.stdout.splitlines()[:-1]} == {"2020"}


def test_a_case_that_fails_tells_what_was_wanted_and_what_came(monkeypatch: pytest.MonkeyPatch) -> None:
    beside(monkeypatch, SHOWN, Case("not shown", ("nec-2023",), {"boxes": {"b": {}}}, ()))
    answer = run("box-volume", "-q")
    assert answer.exit_code == 1
    assert answer.stdout.splitlines()[:3] == [
        "FAIL  2023                 states its gangs",
        "      wanted /boxes/a: pass",
        "      got    /boxes/a: not_concerned",
    ]
    assert "2 runs, 1 failed" in answer.stdout


def test_a_case_that_is_no_plan_fails_with_its_pointer(monkeypatch: pytest.MonkeyPatch) -> None:
    beside(monkeypatch, Case("no plan", ("nec-2023",), {"boxes": {"a": {"gangs": 0}}}, ()))
    answer = run("box-volume")
    assert answer.exit_code == 1
    assert "      no plan: /boxes/a/gangs: " in answer.stdout


def test_it_says_so_where_the_cases_are_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    beside(monkeypatch, SHOWN)
    assert "run this in a checkout of its source for all" in run("box-volume").stderr
    beside(monkeypatch)
    answer = run("box-volume")
    assert answer.exit_code == 3
    assert "no cases lie beside nailplate.rules.box_fill.box_volume" in answer.stderr
