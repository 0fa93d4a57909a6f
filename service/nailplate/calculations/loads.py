"""The load of a dwelling and the sufficiency of a small supply, asked without a plan."""

from collections.abc import Iterable, Iterator
from typing import Annotated, Any

from nailplate.calc.loads.dwelling import Dwelling, LoadMethod, System
from nailplate.calc.loads.dwelling import dwelling_load as load_of_dwelling
from nailplate.calc.loads.items import ALWAYS_FASTENED, CLIMATE, COOKING, Line, Load, LoadKind
from nailplate.calc.loads.small_supply import small_supply as supply_figures
from nailplate.calc.loads.supply import CircuitUse, PlacedLoad, Regime, SmallSupply, SupplyCircuit
from nailplate.calc.steps import Step
from nailplate.calculations.asked import Request, calculation, given, measure_value, stated
from nailplate.codes import Edition
from nailplate.plan import Facts, Fault, FaultCode, PlanRefused
from nailplate.plan.facts import AtMost, Doc, Items, Needed, drawn
from nailplate.plan.marks import Area, Count, CountOrNone, Current, Length, Power, Voltage
from nailplate.plan.words import Leg, SupplyVoltage
from nailplate.units import SquareInches, VoltAmperes, amperes, volt_amperes

LARGEST_LOAD = 1_000_000.0
LARGEST_CURRENT = 10_000.0
HIGHEST_VOLTAGE = 1_000.0
LARGEST_AREA = 14_400_000.0
"""Square inches: 100,000 square feet."""
LONGEST = 12_000.0
MOST_ALIKE = 100


@drawn
class ApplianceLoad(Facts):
    """One appliance, or several alike."""

    kind: Annotated[LoadKind, Doc("what it is"), Needed]
    name: Annotated[str, Doc("what the steps call it")]
    power: Annotated[Power, AtMost(LARGEST_LOAD), Doc("nameplate watts or volt-amperes of one; else current and voltage")]
    current: Annotated[Current, AtMost(LARGEST_CURRENT), Doc("nameplate amperes of one")]
    voltage: Annotated[Voltage, AtMost(HIGHEST_VOLTAGE), Doc("nameplate voltage")]
    count: Annotated[Count, AtMost(MOST_ALIKE), Doc("how many alike")]
    fastened: Annotated[bool, Doc("fastened in place; needed for kinds that stand either way")]
    motor: Annotated[bool, Doc("whether its load is mostly a motor's")]
    units: Annotated[Count, AtMost(MOST_ALIKE), Doc("separately controlled heating units")]


@drawn
class LegAppliance(ApplianceLoad):
    """One appliance of a small supply."""

    leg: Annotated[Leg, Doc("the leg that a 120 V load stands on")]


@drawn
class DwellingLoadRequest(Request):
    """One dwelling unit."""

    method: Annotated[LoadMethod, Doc("the standard or the optional method"), Needed]
    floor_area: Annotated[Area, AtMost(LARGEST_AREA), Doc("by outside dimensions, with its unit"), Needed]
    small_appliance_circuits: Annotated[Count, AtMost(MOST_ALIKE), Doc("two for each dwelling unless said")]
    laundry_circuits: Annotated[
        CountOrNone, AtMost(MOST_ALIKE), Doc("one for each dwelling unless said; none where no laundry receptacle is required")
    ]
    appliances: Annotated[tuple[ApplianceLoad, ...], Doc("with their nameplates"), Items(0, 200)]
    voltage: Annotated[System, Doc("of the supply, 120/240 unless said")]
    dwellings: Annotated[
        Count,
        AtMost(MOST_ALIKE),
        Doc("dwelling units together, 1 unless said; area, circuits and appliances are those of all of them"),
    ]


@drawn
class SupplyRating(Facts):
    """The supply that is there."""

    voltage: Annotated[SupplyVoltage, Doc("its system voltage"), Needed]
    rating: Annotated[Current, AtMost(LARGEST_CURRENT), Doc("its rating"), Needed]


@drawn
class CircuitOfSupply(Facts):
    """One branch circuit, or several alike."""

    rating: Annotated[Current, AtMost(LARGEST_CURRENT), Doc("of its overcurrent device"), Needed]
    voltage: Annotated[Voltage, AtMost(HIGHEST_VOLTAGE), Doc("120 V unless said")]
    purpose: Annotated[CircuitUse, Doc("general unless said")]
    multiwire: Annotated[bool, Doc("whether it shares its neutral")]
    count: Annotated[Count, AtMost(MOST_ALIKE), Doc("how many alike")]


@drawn
class SmallSupplyRequest(Request):
    """A small supply and what stands behind it."""

    regime: Annotated[Regime, Doc("what the supplied thing is before the code"), Needed]
    supply: Annotated[SupplyRating, Doc("the supply that is there"), Needed]
    circuits: Annotated[tuple[CircuitOfSupply, ...], Doc("its branch circuits"), Items(1, 100), Needed]
    length: Annotated[Length, AtMost(LONGEST), Doc("outside, without the hitch")]
    width: Annotated[Length, AtMost(LONGEST), Doc("outside")]
    appliances: Annotated[tuple[LegAppliance, ...], Doc("with their nameplates"), Items(0, 200)]
    energy_management: Annotated[bool, Doc("whether an energy management system sheds load")]
    gas_heat_and_cooking: Annotated[bool, Doc("factory-installed gas or oil heating and gas cooking")]


def load_of(appliance: ApplianceLoad) -> Load:
    """The appliance as the methods see it. Raises PlanRefused where its nameplate says too little."""
    return Load(
        kind=appliance.kind,
        power=_nameplate(appliance),
        **stated(appliance, "name", "count", "voltage", "fastened", "motor", "units"),
    )


def _nameplate(appliance: ApplianceLoad) -> VoltAmperes:
    if appliance.knows("power"):
        return appliance.power
    if appliance.knows("current") and appliance.knows("voltage"):
        return VoltAmperes(appliance.current * appliance.voltage)
    raise PlanRefused(
        (Fault(appliance.where("power"), FaultCode.MISSING_FIELD, "power is missing; or give current and voltage"),)
    )


_EITHER_WAY = set(LoadKind) - {*ALWAYS_FASTENED, *CLIMATE, *COOKING, LoadKind.DRYER, LoadKind.EVSE}


def _loads(appliances: Iterable[ApplianceLoad]) -> Iterator[Load]:
    for appliance in appliances:
        if appliance.kind in _EITHER_WAY and not appliance.knows("fastened"):
            wanted = "fastened is missing: say whether it is fastened in place"
            raise PlanRefused((Fault(appliance.where("fastened"), FaultCode.MISSING_FIELD, wanted),))
        yield load_of(appliance)


@calculation(
    "dwelling-load",
    DwellingLoadRequest,
    example={
        "edition": "2023",
        "method": "standard",
        "floor_area": "1500 ft2",
        "appliances": [{"kind": "range", "power": "12 kW"}, {"kind": "dryer", "power": "5500 W"}],
    },
)
def dwelling_load(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """The load of a dwelling by the standard or the optional method, and the next service rating."""
    dwelling = Dwelling(
        area=SquareInches(request.floor_area),
        loads=tuple(_loads(given(request, "appliances"))),
        system=request.voltage if request.knows("voltage") else System.V120_240,
        units=request.dwellings if request.knows("dwellings") else 1,
        **stated(request, "small_appliance_circuits", "laundry_circuits"),
    )
    found = load_of_dwelling(dwelling, request.method, in_force)
    result = {
        "total": measure_value(volt_amperes(found.total)),
        "current": measure_value(amperes(found.current)),
        "neutral": measure_value(amperes(found.neutral_current)),
        "neutral_load": measure_value(volt_amperes(found.neutral)),
        "lines": [_line(line) for line in found.lines],
        "other_readings": [{"what": each.what, "total": measure_value(volt_amperes(each.total))} for each in found.others],
    }
    return (result if found.service is None else {**result, "service": measure_value(amperes(found.service))}), found.steps


def _line(line: Line) -> dict[str, Any]:
    return {"what": line.what, **measure_value(volt_amperes(line.load)), "citation": line.citation}


@calculation(
    "small-supply",
    SmallSupplyRequest,
    example={
        "edition": "2023",
        "regime": "park_trailer",
        "supply": {"voltage": "120/240", "rating": "50 A"},
        "length": "30 ft",
        "width": "8 ft 6 in",
        "circuits": [{"rating": "20 A", "purpose": "small_appliance", "count": 2}, {"rating": "15 A"}],
        "appliances": [{"kind": "range", "power": "8 kW"}],
    },
)
def small_supply(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """The load on each leg of a small supply, whether it fits, and the smallest supply that holds it."""
    asked = SmallSupply(
        regime=request.regime,
        rating=request.supply.rating,
        two_legs=request.supply.voltage is not SupplyVoltage.V120,
        circuits=tuple(circuit for each in request.circuits for circuit in _circuits(each)),
        loads=tuple(_placed(each) for each in given(request, "appliances")),
        **stated(request, "length", "width", "energy_management", "gas_heat_and_cooking"),
    )
    found = supply_figures(asked, in_force)
    result = {
        "legs": [measure_value(amperes(leg)) for leg in found.legs],
        "fits": found.fits,
        "by": found.by,
        "reasons": list(found.reasons),
        "cautions": list(found.cautions),
    }
    return (
        result if found.smallest is None else {**result, "smallest_supply": measure_value(amperes(found.smallest))}
    ), found.steps


def _circuits(circuit: CircuitOfSupply) -> list[SupplyCircuit]:
    use = circuit.purpose if circuit.knows("purpose") else CircuitUse.GENERAL
    one = SupplyCircuit(rating=circuit.rating, use=use, **stated(circuit, "voltage", "multiwire"))
    return [one] * (circuit.count if circuit.knows("count") else 1)


def _placed(appliance: LegAppliance) -> PlacedLoad:
    leg = list(Leg).index(appliance.leg) if appliance.knows("leg") else None
    return PlacedLoad(load=load_of(appliance), leg=leg)
