"""General lighting and receptacles, small-appliance and laundry circuits: the part of a dwelling's load that is always there."""

import math

from nailplate.calc.loads.items import Line
from nailplate.calc.loads.legs import LEG_VOLTAGE
from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition
from nailplate.codes.load_tables import Demand
from nailplate.units import Amperes


def general_lines(square_feet: float, small_appliance: int | None, laundry: int | None, edition: Edition) -> list[Line]:
    """Lighting by area and the allowance of each small-appliance and laundry circuit, before any demand factor.

    Counts left out are the least that the code wants. No laundry circuit may be stated where none is required.
    """
    tables = edition.dwelling_load
    kitchens = tables.allowances.least_small_appliance if small_appliance is None else small_appliance
    washing = tables.allowances.least_laundry if laundry is None else laundry
    if kitchens < tables.allowances.least_small_appliance:
        raise CalculationError(
            f"{kitchens} small-appliance circuits: {tables.allowances.small_appliance_cite} counts at least "
            f"{tables.allowances.least_small_appliance}"
        )
    unit = tables.unit_load
    lighting = square_feet * unit.service
    each = tables.allowances.each
    return [
        _general("general lighting and receptacles", lighting, unit.cite, f"{square_feet:g} ft2 x {unit.service:g} VA"),
        _general(
            "small-appliance circuits", kitchens * each, tables.allowances.small_appliance_cite, f"{kitchens} x {each:g} VA"
        ),
        _general("laundry circuits", washing * each, tables.allowances.laundry_cite, _laundry_note(washing, each)),
    ]


def after_demand(load: float, table: Demand) -> float:
    """``load`` by the tiers of ``table``."""
    ends = [*(tier.over for tier in table.tiers[1:]), math.inf]
    return sum(tier.share * max(0.0, min(load, end) - tier.over) for tier, end in zip(table.tiers, ends, strict=True))


def lighting_circuits(square_feet: float, rating: Amperes, edition: Edition) -> int:
    """How many general-lighting circuits of ``rating`` the area asks for: load over rating, rounded up, no demand factor."""
    if not rating > 0:
        raise CalculationError("a circuit's rating lies over 0")
    return math.ceil(square_feet * edition.dwelling_load.unit_load.circuits / (LEG_VOLTAGE * rating) - _DUST)


_DUST = 1e-9


def area_note(edition: Edition) -> str:
    """What the floor area takes in."""
    return (
        f"floor area by outside dimensions ({edition.dwelling_load.area_cite}); a finished loft for living or sleeping counts, "
        "a storage shelf does not: the code has no rule for lofts"
    )


def _general(what: str, load: float, cite: str, note: str) -> Line:
    return Line(what=what, load=load, citation=cite, note=note, to_neutral=load)


def _laundry_note(washing: int, each: float) -> str:
    if washing:
        return f"{washing} x {each:g} VA"
    return "left out; lawful only where 210.52(F) requires no laundry receptacle: ask the authority having jurisdiction"
