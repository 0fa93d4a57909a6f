"""The standard method for a dwelling: the parts of the load, each by the demand that its section allows."""

from collections.abc import Iterator, Sequence

from nailplate.calc.loads.climate import kept, motors_kept
from nailplate.calc.loads.cooking import cooking_demand, in_table
from nailplate.calc.loads.general import after_demand
from nailplate.calc.loads.items import CLIMATE, COOKING, Line, Load, LoadKind, of_kinds
from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition
from nailplate.units import reaches

_KILO = 1000.0
_PER_CENT = 100.0
_APART = (*COOKING, *CLIMATE, LoadKind.DRYER, LoadKind.EVSE)


def standard_lines(general: Sequence[Line], loads: Sequence[Load], edition: Edition) -> list[Line]:
    """Every line of the sum, after demand."""
    return [
        *_demand(general, edition),
        *_fastened(loads, edition),
        *_plugged_in(loads, edition),
        *_dryers(loads, edition),
        *_cooking(loads, edition),
        *kept(loads, edition),
        *_charging(loads, edition),
        *_largest_motor(loads, edition),
    ]


def _demand(general: Sequence[Line], edition: Edition) -> Iterator[Line]:
    table = edition.dwelling_load.demand
    load = after_demand(sum(line.load for line in general), table)
    yield Line(what="general load after demand", load=load, citation=table.cite, to_neutral=load)


def _bucket(loads: Sequence[Load]) -> list[Load]:
    return [load for load in loads if load.kind not in _APART]


def _fastened(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    """Appliances fastened in place; at four or more of them, large enough, their sum counts for three quarters."""
    table = edition.dwelling_load.fastened
    fastened = [load for load in _bucket(loads) if load.is_fastened]
    counted = [load for load in fastened if reaches(load.power, table.least_load)]
    number = sum(load.count for load in counted)
    share = table.share if number >= table.from_count else 1.0
    for load in fastened:
        part = share if load in counted else 1.0
        note = f"{number} fastened in place: x {part:g}" if part < 1.0 else ""
        yield _line(load, load.total * part, table.cite, note)


def _plugged_in(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    for load in _bucket(loads):
        if not load.is_fastened:
            note = "not fastened in place; often taken as part of the general load, which gives less"
            yield _line(load, load.total, edition.dwelling_load.cite, note)


def _dryers(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    table = edition.dwelling_load.dryers
    dryers = of_kinds(loads, [LoadKind.DRYER])
    number = sum(load.count for load in dryers)
    if not number:
        return
    last = max(table.percent)
    percent = table.percent.get(min(number, last))
    if percent is None:
        raise CalculationError(f"{number} dryers: not evaluated; that row of {table.cite} was not seen for NEC {edition.year}")
    load = sum(max(each.power, table.least) * each.count for each in dryers) * percent / _PER_CENT
    note = f"at least {table.least:g} VA each" + (f"; {number} dryers: {percent:g} %" if percent < _PER_CENT else "")
    yield Line(what="dryers", load=load, citation=table.cite, note=note, to_neutral=load, between_legs=True)


def _cooking(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    """Equipment over 1.75 kW by its table, smaller ones and those beyond the table by their nameplates."""
    table = edition.cooking
    ratings = [load.power / _KILO for load in of_kinds(loads, COOKING) for _ in range(load.count)]
    within_table = [rating for rating in ratings if in_table(rating, table)]
    outside = sum(rating for rating in ratings if not in_table(rating, table))
    if within_table:
        demand = cooking_demand(within_table, edition)
        load = demand.kilowatts * _KILO
        yield Line(what="cooking", load=load, citation=table.cite, note=demand.how, to_neutral=load, between_legs=True)
    if outside:
        note = f"nameplate: {table.cite} holds over {table.least_kw:g} and up to {table.largest_kw:g} kW"
        load = outside * _KILO
        yield Line(what="other cooking", load=load, citation=table.cite, note=note, to_neutral=load, between_legs=True)


def _charging(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    table = edition.dwelling_load.charging
    for load in of_kinds(loads, [LoadKind.EVSE]):
        least = table.least if not edition.holds("charging_nameplate_alone") or not load.power else 0.0
        note = f"at least {table.least:g} VA" if least else ""
        note = f"x {table.share:g}, a continuous load" if table.share > 1 else note
        yield _line(load, max(load.power, least) * load.count * table.share, table.cite, note)


def _largest_motor(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    table = edition.dwelling_load.motor
    motors = [*motors_kept(loads, edition), *(load for load in _bucket(loads) if load.is_motor)]
    if motors:
        largest = max(motors, key=lambda load: load.power)
        more = largest.power * table.share
        note = f"{largest.called}: x {table.share:g}"
        yield Line(
            what="largest motor",
            load=more,
            citation=table.cite,
            note=note,
            to_neutral=more if largest.loads_neutral else 0.0,
            between_legs=not largest.loads_neutral,
        )


def _line(load: Load, volt_amperes: float, cite: str, note: str) -> Line:
    name = load.called + (f" x {load.count}" if load.count > 1 else "")
    on_neutral = volt_amperes if load.loads_neutral else 0.0
    return Line(
        what=name, load=volt_amperes, citation=cite, note=note, to_neutral=on_neutral, between_legs=not load.loads_neutral
    )
