"""What the rules on vehicles, park trailers and manufactured homes share: their supply against what it must carry."""

from nailplate.calc.loads.small_supply import SmallSupplyFigures
from nailplate.calc.loads.supply import Regime
from nailplate.calc.steps import CalculationError
from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Job, Line, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.loads import movable_load
from nailplate.survey.names import name_of
from nailplate.units import Unit, amperes, reaches, shown, within


def judged_supply(supply: Supply, job: Job, regime: Regime) -> Outcome:
    """The supply against what its regime asks for; a permanent feeder from elsewhere against the load by legs alone."""
    permanent = supply.kind is SupplyKind.FEEDER and not supply.knows("starts_at") and regime is not Regime.RECREATIONAL_VEHICLE
    if supply.kind is not SupplyKind.CORD_INLET and not permanent:
        return NotConcerned()
    try:
        found = movable_load(job.survey, supply, regime, job.edition)
    except CalculationError as error:
        return Undetermined((supply.pointer,), f"The load of {name_of(supply)} is not evaluated: {error}.")
    return _of_feeder(supply, found, regime, job) if permanent else _told(supply, found, regime)


def _of_feeder(supply: Supply, found: SmallSupplyFigures, regime: Regime, job: Job) -> Outcome:
    if regime is Regime.MANUFACTURED_HOME and not reaches(supply.rating, job.amperes("manufactured_home_feeder")):
        return _under_least(supply, job)
    measured, limit = amperes(max(found.legs)), amperes(supply.rating)
    if within(max(found.legs), supply.rating):
        return Pass(measured, limit)
    return Violation(
        f"{name_of(supply)} is rated {shown(limit)}; its heavier leg carries {shown(measured)}.",
        measured,
        limit,
        (Remedy("Use a larger feeder, or move load to the other leg or to another fuel."),),
        _lines(found),
    )


def _under_least(supply: Supply, job: Job) -> Violation:
    measured, limit = amperes(supply.rating), job.measure("manufactured_home_feeder")
    return Violation(
        f"{name_of(supply)} is rated {shown(measured)}; a permanent feeder to a manufactured home is {shown(limit)} or more.",
        measured,
        limit,
        (Remedy("Use a feeder of 100 A or more."),),
    )


def _told(supply: Supply, found: SmallSupplyFigures, regime: Regime) -> Outcome:
    highest = max(found.legs)
    measured, limit = amperes(highest), amperes(supply.rating)
    if found.fits:
        return Pass(measured, limit)
    by_load = not within(highest, supply.rating)
    wanted = f"Use a {found.smallest:g} A supply" if found.smallest is not None else "Plan a permanent feeder"
    return Violation(
        f"{name_of(supply)}, {shown(limit)}, does not suffice: {'; '.join(found.reasons)}.",
        measured if by_load else None,
        limit if by_load else None,
        (Remedy(f"{wanted}, or fewer circuits and loads{_managed(regime)}."),),
        _lines(found),
    )


def _managed(regime: Regime) -> str:
    return ", or a system that holds the load to the supply" if regime is Regime.RECREATIONAL_VEHICLE else ""


def _lines(found: SmallSupplyFigures) -> tuple[Line, ...]:
    return tuple(
        Line(each.what, 1, each.measure, each.measure, each.citation)
        for each in found.steps
        if each.measure.unit is Unit.AMPERE
    )
