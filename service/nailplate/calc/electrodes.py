"""Grounding electrode conductors, and the conductors of a whole dwelling's service or feeder."""

from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.ampacity import smallest_size
from nailplate.calc.steps import CalculationError, Step, looked_up
from nailplate.codes import Column, Edition, Material
from nailplate.units import Amperes, Measure, Unit, reaches, within


class ElectrodeKind(StrEnum):
    """What a grounding electrode conductor ends at, as far as its size asks."""

    ROD = "rod"
    CONCRETE_ENCASED = "concrete_encased"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class ElectrodeConductor:
    """The smallest copper conductor, and how it was found."""

    size: str
    steps: tuple[Step, ...]


def electrode_conductor(
    supply_size: str,
    edition: Edition,
    material: Material = Material.COPPER,
    kind: ElectrodeKind = ElectrodeKind.OTHER,
) -> ElectrodeConductor:
    """The smallest copper conductor to an electrode, for supply conductors of ``supply_size`` and ``material``.

    The limits of rods and concrete-encased electrodes hold where the conductor connects to nothing else.
    """
    table = edition.electrode_conductors
    rows = table.supply_copper if material is Material.COPPER else table.supply_aluminum
    area = circular_mils(supply_size, edition)
    row = next((index for index, largest in enumerate(rows) if within(area, circular_mils(largest, edition))), len(rows))
    size = table.copper[row]
    steps = [_step("circular mils of the supply conductor", area, table.cite, f"{size} copper by its row")]
    cap = {ElectrodeKind.ROD: table.rod, ElectrodeKind.CONCRETE_ENCASED: table.concrete_encased}.get(kind)
    if cap and edition.conductors.larger(size, cap.copper):
        steps.append(
            _step("circular mils of the largest that is required", circular_mils(cap.copper, edition), cap.cite, cap.copper)
        )
        size = cap.copper
    return ElectrodeConductor(size=size, steps=tuple(steps))


def dwelling_conductor(rating: Amperes, edition: Edition, material: Material = Material.COPPER) -> tuple[str | None, Amperes]:
    """The smallest size, 75 degC, that carries a whole dwelling's load behind ``rating``, and the ampacity it needs.

    Raises CalculationError for ratings that the section's relief does not reach.
    """
    table = edition.dwelling_conductors
    if not (reaches(rating, table.least) and within(rating, table.largest)):
        raise CalculationError(f"{rating:g} A: {table.cite} holds from {table.least:g} to {table.largest:g} A")
    needed = Amperes(rating * table.share)
    return smallest_size(needed, material, Column.C75, edition), needed


def largest_dwelling_rating(carried: Amperes, edition: Edition) -> Amperes | None:
    """The largest standard rating behind which conductors of this ampacity may carry one whole dwelling; None under the least."""
    table = edition.dwelling_conductors
    ratings = [
        each for each in edition.overcurrent.standard_ratings if reaches(each, table.least) and within(each, table.largest)
    ]
    return next((rating for rating in reversed(ratings) if reaches(carried, rating * table.share)), None)


def circular_mils(size: str, edition: Edition) -> float:
    """The area of a wire size; large ones carry it in their name."""
    number, _, unit = size.partition(" ")
    if unit == "kcmil" and number.isdecimal():
        return 1000.0 * int(number)
    return looked_up(edition.conductors.area, size, "wire size")


def _step(what: str, mils: float, cite: str, note: str) -> Step:
    return Step(what, Measure(mils, Unit.COUNT), cite, note)
