"""A rule pack from elsewhere, built and installed as a wheel of its own, works without an edit, and only when it is named."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from nailplate.catalog import catalog
from nailplate.rulekit import PackError

pytestmark = pytest.mark.long
SERVICE = Path(__file__).parents[2] / "service"

PYPROJECT = """
[build-system]
requires = ["hatchling"]
build-backend = "hatchling.build"
[project]
name = "acme-rules"
version = "3.1"
[project.entry-points."nailplate.rulepacks"]
acme = "acme_rules:pack"
"""
PACKAGE = """
from nailplate.rulekit import RulePack

def pack():
    return RulePack.from_package("acme", __name__, "3.1")
"""
RULE = '''
"""A box says its gangs.

Why: our shop orders plates by it.

Fix: state the gangs.
"""
from nailplate.plan import Box
from nailplate.rulekit import Hazard, Job, Outcome, Pass, Severity, Violation, rule


@rule(id="acme/box-gangs", over=Box, severity=Severity.ADVICE, cites={"nec-2017": "shop rule 7"}, hazards=(Hazard.BURIED,))
def box_gangs(box: Box, job: Job) -> Outcome:
    if box.id == "boom":
        raise RuntimeError("this rule is broken")
    return Pass() if box.knows("gangs") else Violation("The box does not say its gangs.")
'''
PLAN = '{"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "boxes": {"a": {}, "b": {"gangs": 1}, "boom": {}}}'


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder as pip would leave it: the pack's wheel unpacked."""
    project = tmp_path_factory.mktemp("acme")
    (project / "acme_rules").mkdir()
    (project / "pyproject.toml").write_text(PYPROJECT)
    (project / "acme_rules" / "__init__.py").write_text(PACKAGE)
    (project / "acme_rules" / "box_gangs.py").write_text(RULE)
    build = "from hatchling.build import build_wheel; build_wheel('dist')"
    subprocess.run([sys.executable, "-c", build], cwd=project, check=True, capture_output=True)
    installed = project / "site"
    with zipfile.ZipFile(next((project / "dist").glob("*.whl"))) as wheel:
        wheel.extractall(installed)
    return installed


def run(site: Path, *words: str) -> subprocess.CompletedProcess[str]:
    paths = os.pathsep.join((str(SERVICE), str(site)))
    return subprocess.run(
        [sys.executable, "-m", "nailplate", *words],
        input=PLAN,
        env={**os.environ, "PYTHONPATH": paths},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_pack_that_is_installed_but_not_named_is_not_in_force(site: Path) -> None:
    assert "acme/box-gangs" not in run(site, "rules").stdout


def test_a_named_pack_is_in_force(site: Path) -> None:
    assert "acme/box-gangs" in run(site, "rules", "--pack", "acme").stdout


def test_its_findings_and_version_are_reported_and_its_crash_is_an_answer(site: Path) -> None:
    answer = run(site, "check", "-", "--pack", "acme", "--format", "json")
    assert '"version": "3.1"' in answer.stdout
    assert "The box does not say its gangs." in answer.stdout
    assert "This rule failed here by a fault of its own" in answer.stdout
    assert "rule acme/box-gangs failed: RuntimeError" in answer.stderr
    assert answer.returncode == 3


def test_a_pack_that_is_not_installed_is_refused() -> None:
    with pytest.raises(PackError, match="no rule pack 'nobody' is installed"):
        catalog(["nobody"])
