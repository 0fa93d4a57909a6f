"""How the plans of one command are checked: everything that a working process needs, and the check of one plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from nailplate.catalog import Catalog, catalog
from nailplate.cli.basis import Local, with_basis
from nailplate.cli.sources import Source
from nailplate.plan import ROOT, Fault, FaultCode, Plan, PlanRefused
from nailplate.review import Options, Report, Selection
from nailplate.review.selection import EVERYTHING
from nailplate.wire import NotJson, read_baseline, read_json, read_plan_value, report_on


@dataclass(frozen=True, kw_only=True)
class Settings:
    """What the options of a command say, whatever the plan."""

    today: str
    packs: tuple[str, ...] = ()
    selection: Selection = EVERYTHING
    heed_suppressions: bool = True
    max_findings: int = 1000
    edition: str | None = None
    permit_date: str | None = None
    amendments: tuple[Local, ...] = ()
    suppressions: Mapping[str, Any] | None = None
    baseline: Any = None
    """The JSON value of a baseline, of one plan or several."""


Judged = tuple[Report | None, tuple[Fault, ...]]
"""A report, or the faults for which there is none."""


@cache
def in_force(packs: tuple[str, ...]) -> Catalog:
    """The rule packs, read once a process."""
    return catalog(packs)


def judged(piece: tuple[Source, Settings]) -> Judged:
    """The check of one source."""
    source, settings = piece
    try:
        return report_of(read_json(source.read()), settings, source.name), ()
    except OSError as error:
        return None, (Fault(ROOT, FaultCode.NO_FILE, error.strerror or str(error)),)
    except NotJson as error:
        return None, (Fault(error.pointer, FaultCode.NOT_JSON, f"not JSON: {error}"),)
    except PlanRefused as refused:
        return None, refused.faults


def report_of(value: Any, settings: Settings, name: str) -> Report:
    """The report on the plan that ``value`` is. Raises PlanRefused."""
    by_law = with_basis(value, settings.edition, settings.permit_date, settings.amendments)
    options = Options(
        today=settings.today,
        max_findings=settings.max_findings,
        selection=settings.selection,
        baseline=None if settings.baseline is None else read_baseline(settings.baseline, name),
        heed_suppressions=settings.heed_suppressions,
    )
    return report_on(by_law, in_force(settings.packs), options, settings.suppressions)


def plan_in(source: Source) -> Plan | None:
    """The plan of one source once more, for who draws it; None where it cannot be read any longer."""
    try:
        return read_plan_value(read_json(source.read()))
    except (OSError, NotJson, PlanRefused):
        return None


def lost(piece: tuple[Source, Settings]) -> Judged:
    """The result of a plan whose process died twice, for want of memory perhaps."""
    return None, (Fault(ROOT, FaultCode.LIMIT_EXCEEDED, "the process that checked this plan ended before it was done"),)
