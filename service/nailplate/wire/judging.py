"""From a plan's JSON value to its report: the one way of service, command line and batch."""

from collections.abc import Mapping
from typing import Any

from nailplate.catalog import Catalog
from nailplate.plan import ROOT, Fault, FaultCode, PlanRefused
from nailplate.review import Options, Report, check
from nailplate.wire.guarded import guarded
from nailplate.wire.reading import plan_digest, read_plan_value


def report_on(value: Any, catalog: Catalog, options: Options, suppressions: Mapping[str, Any] | None = None) -> Report:
    """The report on the plan that ``value`` is, with suppressions beside its own. Raises PlanRefused and SelectionError."""
    whole = with_suppressions(value, suppressions) if suppressions else value
    return guarded(check(read_plan_value(whole), catalog, options, plan_digest(value)), value)


def with_suppressions(value: Any, suppressions: Mapping[str, Any]) -> Any:
    """The plan with suppressions that stand beside it. Raises PlanRefused where it has one of the same id."""
    own = value.get("suppressions", {}) if isinstance(value, dict) else None
    if not isinstance(own, dict):
        return value
    doubled = [name for name in suppressions if name in own]
    if doubled:
        said = "the plan has a suppression of the same id as the one beside it"
        raise PlanRefused(tuple(Fault(ROOT / "suppressions" / name, FaultCode.BAD_ID, said) for name in doubled))
    return {**value, "suppressions": {**own, **suppressions}}
