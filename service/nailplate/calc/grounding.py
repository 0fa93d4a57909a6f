"""The smallest equipment grounding conductor of a circuit, enlarged with the circuit's own conductors."""

from dataclasses import dataclass

from nailplate.calc.steps import CalculationError, Step, looked_up
from nailplate.codes import Edition, Material
from nailplate.units import Amperes, Measure, Unit, amperes, reaches, within


@dataclass(frozen=True, slots=True)
class Upsized:
    """Ungrounded conductors larger than the smallest that would do: the size they could have and the size they have."""

    least: str
    used: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundingConductor:
    """``size`` is what is needed, ``by_table`` what the overcurrent device alone would ask for."""

    size: str
    by_table: str
    steps: tuple[Step, ...]


def grounding_conductor(
    overcurrent: Amperes,
    edition: Edition,
    *,
    material: Material = Material.COPPER,
    upsized: Upsized | None = None,
    circuit_size: str | None = None,
) -> GroundingConductor:
    """By the table, in proportion to ``upsized`` conductors, and never larger than those of the circuit (``circuit_size``)."""
    table = edition.grounding
    rating = next((each for each in table.of(material) if within(overcurrent, each)), None)
    if not overcurrent > 0 or rating is None:
        raise CalculationError(f"{table.cite} has no conductor for an overcurrent device of {overcurrent:g} A")
    base = table.of(material)[rating]
    size = _enlarged(base, upsized, edition) if upsized else base
    own = circuit_size or (upsized.used if upsized else None)
    capped = _not_larger(size, own, edition)
    return GroundingConductor(size=capped, by_table=base, steps=_steps(rating, base, size, capped, upsized, edition))


def _area(size: str, edition: Edition) -> float:
    return looked_up(edition.conductors.area, size, "wire size")


def _ratio(upsized: Upsized, edition: Edition) -> float:
    return max(1.0, _area(upsized.used, edition) / _area(upsized.least, edition))


def _enlarged(base: str, upsized: Upsized, edition: Edition) -> str:
    """250.122(B). The ratio is not rounded: several cases lie within a tenth of a percent of a size."""
    wanted = _area(base, edition) * _ratio(upsized, edition)
    found = next((size for size, area in edition.conductors.area.items() if reaches(area, wanted)), None)
    if found is None:
        raise CalculationError(f"no conductor of {wanted:.0f} circular mils stands in the table")
    return found


def _not_larger(size: str, own: str | None, edition: Edition) -> str:
    """250.122(A)."""
    return own if own is not None and _area(own, edition) < _area(size, edition) else size


def _steps(rating: int, base: str, size: str, capped: str, upsized: Upsized | None, edition: Edition) -> tuple[Step, ...]:
    cite = edition.grounding.cite
    steps = [Step(f"{base} by the table, for overcurrent devices up to", amperes(rating), cite)]
    if upsized:
        note = f"{upsized.used} where {upsized.least} would do; {size}"
        steps.append(
            Step("enlarged with the circuit's conductors by", Measure(_ratio(upsized, edition), Unit.COUNT), f"{cite}(B)", note)
        )
    if capped != size:
        steps.append(
            Step(
                "circular mils of the circuit's own conductors",
                Measure(_area(capped, edition), Unit.COUNT),
                f"{cite}(A)",
                capped,
            )
        )
    return tuple(steps)
