"""The clock of one request: it ends what takes too long, and leaves nothing behind that slows or ends what comes later."""

import sys
import time
from types import FrameType

import pytest

from nailplate.web import create_app
from nailplate.web.deadline import limited
from nailplate.web.problems import Problem
from nailplate.web.settings import Settings


def _walk_without_end() -> None:
    with limited("a walk without end"):
        while True:
            time.sleep(0.001)


def test_work_past_its_time_is_a_problem_and_later_work_is_not_ended_by_it() -> None:
    with create_app(Settings(time_limit=1)).app_context():
        with pytest.raises(Problem) as told:
            _walk_without_end()
        assert "longer than the 1 seconds" in str(told.value)
        with limited("short work"):
            pass
        time.sleep(1.2)


def test_profiled_code_runs_on_after_a_request() -> None:
    """Python 3.11 with a taken-back exception pending never comes out of a call that is profiled."""
    calls = 0

    def counted(frame: FrameType, event: str, arg: object) -> None:
        nonlocal calls
        calls += 1

    with create_app(Settings()).app_context(), limited("short work"):
        pass
    sys.setprofile(counted)
    try:
        sorted([2, 1], key=lambda each: each)
    finally:
        sys.setprofile(None)
    assert calls
