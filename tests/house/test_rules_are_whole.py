"""Every rule has its page and citations of editions that exist, and can be read in one go."""

from pathlib import Path

import pytest

import nailplate.rules
from nailplate.codes import EDITIONS
from nailplate.rulekit import Rule, Subject
from rules.judging import packs

RULES = [pytest.param(rule, id=rule.id) for rule in packs().rules.values()]


@pytest.mark.parametrize("rule", RULES)
def test_rule_has_a_page(rule: Rule) -> None:
    assert rule.title.endswith(".")
    assert rule.why
    assert rule.fix
    assert rule.hazards


@pytest.mark.parametrize("rule", RULES)
def test_every_edition_a_rule_cites_exists(rule: Rule) -> None:
    named = {key.removeprefix("nec-") for key in rule.cites if key.startswith("nec-")}
    assert named <= set(EDITIONS)
    assert any(rule.is_in(int(year)) for year in EDITIONS)


@pytest.mark.parametrize("rule", RULES)
def test_every_change_is_that_of_an_edition(rule: Rule) -> None:
    assert {key.removeprefix("nec-") for key in rule.changes if not key.startswith("irc-")} <= set(EDITIONS)
    assert all(text.endswith(".") for text in rule.changes.values())


@pytest.mark.parametrize("rule", RULES)
def test_rule_says_what_it_is_about(rule: Rule) -> None:
    assert rule.subjects
    assert all(isinstance(subject, Subject) for subject in rule.subjects)


def test_no_rule_is_a_file_of_more_than_250_lines() -> None:
    files = Path(nailplate.rules.__file__).parent.rglob("*.py")
    lengths = {file.name: len(file.read_text(encoding="utf-8").splitlines()) for file in files}
    assert {name: length for name, length in lengths.items() if length > 250} == {}
