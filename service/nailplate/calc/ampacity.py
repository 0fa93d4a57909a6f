"""What a conductor may carry where it lies: the table's figure, corrected, adjusted, and capped by cable and terminals."""

from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.steps import CalculationError, Step, looked_up
from nailplate.codes import Column, Edition, Material
from nailplate.codes.tables import AmbientCorrection
from nailplate.records import record
from nailplate.units import Amperes, Celsius, Measure, Unit, amperes, within


class Method(StrEnum):
    """The wiring method, as far as ampacity asks."""

    NM_B = "NM-B"
    UF_B = "UF-B"
    SE = "SE"
    RACEWAY = "raceway"


_ADJUSTED_FROM = 4
_TABLE_AMBIENT = Celsius(30.0)  # what the ampacity table is made for


@record(frozen=True, slots=True, kw_only=True)
class ConductorUse:
    """A conductor and where it lies. ``current_carrying`` counts all that lie together without spacing, this one too.

    ``insulation`` left out: what the code gives for the cable, else the lowest column. ``terminations`` left out: what
    110.14(C)(1) allows without a listing.
    """

    size: str
    material: Material = Material.COPPER
    method: Method | None = None
    insulation: Column | None = None
    ambient: Celsius = _TABLE_AMBIENT
    current_carrying: int = 1
    terminations: Column | None = None
    in_thermal_insulation: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AmpacityFigures:
    """``derated`` is table value times both factors; ``ampacity`` is what may be used, ``limited_by`` the section behind it.

    ``before_factors`` is what table and limits give without correction and adjustment. A ``correction`` of 0 means that the
    insulation may not be used at that temperature.
    """

    table_value: Amperes
    correction: float
    adjustment: float
    before_factors: Amperes
    derated: Amperes
    ampacity: Amperes
    limited_by: str
    steps: tuple[Step, ...]


@record(frozen=True, slots=True)
class _Cap:
    """A column that the ampacity may not exceed."""

    what: str
    value: Amperes
    cite: str
    column: Column


def usable_ampacity(use: ConductorUse, edition: Edition) -> Amperes:
    """The figure that ``ampacity`` comes to, without the way there; kept by the edition."""
    return edition.once(_usable_ampacity, use)


def _usable_ampacity(use: ConductorUse, edition: Edition) -> Amperes:
    return Amperes(min(_derated(use, edition)[-1], min(cap.value for cap in _caps(use, edition))))


def _derated(use: ConductorUse, edition: Edition) -> tuple[Column, Amperes, float, float, Amperes]:
    """The column that counting starts from, its figure, both factors, and what they make of it."""
    if use.current_carrying < 1:
        raise CalculationError("at least one conductor carries current: the one that is asked about")
    start = _starting_column(use, edition)
    table_value = table_ampacity(use.size, use.material, start, edition)
    correction = correction_factor(use.ambient, start, edition.ambient_correction)
    adjustment = adjustment_factor(use.current_carrying, edition)
    return start, table_value, correction, adjustment, Amperes(table_value * correction * adjustment)


def ampacity(use: ConductorUse, edition: Edition) -> AmpacityFigures:
    """The usable ampacity of ``use`` under ``edition``, with every figure on the way."""
    start, table_value, correction, adjustment, derated = _derated(use, edition)
    caps = _caps(use, edition)
    tightest = min(caps, key=lambda cap: cap.value)
    usable = Amperes(min(derated, tightest.value))
    return AmpacityFigures(
        table_value=table_value,
        correction=correction,
        adjustment=adjustment,
        before_factors=Amperes(min(table_value, tightest.value)),
        derated=derated,
        ampacity=usable,
        limited_by=_limiting_section(table_value, derated, tightest, correction, edition),
        steps=(
            Step("table ampacity", amperes(table_value), edition.ampacity.cite, _start_note(use, start)),
            Step("ambient correction", _factor(correction), edition.ambient_correction.cite, _ambient_note(use, correction)),
            Step("adjustment", _factor(adjustment), edition.adjustment.cite, _together_note(use, edition)),
            Step("derated ampacity", amperes(derated), edition.ampacity.cite, "table value x correction x adjustment"),
            *(Step(cap.what, amperes(cap.value), cap.cite, f"{cap.column} column") for cap in caps),
            Step("usable ampacity", amperes(usable), edition.ampacity.cite, "the least of derated and limits"),
        ),
    )


def table_ampacity(size: str, material: Material, column: Column, edition: Edition) -> Amperes:
    """The table's figure for ``size``."""
    row = edition.ampacity.of(material)[column]
    if size in row:
        return row[size]
    what = f"{material.replace('_', '-')} conductor size with an ampacity"
    return looked_up(row, size, what, _restricted(size, material, edition))


def _restricted(size: str, material: Material, edition: Edition) -> str:
    """What there is to say of a size smaller than those of general wiring."""
    small = edition.small_conductors
    if size in small.of(material):
        limit = small.of(material)[size]
        return f"{size} is for restricted uses only, behind at most {limit:g} A and a device marked for it ({small.cite})"
    unseen = edition.holds("small_wire_in_more_uses") and material is not Material.ALUMINUM and size in edition.conductors.area
    return f"what NEC {edition.year} allows for {size} was not seen" if unseen else ""


def correction_factor(ambient: Celsius, column: Column, table: AmbientCorrection) -> float:
    """The factor of the first row that reaches ``ambient``; 0 above the last, where the column may not be used."""
    return next((factor for limit, factor in table.factors[column].items() if within(ambient, limit)), 0.0)


def adjustment_factor(current_carrying: int, edition: Edition) -> float:
    """The factor for so many current-carrying conductors lying together."""
    factors = [factor for least, factor in edition.adjustment.from_count.items() if current_carrying >= least]
    if not factors:
        raise CalculationError(f"the adjustment table has no row for {current_carrying} current-carrying conductors")
    return factors[-1]


def smallest_size(current: Amperes, material: Material, column: Column, edition: Edition) -> str | None:
    """The smallest size whose table ampacity reaches ``current``; None if none does."""
    row = edition.ampacity.of(material)[column]
    return next((size for size in edition.conductors.rising(row) if within(current, row[size])), None)


def _starting_column(use: ConductorUse, edition: Edition) -> Column:
    if use.insulation:
        return use.insulation
    cable = edition.temperature_limits.cables.get(use.method) if use.method else None
    return (cable.insulation if cable else None) or Column.C60


def _caps(use: ConductorUse, edition: Edition) -> list[_Cap]:
    limits = edition.temperature_limits
    column = use.terminations or _unlisted_terminations(use, edition)
    caps = [_Cap("limit of the terminations", table_ampacity(use.size, use.material, column, edition), limits.cite, column)]
    cable = limits.cables.get(use.method) if use.method else None
    if cable is None or (cable.only_in_thermal_insulation and not use.in_thermal_insulation):
        return caps
    if cable.up_to and edition.conductors.larger(use.size, cable.up_to):
        return caps
    value = table_ampacity(use.size, use.material, cable.column, edition)
    return [*caps, _Cap(f"limit of {use.method} cable", value, cable.cite, cable.column)]


def _unlisted_terminations(use: ConductorUse, edition: Edition) -> Column:
    rule = edition.temperature_limits.terminations
    return rule.large if edition.conductors.larger(use.size, rule.small_up_to) else rule.small


def _limiting_section(table_value: float, derated: float, tightest: _Cap, correction: float, edition: Edition) -> str:
    if tightest.value < derated:
        return tightest.cite
    if derated >= table_value:
        return edition.ampacity.cite
    return edition.adjustment.cite if correction >= 1 else edition.ambient_correction.cite


def _start_note(use: ConductorUse, start: Column) -> str:
    known = use.insulation or use.method in (Method.NM_B, Method.UF_B)
    return f"{start} column" + ("" if known else "; the insulation is not stated, so the lowest column is taken")


def _ambient_note(use: ConductorUse, correction: float) -> str:
    return f"at {use.ambient:g} degC" + ("" if correction else ": this insulation may not be used so hot")


def _together_note(use: ConductorUse, edition: Edition) -> str:
    """How many, and what counts as lying together: 310.15(C)(1), and 334.80 for nonmetallic-sheathed cable."""
    said = f"{use.current_carrying} current-carrying"
    if use.current_carrying < _ADJUSTED_FROM:
        return said
    said += "; they count where they run together without spacing for more than 24 in"
    if use.method not in (Method.NM_B, Method.UF_B):
        return said
    said += ", and of more than two cables in a sealed opening of wood framing or in thermal insulation at any length (334.80)"
    barred = "either" if edition.holds("insulation_bars_short_run_exception") else "the sealed opening"
    return f"{said}; the exception for 10 ft and 10 % of the run is barred for {barred}"


def _factor(value: float) -> Measure:
    return Measure(value, Unit.COUNT)
