"""``nailplate draw``: sheets in a folder, none written over unasked, a broken plan told."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from houses import house as whole_house
from nailplate.cli import main
from sheets.reading_svg import anchors, parsed

WREN = json.dumps(whole_house("tamarack-wren"))


def run(*words: str, given: str | None = None) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["draw", *words], input=given, standalone_mode=True)
    return result.exit_code, result.output


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    path.write_text(WREN, encoding="utf-8")
    return path


def test_every_level_and_every_wall_with_boxes_is_drawn(plan: Path, tmp_path: Path) -> None:
    code, said = run(str(plan), "--out", str(tmp_path / "out"))
    assert code == 0, said
    value = json.loads(WREN)
    on = {box["at"]["wall"] for box in value["boxes"].values() if "wall" in box["at"]}
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names >= {f"wall-{each}.svg" for each in on} | {f"level-{each}.svg" for each in value["levels"]}
    found: set[str] = set()
    for path in (tmp_path / "out").iterdir():
        parsed(path.read_text(encoding="utf-8"))
        found |= anchors(path.read_text(encoding="utf-8"), "boxes").keys()
    assert found == value["boxes"].keys()


def test_a_sheet_that_is_there_is_not_written_over_unless_forced(plan: Path, tmp_path: Path) -> None:
    words = (str(plan), "--out", str(tmp_path / "out"))
    assert run(*words)[0] == 0
    code, said = run(*words)
    assert code == 2
    assert "--force" in said
    assert run(*words, "--force")[0] == 0


def test_standard_input_pdf_and_no_findings(tmp_path: Path) -> None:
    code, said = run("-", "--out", str(tmp_path), "--format", "pdf", "--paper", "tabloid", "--no-findings", given=WREN)
    assert code == 0, said
    assert (tmp_path / "level-main.pdf").read_bytes().startswith(b"%PDF-")


def test_what_is_no_plan_is_told(tmp_path: Path) -> None:
    assert run("-", "--out", str(tmp_path / "x"), given='{"name": 3}')[0] == 2
    assert run("-", "--out", str(tmp_path / "x"), given="{")[0] == 2
    assert not (tmp_path / "x").exists()


def test_ids_that_make_one_file_name_each_get_a_file(tmp_path: Path) -> None:
    value = json.loads(WREN)
    value["levels"] = {"a:b": {"kind": "storey"}, "a-b": {"kind": "storey"}, "A-b": {"kind": "storey"}}
    value = {key: value[key] for key in ("plan_format", "name", "basis", "levels")}
    value["rooms"] = {
        f"r{number}": {"level": name, "uses": ["living"], "outline": [[0, 0], [99, 0], [99, 99]]}
        for number, name in enumerate(value["levels"])
    }
    code, said = run("-", "--out", str(tmp_path), given=json.dumps(value))
    assert code == 0, said
    names = [path.name for path in tmp_path.iterdir()]
    assert len({each.lower() for each in names}) == len(names) == 3  # on a file system that does not tell case apart too
