"""What the rules on services and feeders share: the load that is required, and whether rating and conductors carry it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from nailplate.calc.loads.dwelling import DwellingFigures, counted_amperes
from nailplate.calc.loads.legs import LEG_VOLTAGE
from nailplate.calc.loads.readings import CHARGING_IN_POOL
from nailplate.calc.overcurrent import max_overcurrent, next_standard
from nailplate.calc.steps import CalculationError
from nailplate.plan import Supply, UnknownFact
from nailplate.plan.words import SupplyKind, SupplyVoltage
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Job, Judgement, Line, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.loads import (
    HouseLoad,
    carries_whole_dwelling,
    conductor_ampacity,
    house_load,
    load_needs,
    open_conductor_facts,
)
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, reaches, shown, volt_amperes, within

_CORDS = (30.0, 50.0)
"""Amperes of the cords and inlets that are sold for dwellings on wheels."""


def judged_places(supply: Supply, job: Job, *looks: tuple[str, Callable[[Supply, Job], Outcome]]) -> Iterator[Outcome]:
    """Each look at the supply; a fact that one of them lacks leaves the others their say."""
    for facet, look in looks:
        try:
            yield look(supply, job)
        except UnknownFact as missing:
            more = load_needs(job.survey, job.edition) if facet == "load" else ()
            yield Undetermined(tuple(dict.fromkeys((missing.pointer, *more))), facet=facet)
        except CalculationError as error:
            yield Undetermined((supply.pointer,), f"The load of {name_of(supply)} is not evaluated: {error}.", facet)


def load_against_rating(supply: Supply, job: Job) -> Outcome:
    """The dwelling's load by the standard method, or by the optional one where it is open, against the supply's rating."""
    found = house_load(job.survey, job.edition)
    standard = _counted(found.standard, supply)
    if within(standard, supply.rating):
        return Pass(amperes(standard), amperes(supply.rating), "load")
    if not carries_whole_dwelling(job.survey, supply):
        message = f"{name_of(supply)} carries a part of the house only; which loads those are cannot be told from the plan."
        return Undetermined((), message, "load")
    optional = _counted(found.optional, supply)
    least = job.edition.dwelling_load.optional.least_ampacity
    if reaches(supply.rating, least) and within(optional, supply.rating):
        return Pass(amperes(optional), amperes(supply.rating), "load")
    pooled = _charging_in_pool(found.optional, supply)
    if pooled is not None and reaches(supply.rating, least) and within(pooled, supply.rating):
        return _by_counting(supply, optional, pooled, found)
    return _too_small(supply, found, job)


def _charging_in_pool(figures: DwellingFigures, supply: Supply) -> float | None:
    """Amperes by the optional method with vehicle charging in the pool, where the edition is reported to take it out."""
    total = next((each.total for each in figures.others if each.what == CHARGING_IN_POOL), None)
    if total is None:
        return None
    one_leg = supply.voltage is SupplyVoltage.V120
    return counted_amperes(total / LEG_VOLTAGE if one_leg else figures.current * total / figures.total)


def _by_counting(supply: Supply, apart: float, pooled: float, found: HouseLoad) -> Judgement:
    """The words of 2026 were read in trade reports alone."""
    readings = (
        Reading(f"Vehicle charging counts in full beside the pool: {shown(amperes(apart))}.", "violation"),
        Reading(f"It counts in the pool, as before: {shown(amperes(pooled))}.", "pass"),
    )
    said = (
        f"How vehicle charging equipment counts by the optional method decides whether {name_of(supply)}, "
        f"{shown(amperes(supply.rating))}, carries the dwelling's load."
    )
    return Judgement(said, readings, amperes(apart), amperes(supply.rating), facet="load", lines=lines_of(found.optional))


def conductors_against_rating(supply: Supply, job: Job, *, relief: bool = True) -> Outcome:
    """The supply's conductors against what protects them, with the relief for a whole dwelling's from 100 to 400 A where it holds."""
    rating = supply.overcurrent if supply.knows("overcurrent") else supply.rating
    worst, best = (_suiting(supply, rating, job, best=best, relief=relief) for best in (False, True))
    if worst.enough:
        return Pass(amperes(worst.carried), amperes(worst.needed), "conductors")
    if not best.enough:
        return _too_thin(supply, rating, best)
    said = (
        f"By what is not said, the conductors of {name_of(supply)} carry {shown(amperes(worst.carried))} to "
        f"{shown(amperes(best.carried))}; at {shown(amperes(rating))} they must carry {shown(amperes(best.needed))} ({best.by})."
    )
    return Undetermined(open_conductor_facts(supply.conductors), said, "conductors")


@dataclass(frozen=True, slots=True)
class _Suiting:
    """What conductors carry and what they must, with the section, and whether that is enough."""

    carried: Amperes
    needed: Amperes
    by: str
    enough: bool


def _suiting(supply: Supply, rating: Amperes, job: Job, *, best: bool, relief: bool) -> _Suiting:
    table = job.edition.dwelling_conductors
    in_range = reaches(rating, table.least) and within(rating, table.largest)
    relieved = relief and in_range and carries_whole_dwelling(job.survey, supply)
    conductors = supply.conductors
    carried = conductor_ampacity(conductors, job.edition, best=best, whole_dwelling=relieved).ampacity
    if relieved:
        needed = Amperes(rating * table.share)
        return _Suiting(carried, needed, table.cite, reaches(carried, needed))
    limit = max_overcurrent(carried, conductors.size, conductors.material, job.edition).next_size_up
    return _Suiting(carried, rating, limit.by, limit.rating is not None and within(rating, limit.rating))


def lines_of(figures: DwellingFigures) -> tuple[Line, ...]:
    """The sum behind a load, line by line."""
    return tuple(Line(each.what, 1, volt_amperes(each.load), volt_amperes(each.load), each.citation) for each in figures.lines)


def _counted(figures: DwellingFigures, supply: Supply) -> float:
    """What one leg carries, all of it where there is but one; fractions of an ampere under one half are dropped."""
    return counted_amperes(figures.total / LEG_VOLTAGE if supply.voltage is SupplyVoltage.V120 else figures.current)


def _too_small(supply: Supply, found: HouseLoad, job: Job) -> Violation:
    load, optional = (_counted(figures, supply) for figures in (found.standard, found.optional))
    least = job.edition.dwelling_load.optional.least_ampacity
    open_to = "" if reaches(supply.rating, least) else f", which is open from {shown(amperes(least))} on"
    fits = next_standard(Amperes(load), job.edition.overcurrent)
    lofts = f" The loft counts: {', '.join(name_of(room) for room in found.area.lofts)}." if found.area.lofts else ""
    return Violation(
        f"The dwelling's load comes to {shown(amperes(load))} by the standard method ({shown(amperes(optional))} by the optional one"
        f"{open_to}); {name_of(supply)} is rated {shown(amperes(supply.rating))}.{lofts}",
        amperes(load),
        amperes(supply.rating),
        (_larger(supply, fits),),
        lines_of(found.standard),
        "load",
    )


def _larger(supply: Supply, fits: Amperes | None) -> Remedy:
    """A cord is sold for 30 A and 50 A; what is over that takes a permanent feeder (common practice)."""
    other = "or move load to another fuel"
    if supply.kind is SupplyKind.CORD_INLET:
        cord = next((each for each in _CORDS if fits is not None and within(fits, each)), None)
        return Remedy(f"Use a {cord:g} A cord and inlet, {other}." if cord else f"Bring in a permanent feeder, {other}.")
    return at_supply(
        supply, f"Bring in a supply of at least {fits:g} A, {other}." if fits else f"Bring in a larger supply, {other}."
    )


def _too_thin(supply: Supply, rating: Amperes, best: _Suiting) -> Violation:
    wire = f"{supply.conductors.size} {supply.conductors.material.value.replace('_', '-')}"
    carried, needed = amperes(best.carried), amperes(best.needed)
    return Violation(
        f"The {wire} conductors of {name_of(supply)} carry {shown(carried)}; at {shown(amperes(rating))} they must carry "
        f"{shown(needed)} ({best.by}).",
        carried,
        needed,
        (at_supply(supply, "Use larger conductors, or a smaller overcurrent device if the load allows it."),),
        facet="conductors",
    )
