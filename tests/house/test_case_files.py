"""Case files are what their formatter prints, and what their published schema says."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from nailplate.rulekit.case_layout import case_file
from rules.judging import packs

ROOT = Path(__file__).parents[2]
FILES = [ROOT / "service" / f"{rule.module.replace('.', '/')}.json" for rule in packs().rules.values()]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_case_file_is_what_the_formatter_prints(file: Path) -> None:
    written = json.loads(file.read_text(encoding="utf-8"))
    assert file.read_text(encoding="utf-8") == case_file(written), "python -m nailplate.rulekit.case_layout writes it anew"


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_case_file_fits_its_schema(file: Path) -> None:
    schema = json.loads((ROOT / "schemas/cases-1.json").read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(json.loads(file.read_text(encoding="utf-8")))) == []


def test_every_case_file_has_its_rule_and_all_stay_under_35000_lines() -> None:
    found = set((ROOT / "service/nailplate/rules").rglob("*.json"))
    assert found == set(FILES)
    assert sum(file.read_text(encoding="utf-8").count("\n") for file in found) <= 35_000
