"""Every figure and provision that the code asks for stands in the tables, with the unit that is asked for, and none stands idle."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import nailplate
from house.converted import converted_files
from nailplate import codes
from nailplate.codes import EDITIONS, Limit, TextStatus
from nailplate.units import Unit
from rules.judging import packs

ROOT = Path(nailplate.__file__).parent
LATEST = codes.edition(EDITIONS[-1])
LIMITS, PROVISIONS = LATEST.limits.entries, LATEST.provisions.entries
UNITS: dict[str, Unit] = {
    "inches": Unit.INCH,
    "square_inches": Unit.SQUARE_INCH,
    "cubic_inches": Unit.CUBIC_INCH,
    "amperes": Unit.AMPERE,
    "volts": Unit.VOLT,
    "volt_amperes": Unit.VOLT_AMPERE,
    "pounds": Unit.POUND,
    "celsius": Unit.CELSIUS,
    "number": Unit.COUNT,
    "share": Unit.PERCENT,
}
SINGLE = {"limit", "measure", "limit_entry", *UNITS}
ASKS = {*SINGLE, "holds", "ratings", "size", "day"}


def asked(file: Path) -> Iterator[tuple[str, str]]:
    """Each figure or provision that a module asks for by its name: the method and the name."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in ASKS and node.args:
            yield from ((node.func.attr, name) for name in _texts(node.args[0]))


def _texts(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body), *_texts(node.orelse))


ASKED = sorted({(str(file.relative_to(ROOT)), *each) for file in ROOT.rglob("*.py") for each in asked(file)})


@pytest.mark.parametrize(("file", "method", "name"), ASKED)
def test_what_is_asked_for_stands_in_the_tables(file: str, method: str, name: str) -> None:
    if method == "holds":
        assert name in PROVISIONS, file
        return
    assert name in LIMITS, file
    assert _suits(LIMITS[name], method), f"{file}: {method} of {name!r}"


def _suits(entry: Limit, method: str) -> bool:
    match method:
        case "ratings":
            return entry.values is not None
        case "size":
            return entry.size is not None
        case "day":
            return entry.day is not None
        case "limit_entry":
            return True
        case _:
            return entry.value is not None and entry.unit is UNITS.get(method, entry.unit)


def test_no_figure_and_no_provision_stands_idle() -> None:
    named = {name for _, _, name in ASKED} | _named_in_data()
    assert sorted({*LIMITS, *PROVISIONS} - named) == []


def _named_in_data() -> set[str]:
    """Names that the code holds as data, such as a table from a kind of place to its limit."""
    texts = {
        node.value
        for file in ROOT.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    return texts & {*LIMITS, *PROVISIONS}


def test_no_name_is_both_a_figure_and_a_provision_and_each_is_a_plain_word() -> None:
    assert not LIMITS.keys() & PROVISIONS.keys()
    assert [name for name in (*LIMITS, *PROVISIONS) if not re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)+", name)] == []


def test_every_figure_and_provision_shows_on_a_page() -> None:
    shown = {name for rule in packs().rules.values() for name in (*rule.limits, *rule.provisions)}
    assert sorted({*LIMITS, *PROVISIONS} - shown) == []


def test_what_a_rule_declares_stands_in_the_tables() -> None:
    for rule in packs().rules.values():
        assert set(rule.stated_limits) <= LIMITS.keys(), rule.id
        assert set(rule.stated_provisions) <= PROVISIONS.keys(), rule.id


def test_only_the_codes_ask_for_the_year_of_an_edition() -> None:
    found = [
        str(file.relative_to(ROOT))
        for file in converted_files()
        if re.search(r"\.since\(|edition\.year\s*(?:[<>=!]|in\b)", file.read_text())
    ]
    assert found == []


SECTION = re.compile(r"(?<![\d.])\d{3}\.\d+|Table \d{3}|R3\d\d\.\d")
NUMBER = re.compile(r"^(?:_?[A-Z][A-Z0-9_]*)(?:: [^=]+)? = .*?\d")


@pytest.mark.parametrize("file", [pytest.param(file, id=str(file.relative_to(ROOT))) for file in converted_files()])
def test_no_constant_with_a_section_in_its_comment_is_left(file: Path) -> None:
    lines = file.read_text(encoding="utf-8").splitlines()
    found = []
    for number, line in enumerate(lines):
        if NUMBER.match(line) and not line.startswith("_SEEN"):
            after = " ".join(_docstring(lines, number + 1))
            if SECTION.search(line.partition("#")[2]) or SECTION.search(after):
                found.append(line)
    assert found == []


def _docstring(lines: list[str], start: int) -> Iterator[str]:
    """The lines of the text that stands right under a constant."""
    if start < len(lines) and lines[start].startswith('"""'):
        for line in lines[start:]:
            yield line
            if line.rstrip().endswith('"""'):
                return


def test_a_section_whose_text_is_assumed_unchanged_is_not_cited_as_verified() -> None:
    cites = [
        cite for rule in packs().rules.values() for cite in rule.cites.values() if cite and "assumed unchanged" in cite.note
    ]
    assert len(cites) > 5
    for cite in cites:
        assert cite.status(2026) is TextStatus.ASSUMED, cite.note


def test_an_air_conditioners_disconnect_is_cited_as_it_was_seen() -> None:
    cited = {year: packs().rules["cooling-disconnect"].cite(year) for year in (2017, 2020, 2023, 2026)}
    statuses = [cite.status(year).value for year, cite in cited.items() if cite]
    assert statuses == ["verified", "memory", "verified", "assumed"]
