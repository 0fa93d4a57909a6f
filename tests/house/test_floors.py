"""The floors hold: a room imports only from those below it."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_floors_hold() -> None:
    command = [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"]
    answer = subprocess.run(
        command, cwd=ROOT, env={"PYTHONPATH": str(ROOT / "service")}, capture_output=True, text=True, check=False
    )
    assert answer.returncode == 0, answer.stdout + answer.stderr


def test_top_level_holds_what_it_may() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "service", "schemas", "openapi", "tests", "docker"}
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    tops = {line.split("/")[0] for line in tracked.stdout.splitlines()}
    assert {top for top in tops if not top.startswith(".")} <= allowed


def test_pint_is_not_imported_on_the_way_of_a_plan() -> None:
    code = (
        "import sys; from nailplate.wire import read_plan; from nailplate.review import check; from nailplate.catalog import catalog;"
        "import nailplate.web;"
        'check(read_plan(b\'{"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}\'), catalog());'
        "print([name for name in ('pint', 'shapely', 'networkx', 'numpy') if name in sys.modules])"
    )
    answer = subprocess.run(
        [sys.executable, "-c", code], env={"PYTHONPATH": str(ROOT / "service")}, capture_output=True, text=True, check=False
    )
    assert answer.stdout.strip() == "[]", answer.stderr
