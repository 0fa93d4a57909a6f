"""What a caller submits: a bare plan, or a plan with options, a baseline and suppressions beside it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from nailplate.catalog import Catalog
from nailplate.codes import nearest
from nailplate.plan import ROOT, PlanRefused, Pointer
from nailplate.review import Selection
from nailplate.review.baseline import Baseline
from nailplate.rulekit import Severity
from nailplate.web.bodies import json_body
from nailplate.web.held import settings
from nailplate.web.problems import INVALID_REQUEST, Problem, fault_value
from nailplate.wire import read_baseline

FIELDS = ("plan", "options", "baseline", "suppressions")
OPTIONS = ("max_findings", "rules", "ignore", "severities", "rooms", "show_accepted")
MOST_NAMES = 500
"""Rules, families or rooms that one selection names."""


@dataclass(frozen=True, slots=True)
class Submission:
    """A plan not yet read, where it stands in the body, and how to check it."""

    plan: Any
    at: Pointer
    max_findings: int
    selection: Selection = field(default_factory=Selection)
    baseline: Baseline | None = None
    suppressions: Mapping[str, Any] = field(default_factory=dict)
    heed_suppressions: bool = True


def submitted(catalog: Catalog) -> Submission:
    """The submission that the body holds. An object with a member ``plan`` is an envelope. Raises Problem."""
    return submission_in(json_body(), catalog)


def submission_in(value: Any, catalog: Catalog) -> Submission:
    """The submission that the value of a body is. Raises Problem."""
    if not (isinstance(value, dict) and "plan" in value):
        return Submission(value, ROOT, settings().max_findings)
    return submission_of(value, catalog)


def submission_of(value: dict[str, Any], catalog: Catalog) -> Submission:
    """The submission that an envelope is. Raises Problem."""
    most = settings().max_findings
    faults = [*unknown(value, FIELDS, ROOT), *option_faults(value.get("options", {}), most, catalog)]
    if not isinstance(value.get("suppressions", {}), dict):
        faults.append(fault(ROOT / "suppressions", "wrong-type", "an object of suppressions by id was wanted"))
    if faults:
        raise Problem(INVALID_REQUEST, "The plan's envelope is not as it is taken here.", faults)
    options = value.get("options", {})
    return Submission(
        plan=value["plan"],
        at=ROOT / "plan",
        max_findings=options.get("max_findings", most),
        selection=selection_of(options),
        baseline=_baseline(value["baseline"]) if "baseline" in value else None,
        suppressions=value.get("suppressions", {}),
        heed_suppressions=not options.get("show_accepted", False),
    )


def selection_of(options: Mapping[str, Any]) -> Selection:
    """The selection that sound options make."""
    severities = tuple(Severity(each) for each in options.get("severities", ()))
    rules, ignore, rooms = (tuple(options.get(name, ())) for name in ("rules", "ignore", "rooms"))
    return Selection(rules, ignore, severities, rooms)


def _baseline(value: Any) -> Baseline:
    try:
        return read_baseline(value)
    except PlanRefused as refused:
        faults = [fault_value(each, ROOT / "baseline") for each in refused.faults]
        raise Problem(INVALID_REQUEST, "The baseline is not as it is taken here.", faults) from None


def option_faults(options: Any, most: int, catalog: Catalog, at: Pointer = ROOT / "options") -> Iterator[dict[str, str]]:
    """What is wrong with the options of a check."""
    if not isinstance(options, dict):
        yield fault(at, "wrong-type", "an object was wanted")
        return
    yield from unknown(options, OPTIONS, at)
    wanted = options.get("max_findings", most)
    if type(wanted) is not int or not 1 <= wanted <= most:
        yield fault(at / "max_findings", "bad-value", f"a whole number from 1 to {most} was wanted")
    if type(options.get("show_accepted", False)) is not bool:
        yield fault(at / "show_accepted", "wrong-type", "true or false was wanted")
    rules = {*catalog.rules, *(rule.family for rule in catalog.rules.values())}
    for name, known in (
        ("rules", rules),
        ("ignore", rules),
        ("severities", {each.value for each in Severity}),
        ("rooms", None),
    ):
        yield from _names(options.get(name, []), at / name, known)


def _names(value: Any, at: Pointer, known: set[str] | None) -> Iterator[dict[str, str]]:
    if not isinstance(value, list) or len(value) > MOST_NAMES:
        yield fault(at, "wrong-type", f"a list of at most {MOST_NAMES} texts was wanted")
        return
    for number, name in enumerate(value):
        if not isinstance(name, str):
            yield fault(at / number, "wrong-type", "a text was wanted")
        elif known is not None and name not in known:
            yield fault(
                at / number, "bad-choice", f"there is no {name[:80]!r} here; did you mean {nearest(name[:80], known)!r}?"
            )


def unknown(value: Mapping[str, Any], known: tuple[str, ...], at: Pointer) -> Iterator[dict[str, str]]:
    """A fault for each field that is not known."""
    for key in value:
        if key not in known:
            detail = f"there is no field {key[:40]!r} here; known are {', '.join(known)}"
            yield fault(at / key[:200], "unknown-field", detail)


def fault(at: Pointer, code: str, detail: str) -> dict[str, str]:
    """One error of a request, as a problem lists it."""
    return {"pointer": at, "code": code, "detail": detail}
