"""Whether a small supply suffices: recreational vehicles, park trailers, manufactured homes, feeders to a small house.

Each regime asks by its own article: vehicles by the number of circuits, the others by amperes on each leg.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nailplate.calc.loads.items import LoadKind
from nailplate.calc.loads.legs import BOTH_LEGS_FROM
from nailplate.calc.loads.movable import leg_currents
from nailplate.calc.loads.supply import CircuitUse, Regime, SmallSupply, needs_both_legs
from nailplate.calc.overcurrent import next_standard
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Edition
from nailplate.units import Amperes, amperes, count, reaches, within


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallSupplyFigures:
    """The answer. ``smallest`` is None where no cord or assembly is large enough: a permanent feeder then."""

    legs: tuple[Amperes, ...]
    fits: bool
    smallest: Amperes | None
    by: str
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class _Choice:
    """The smallest supply, the section that decides, and whether it has two legs."""

    rating: Amperes | None
    by: str
    two_legs: bool


def small_supply(asked: SmallSupply, edition: Edition) -> SmallSupplyFigures:
    """Whether the supply suffices. Raises CalculationError for figures that make no sense or a size that is missing."""
    if not asked.rating > 0:
        raise CalculationError("the supply's rating lies over 0")
    legs, steps = leg_currents(asked, edition)
    choice = _choice(asked, max(legs), edition)
    reasons = list(_reasons(asked, choice))
    return SmallSupplyFigures(
        legs=tuple(Amperes(leg) for leg in legs),
        fits=not reasons,
        smallest=choice.rating,
        by=choice.by,
        reasons=tuple(reasons),
        cautions=tuple(_cautions(asked, max(legs))),
        steps=(*steps, Step("branch circuits", count(len(asked.circuits)), choice.by), *_leg_steps(legs, edition)),
    )


def _leg_steps(legs: Sequence[float], edition: Edition) -> Iterator[Step]:
    for name, leg in zip("AB", legs, strict=False):
        yield Step(f"leg {name}", amperes(leg), edition.movable_homes.cite)


# What decides


def _choice(asked: SmallSupply, highest: float, edition: Edition) -> _Choice:
    match asked.regime:
        case Regime.RECREATIONAL_VEHICLE:
            return _by_count(asked, edition, edition.movable_homes.vehicle_cite)
        case Regime.PARK_TRAILER:
            return _park_trailer(asked, highest, edition)
        case Regime.MANUFACTURED_HOME:
            return _manufactured(asked, highest, edition)
        case Regime.VEHICLE_PARK:
            sites = edition.movable_homes.sites
            rating = next_standard(Amperes(max(highest, sites.least_feeder)), edition.overcurrent)
            return _Choice(rating, sites.cite, two_legs=asked.two_legs)
        case Regime.FEEDER:
            return _Choice(next_standard(Amperes(highest), edition.overcurrent), "215.2(A)", two_legs=asked.two_legs)


def _by_count(asked: SmallSupply, edition: Edition, cite: str) -> _Choice:
    """By the number of circuits: one takes a supply of its own rating, up to five the small assembly, more the large one."""
    table = edition.movable_homes
    counted = [circuit for circuit in asked.circuits if circuit.use is not CircuitUse.CONVERTER or len(asked.circuits) == 1]
    if len(counted) == 1 and not _needs_two_legs(asked):
        return _Choice(counted[0].rating, cite, two_legs=False)
    few = len(counted) <= table.vehicle_most_circuits or asked.energy_management
    if few and not _needs_two_legs(asked) and not _too_many_thermostats(asked, edition):
        return _Choice(table.small_assembly, cite, two_legs=False)
    return _Choice(table.large_assembly, cite, two_legs=True)


def _park_trailer(asked: SmallSupply, highest: float, edition: Edition) -> _Choice:
    table = edition.movable_homes
    by_count = _by_count(asked, edition, "552.46")
    if not by_count.two_legs:
        return by_count
    rating = table.large_assembly if within(highest, table.large_assembly) else None
    return _Choice(rating, table.park_trailer_cite, two_legs=True)


def _manufactured(asked: SmallSupply, highest: float, edition: Edition) -> _Choice:
    table = edition.movable_homes
    cord = table.manufactured_gas_cord if asked.gas_heat_and_cooking else table.manufactured_cord
    if within(highest, cord):
        return _Choice(cord, "550.10(A)", two_legs=True)
    return _Choice(
        table.manufactured_cord if within(highest, table.manufactured_cord) else None, table.manufactured_cite, two_legs=True
    )


def _needs_two_legs(asked: SmallSupply) -> bool:
    lines = any(reaches(circuit.voltage, BOTH_LEGS_FROM) or circuit.multiwire for circuit in asked.circuits)
    return lines or any(needs_both_legs(placed.load) for placed in asked.loads)


def _too_many_thermostats(asked: SmallSupply, edition: Edition) -> bool:
    kinds = (LoadKind.AIR_CONDITIONER, LoadKind.HEAT_PUMP, LoadKind.HEAT, LoadKind.WATER_HEATER)
    number = sum(placed.load.count for placed in asked.loads if placed.load.kind in kinds)
    return number > edition.movable_homes.vehicle_most_thermostatic and not asked.energy_management


def _reasons(asked: SmallSupply, choice: _Choice) -> Iterator[str]:
    """Why the supply does not suffice."""
    if not asked.two_legs:
        for circuit in asked.circuits:
            if reaches(circuit.voltage, BOTH_LEGS_FROM):
                yield f"a {circuit.voltage:g} V circuit cannot run from a 120 V supply"
        if any(circuit.multiwire for circuit in asked.circuits):
            yield "on a 120 V supply both halves of a multiwire circuit are on one leg: its neutral carries their sum"
        for placed in asked.loads:
            if needs_both_legs(placed.load):
                yield f"{placed.load.called} needs 240 V; the supply gives 120 V"
        if choice.two_legs and choice.rating is not None:
            yield f"{choice.by} requires {choice.rating:g} A at 120/240 V"
    if choice.rating is None:
        yield f"{choice.by}: no cord is large enough; a permanent feeder is required"
    elif not reaches(asked.rating, choice.rating) and (asked.two_legs or not choice.two_legs):
        yield f"{choice.by} requires {choice.rating:g} A; the supply gives {asked.rating:g} A"


def _cautions(asked: SmallSupply, highest: float) -> Iterator[str]:
    if asked.regime in (Regime.RECREATIONAL_VEHICLE, Regime.PARK_TRAILER) and not within(highest, asked.rating):
        yield (
            f"the load comes to {highest:.1f} A where the supply gives {asked.rating:g} A: the number of circuits decides, "
            "but not everything can run together"
        )
    if any(circuit.multiwire for circuit in asked.circuits) and asked.two_legs:
        yield "an adapter that feeds both legs from one 120 V supply makes a multiwire circuit's neutral carry the sum"
