"""What a caller submits: a bare plan, or a plan with options."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from nailplate.plan import ROOT, Pointer
from nailplate.web.bodies import json_body, settings
from nailplate.web.problems import INVALID_REQUEST, Problem

_FIELDS = ("plan", "options")
_OPTIONS = ("max_findings",)


@dataclass(frozen=True, slots=True)
class Submission:
    """A plan not yet read, where it stands in the body, and how to check it."""

    plan: Any
    at: Pointer
    max_findings: int


def submitted() -> Submission:
    """The submission that the body holds. An object with a member ``plan`` is an envelope. Raises Problem and NotJson."""
    value = json_body()
    if not (isinstance(value, dict) and "plan" in value):
        return Submission(value, ROOT, settings().max_findings)
    faults = list(_faults(value, settings().max_findings))
    if faults:
        raise Problem(INVALID_REQUEST, "The plan's envelope is not as it is taken here.", faults)
    most = value.get("options", {}).get("max_findings", settings().max_findings)
    return Submission(value["plan"], ROOT / "plan", most)


def _faults(value: dict[str, Any], most: int) -> Iterator[dict[str, str]]:
    yield from _unknown(value, _FIELDS, ROOT)
    options = value.get("options", {})
    if not isinstance(options, dict):
        yield {"pointer": "/options", "code": "wrong-type", "detail": "an object was wanted"}
        return
    yield from _unknown(options, _OPTIONS, ROOT / "options")
    wanted = options.get("max_findings", most)
    if type(wanted) is not int or not 1 <= wanted <= most:
        detail = f"a whole number from 1 to {most} was wanted"
        yield {"pointer": "/options/max_findings", "code": "bad-value", "detail": detail}


def _unknown(value: dict[str, Any], known: tuple[str, ...], at: Pointer) -> Iterator[dict[str, str]]:
    for key in value:
        if key not in known:
            detail = f"there is no field {key[:40]!r} here; known are {', '.join(known)}"
            yield {"pointer": at / key[:200], "code": "unknown-field", "detail": detail}
