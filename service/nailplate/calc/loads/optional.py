"""The optional method for one dwelling unit: one pool of nameplates, and the largest of the heating and cooling figures."""

from collections.abc import Iterator, Sequence

from nailplate.calc.loads.items import CLIMATE, Line, Load, LoadKind, of_kinds
from nailplate.codes import Edition


def optional_lines(
    general: Sequence[Line], loads: Sequence[Load], edition: Edition, *, charging_apart: bool | None = None
) -> list[Line]:
    """Every line of the sum. Only for conductors of at least 100 A that carry the whole load of one dwelling.

    ``charging_apart`` counts vehicle charging equipment in full beside the pool; left out, as the edition has it.
    """
    table = edition.dwelling_load.optional
    apart = edition.holds("charging_outside_pool") if charging_apart is None else charging_apart
    charging = of_kinds(loads, [LoadKind.EVSE]) if apart else []
    pooled = sum(load.total for load in loads if counts_in_pool(load) and load not in charging)
    pool = sum(line.load for line in general) + pooled
    first = min(pool, table.first)
    lines = [
        Line(what=f"first {table.first:g} VA", load=first, citation=f"{table.cite}(B)", note=f"of {pool:g} VA by nameplate"),
        Line(
            what="rest of the pool",
            load=(pool - first) * table.share_of_rest,
            citation=f"{table.cite}(B)",
            note=f"x {table.share_of_rest:g}",
        ),
    ]
    if charging:
        total = sum(load.total for load in charging)
        lines.append(_between_legs("vehicle charging equipment", total, f"{table.cite}(D)", "100 % of the nameplate"))
    choices = list(climate_choices(loads, edition))
    if choices:
        lines.append(max(choices, key=lambda line: line.load))
    return lines


def counts_in_pool(load: Load) -> bool:
    """Heating and cooling stand apart; what is neither fastened nor on a circuit of its own is in the general load."""
    return load.kind not in CLIMATE and (load.kind in _ALWAYS or load.is_fastened or load.is_motor)


_ALWAYS = (LoadKind.RANGE, LoadKind.WALL_OVEN, LoadKind.COOKTOP, LoadKind.DRYER, LoadKind.EVSE)


def climate_choices(loads: Sequence[Load], edition: Edition) -> Iterator[Line]:
    """Each figure of heating and cooling; the largest one counts."""
    table = edition.dwelling_load.optional
    cite = f"{table.cite}(C)"
    cooling = _total(loads, LoadKind.AIR_CONDITIONER)
    pump, added = _total(loads, LoadKind.HEAT_PUMP), _total(loads, LoadKind.SUPPLEMENTARY_HEAT)
    heaters = of_kinds(loads, [LoadKind.HEAT])
    if cooling:
        yield _between_legs("air conditioning", cooling, cite, "100 %")
    if pump or added:
        note = f"compressor 100 %, supplementary heat x {table.supplementary_share:g}" if added else "100 %"
        yield _between_legs("heat pump", pump + added * table.supplementary_share, cite, note)
    if heaters:
        units = sum(load.units * load.count for load in heaters)
        share = table.many_heaters_share if units >= table.many_heaters else table.few_heaters_share
        note = f"{units} separately controlled: x {share:g}"
        yield _between_legs("electric heat", sum(load.total for load in heaters) * share, cite, note)


def _between_legs(what: str, load: float, cite: str, note: str) -> Line:
    return Line(what=what, load=load, citation=cite, note=note, between_legs=True)


def _total(loads: Sequence[Load], kind: LoadKind) -> float:
    return sum(load.total for load in of_kinds(loads, [kind]))
