"""The demonstration runs the real service, says what it found, and stops it cleanly."""

import json
import os
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest

pytestmark = pytest.mark.long
SERVICE = Path(__file__).parents[2] / "service"


def test_demo_starts_checks_prints_and_stops() -> None:
    answer = subprocess.run(
        [sys.executable, "-m", "nailplate", "demo"],
        env={**os.environ, "PYTHONPATH": str(SERVICE)},
        capture_output=True,
        text=True,
        check=False,
        timeout=90,
    )
    planted = json.loads(files("nailplate").joinpath("examples", "tamarack-wren.faults.json").read_text(encoding="utf-8"))[
        "faults"
    ]
    assert answer.returncode == 0, answer.stderr
    assert "as drawn: clear, 0 findings" in answer.stderr
    assert "service stopped with exit code 0" in answer.stderr
    findings, _, _ = answer.stdout.partition("\n## Accepted")
    assert findings.count("\n### ") == sum(len(each["finds"]) if isinstance(each["finds"], list) else 1 for each in planted)
