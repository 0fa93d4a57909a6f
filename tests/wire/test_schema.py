"""The published plan schema is what is printed, and an independent validator agrees with our reader."""

import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from nailplate.plan import PlanRefused
from nailplate.publish import published
from nailplate.units import SCALES, Dimension, QuantityError, read_quantity
from nailplate.wire import read_plan
from nailplate.wire.fields import quantity_pattern

ROOT = Path(__file__).parents[2]
EXAMPLES = [
    path
    for path in files("nailplate").joinpath("examples").iterdir()
    if path.name.endswith(".json") and "faults" not in path.name and not path.name.startswith("amendments-")
]
SMALL: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}


def validator() -> Draft202012Validator:
    schema = json.loads((ROOT / "schemas/plan-1.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("path", published())
def test_published_files_are_what_is_printed(path: str) -> None:
    assert (ROOT / path).read_text(encoding="utf-8") == published()[path]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_examples_fit_the_schema(example: Any) -> None:
    assert list(validator().iter_errors(json.loads(example.read_text(encoding="utf-8")))) == []


BAD = [
    {"boxs": {}},
    {"basis": {"edition": "2021"}},
    {"boxes": {"a": {"volume": 18}}},
    {"boxes": {"a": {"gangs": 0}}},
    {"boxes": {"b" * 65: {}}},
    {"levels": {"m": {"kind": "storey"}}, "rooms": {"r": {"level": "m", "uses": ["kitchen"], "outline": [[0, 0], [9, 9]]}}},
    {"circuits": {"c": {"breaker": {"rating": 0}}}},
    {"boxes": {"a": {"at": {"height": 4}}}},
    {"devices": {"d": {"kind": "switch", "locking": 1}}},
    {"boxes": {"a": None}},
    {"boxes": {"a": {"depth": "9**9**9 ft"}}},
    {"boxes": {"a": {"depth": "2 A"}}},
    {"boxes": {"a": {"volume": "18"}}},
    {"boxes": {"a": {"label": "x" * 201}}},
    {"devices": {"d": {"kind": "switch", "at": {"room": "r", "wall": "w"}}}},
    {"cables": {"k": {"ends": [{"box": "a"}]}}},
    {"cables": {"k": {"size": "none", "ends": [{"box": "a"}, {"box": "b"}]}}},
]


@pytest.mark.parametrize("more", BAD, ids=lambda more: json.dumps(more)[:50])
def test_schema_and_reader_refuse_the_same(more: dict[str, Any]) -> None:
    document = {**SMALL, **more}
    assert not validator().is_valid(document)
    with pytest.raises(PlanRefused):
        read_plan(json.dumps(document).encode())


def test_zero_is_an_exclusive_minimum() -> None:
    schema = json.loads((ROOT / "schemas/plan-1.json").read_text(encoding="utf-8"))
    rating = schema["$defs"]["Breaker"]["properties"]["rating"]["anyOf"][0]
    assert rating["exclusiveMinimum"] == 0
    assert "minimum" not in rating


NUMBERS = ["7", "7.5", ".5", "1/2", "3 1/2", "3-1/2", "-2", "1/0", "1,5", "1e3", "7.", "٣", ""]
UNITS = [*SCALES, "in³", "ft^2", "cm**3", "m4", "AWG", "inchs", ""]


@pytest.mark.parametrize("dimension", Dimension)
def test_the_schemas_pattern_takes_what_the_reader_reads(dimension: Dimension) -> None:
    """All of it, in every spelling, and nothing else of these."""
    pattern = re.compile(quantity_pattern(dimension))
    texts = [f"{number}{gap}{unit}" for number in NUMBERS for unit in UNITS for gap in ("", " ", "  ")]
    for text in [*texts, "7 ft 6 in", "7'-6 1/2\"", "7′ 6″", "7.5 ft 6 in", "7 ft 6", "-1 ft - 2 in"]:
        assert bool(pattern.search(text)) == _is_read(text, dimension), text


def _is_read(text: str, dimension: Dimension) -> bool:
    try:
        read_quantity(text, dimension)
    except QuantityError:
        return False
    return True
