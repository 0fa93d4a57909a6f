"""A further edition takes a folder and one word, as DEVELOPERS.md says: nothing else assumes that the last one is the last."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from nailplate.codes import EDITIONS
from nailplate.plan.words import EditionName

PACKAGE = Path(__file__).parents[2] / "service/nailplate"
YEAR = str(int(EDITIONS[-1]) + 3)
HEADER = f'id = "nec-{YEAR}"\nyear = {YEAR}\nbased_on = "nec-{EDITIONS[-1]}"\ninherited_text_status = "assumed"\n'
LIMITS = "[fan_heaviest]\nvalue = 71\n"


@pytest.fixture(scope="module")
def grown(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the package with one edition more, in which a listed box bears a fan of 71 lb."""
    folder = tmp_path_factory.mktemp("grown")
    shutil.copytree(PACKAGE, folder / "nailplate", ignore=shutil.ignore_patterns("__pycache__"))
    edition = folder / f"nailplate/codes/nec_{YEAR}"
    edition.mkdir()
    (edition / "edition.toml").write_text(HEADER)
    (edition / "limits.toml").write_text(LIMITS)
    words = folder / "nailplate/plan/words.py"
    last = f'    NEC_{EDITIONS[-1]} = "{EDITIONS[-1]}"\n'
    assert last in words.read_text()
    words.write_text(words.read_text().replace(last, f'{last}    NEC_{YEAR} = "{YEAR}"\n'))
    return folder


def nailplate(grown: Path, *words: str, module: str = "nailplate") -> str:
    answer = subprocess.run(
        [sys.executable, "-m", module, *words],
        cwd=grown,
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(grown)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert answer.returncode in (0, 1, 4), answer.stderr
    return answer.stdout


def test_plans_may_name_every_edition_that_has_tables() -> None:
    assert tuple(EditionName) == EDITIONS


def test_a_house_is_checked_under_it_and_compared_with_the_one_before(grown: Path) -> None:
    house = "nailplate/examples/tamarack-wren.json"
    report = json.loads(nailplate(grown, "check", house, "--edition", YEAR, "--format", "json"))
    before = json.loads(nailplate(grown, "check", house, "--edition", EDITIONS[-1], "--format", "json"))
    assert report["basis"]["edition"] == YEAR
    assert report["verdict"] == before["verdict"] == "clear"
    compared = json.loads(nailplate(grown, "compare", house, "--edition-of-second", YEAR, "--format", "json"))
    assert compared["new"]["edition"] == YEAR


def test_its_page_tells_what_it_changed(grown: Path) -> None:
    page = nailplate(grown, "explain", "fan-box")
    assert re.search(rf"{YEAR}.*71 lb|71 lb.*{YEAR}", page, re.S)
    assert YEAR in nailplate(grown, "explain", "fan-box", "--edition", YEAR)


def test_it_stands_in_what_is_printed(grown: Path) -> None:
    nailplate(grown, "printed", module="nailplate.publish")
    for path in ("schemas/plan-1.json", "openapi/openapi.json"):
        assert f'"{YEAR}"' in (grown / "printed" / path).read_text(), path
