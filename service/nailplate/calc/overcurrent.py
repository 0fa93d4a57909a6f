"""The largest overcurrent device that may guard a conductor or an appliance."""

from dataclasses import dataclass

from nailplate.calc.ampacity import table_ampacity
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Column, Edition, Material
from nailplate.codes.tables import Overcurrent
from nailplate.records import record
from nailplate.units import Amperes, amperes, reaches, within


@record(frozen=True, slots=True)
class OvercurrentLimit:
    """The largest rating and the section that sets it; None where no standard rating is small enough."""

    rating: Amperes | None
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaxOvercurrent:
    """The limit where the next size up is allowed, and the one for circuits of several receptacles for cord-and-plug loads."""

    next_size_up: OvercurrentLimit
    cord_and_plug_receptacles: OvercurrentLimit
    steps: tuple[Step, ...]


def max_overcurrent(ampacity: Amperes, size: str, material: Material, edition: Edition) -> MaxOvercurrent:
    """The largest device for a conductor of ``size`` whose usable ampacity is ``ampacity``.

    240.4(D) is applied always; taps and the equipment of 240.4(E) and (G) have rules of their own that are not looked at here.
    """
    up, down, small = _limits(ampacity, size, material, edition)
    return MaxOvercurrent(
        next_size_up=_limited(up.rating, up.by, small, edition),
        cord_and_plug_receptacles=_limited(down.rating, down.by, small, edition),
        steps=_steps(ampacity, up, down, small, edition),
    )


def largest_overcurrent(
    ampacity: Amperes, size: str, material: Material, edition: Edition, *, several_receptacles: bool
) -> OvercurrentLimit:
    """One of the limits that ``max_overcurrent`` gives, without the way there; kept by the edition."""
    return edition.once(_largest, ampacity, size, material, several_receptacles)


def _largest(
    ampacity: Amperes,
    size: str,
    material: Material,
    several_receptacles: bool,
    edition: Edition,
) -> OvercurrentLimit:
    up, down, small = _limits(ampacity, size, material, edition)
    chosen = down if several_receptacles else up
    return _limited(chosen.rating, chosen.by, small, edition)


def _limits(
    ampacity: Amperes, size: str, material: Material, edition: Edition
) -> tuple[OvercurrentLimit, OvercurrentLimit, Amperes | None]:
    """The standard ratings over and not over the ampacity, and the limit of a small conductor."""
    _refuse_negative(ampacity)
    # A size without an ampacity has no limit that could be told from "none needed".
    table_ampacity(size, material, Column.C90, edition)
    table = edition.overcurrent
    up = OvercurrentLimit(*rating_over(ampacity, table))
    down = OvercurrentLimit(rating_not_over(ampacity, table), table.cite)
    return up, down, edition.small_conductors.of(material).get(size)


def rating_over(ampacity: Amperes, table: Overcurrent) -> tuple[Amperes | None, str]:
    """The next standard rating at or over ``ampacity`` where that is allowed, else the one not over it, with the section."""
    if ampacity <= 0:
        return None, table.cite
    above = next_standard(ampacity, table)
    if above is not None and within(above, ampacity):
        return above, table.cite
    if above is not None and within(above, table.next_size_up.largest_rating):
        return above, table.next_size_up.cite
    return rating_not_over(ampacity, table), table.cite


def rating_not_over(ampacity: Amperes, table: Overcurrent) -> Amperes | None:
    """The largest standard rating that ``ampacity`` reaches; None below the smallest."""
    return next((rating for rating in reversed(table.standard_ratings) if reaches(ampacity, rating)), None)


def next_standard(current: Amperes, table: Overcurrent) -> Amperes | None:
    """The smallest standard rating that reaches ``current``; None above the largest."""
    return next((rating for rating in table.standard_ratings if reaches(rating, current)), None)


def appliance_overcurrent(current: Amperes, edition: Edition) -> OvercurrentLimit:
    """The largest device for one nonmotor appliance that is not marked with its own."""
    _refuse_negative(current)
    rule = edition.overcurrent.single_appliance
    if within(current, rule.small_current):
        return OvercurrentLimit(rule.small_rating, rule.cite)
    return OvercurrentLimit(next_standard(Amperes(current * rule.share_of_current), edition.overcurrent), rule.cite)


def _limited(rating: Amperes | None, by: str, small: Amperes | None, edition: Edition) -> OvercurrentLimit:
    if rating is None or small is None or not reaches(rating, small):
        return OvercurrentLimit(rating, by)
    return OvercurrentLimit(small, edition.small_conductors.cite)


def _steps(
    ampacity: Amperes, up: OvercurrentLimit, down: OvercurrentLimit, small: Amperes | None, edition: Edition
) -> tuple[Step, ...]:
    table = edition.overcurrent
    steps = [Step("usable ampacity", amperes(ampacity), edition.ampacity.cite)]
    if up.rating is not None:
        steps.append(Step("standard rating, next size up where allowed", amperes(up.rating), up.by, OUT_OF_SCOPE))
    if down.rating is not None:
        note = f"{table.next_size_up.cite} bars the next size up for several receptacles"
        steps.append(Step("largest standard rating not over the ampacity", amperes(down.rating), down.by, note))
    else:
        smallest = amperes(table.standard_ratings[0])
        steps.append(Step("smallest standard rating", smallest, table.cite, "over the ampacity: it may not guard receptacles"))
    if small is not None:
        steps.append(Step("limit of a small conductor", amperes(small), edition.small_conductors.cite))
    return tuple(steps)


OUT_OF_SCOPE = (
    "taps (240.4(E), 240.21), motors and cooling equipment (240.4(G)) have rules of their own and are out of scope here"
)


def _refuse_negative(current: float) -> None:
    if not current >= 0:
        raise CalculationError(f"a current of {current:g} A makes no sense here")
