"""What is installed: the package with its tables, and of each rule's cases those alone that its page shows. None is read at start."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from rules.judging import packs

pytestmark = pytest.mark.long
ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder as pip would leave it: the wheel unpacked."""
    folder = tmp_path_factory.mktemp("wheel")
    build = f"from hatchling.build import build_wheel; build_wheel({str(folder)!r})"
    subprocess.run([sys.executable, "-c", build], cwd=ROOT, check=True, capture_output=True)
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as wheel:
        assert len(wheel.namelist()) == len(set(wheel.namelist()))
        wheel.extractall(folder / "site")
    return folder / "site"


def run(where: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words],
        env={**os.environ, "PYTHONPATH": str(where)},
        cwd=where,
        capture_output=True,
        text=True,
        check=False,
    )


def test_shown_cases_alone_travel(site: Path) -> None:
    for rule in packs().rules.values():
        file = site / f"{rule.module.replace('.', '/')}.json"
        assert json.loads(file.read_text(encoding="utf-8")) == [case.value() for case in rule.cases if case.shown]
    assert len(list((site / "nailplate/rules").rglob("*.json"))) == len(packs().rules)


def test_all_else_of_the_package_travels(site: Path) -> None:
    def kept(folder: Path) -> set[str]:
        files = (file.relative_to(folder) for file in (folder / "nailplate").rglob("*") if file.is_file())
        return {str(file) for file in files if "__pycache__" not in file.parts}

    assert kept(site) == kept(ROOT / "service")


def test_pages_of_the_installed_package_are_those_of_the_checkout(site: Path) -> None:
    for rule_id in ("box-volume", "gfci-locations"):
        installed, checkout = (run(where, "-m", "nailplate", "explain", rule_id) for where in (site, ROOT / "service"))
        assert installed.stdout == checkout.stdout != ""


def test_trying_a_rule_says_that_the_other_cases_are_in_a_checkout(site: Path) -> None:
    answer = run(site, "-m", "nailplate", "try", "box-volume")
    assert answer.returncode == 0, answer.stderr
    assert "run this in a checkout of its source for all" in answer.stderr


def test_no_case_is_read_at_start_nor_on_the_way_of_a_plan() -> None:
    code = (
        "from nailplate.catalog import catalog; from nailplate.review import check; from nailplate.wire import read_plan;"
        "from nailplate.rulekit.cases import cases_of;"
        'check(read_plan(b\'{"plan_format": 1, "name": "x", "basis": {"edition": "2023"}, "boxes": {"b": {}}}\'), catalog());'
        "from nailplate.web import Settings, create_app; create_app(Settings());"
        "print(cases_of.cache_info().misses)"
    )
    answer = run(ROOT / "service", "-c", code)
    assert answer.stdout.strip() == "0", answer.stderr
