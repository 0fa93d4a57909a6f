"""A vehicle, park trailer or manufactured home as the calculation of small supplies is asked: its circuits and loads by leg."""

from collections.abc import Iterable
from dataclasses import replace

from nailplate.calc.loads.small_supply import SmallSupplyFigures, small_supply
from nailplate.calc.loads.supply import CircuitUse, PlacedLoad, Regime, SmallSupply, SupplyCircuit
from nailplate.calc.overcurrent import next_standard
from nailplate.codes import Edition
from nailplate.plan import Circuit, Supply, UnknownFact
from nailplate.plan.words import ApplianceKind, Leg, Purpose, SupplyVoltage
from nailplate.survey.index import Survey
from nailplate.survey.loads.house_load import counted_appliances, load_of
from nailplate.survey.loads.supplies import circuits_behind
from nailplate.survey.space import counted_area
from nailplate.units import Amperes, Inches, within

_USES = {Purpose.SMALL_APPLIANCE: CircuitUse.SMALL_APPLIANCE, Purpose.LAUNDRY: CircuitUse.LAUNDRY}
_STRIP = Inches(12.0)
_USUAL_KITCHEN = 2


def movable_load(survey: Survey, supply: Supply, regime: Regime, edition: Edition) -> SmallSupplyFigures:
    """What the supply must carry, and whether it does. Raises UnknownFact, and CalculationError for what is out of reach."""
    return survey.once(_movable_load, supply.id, regime, edition)


def as_feeder(found: SmallSupplyFigures, rating: Amperes, edition: Edition) -> SmallSupplyFigures:
    """The same load on a permanent feeder, which is sized by its heavier leg alone."""
    highest = Amperes(max(found.legs))
    return replace(
        found,
        fits=within(highest, rating),
        smallest=next_standard(highest, edition.overcurrent),
        by="215.2(A)",
        reasons=(),
        cautions=(),
    )


def _movable_load(survey: Survey, supply_id: str, regime: Regime, edition: Edition) -> SmallSupplyFigures:
    return small_supply(_asked(survey, survey.plan.supplies[supply_id], regime), edition)


def _asked(survey: Survey, supply: Supply, regime: Regime) -> SmallSupply:
    """The area stands as a strip one foot wide: only the product of length and width counts."""
    circuits = circuits_behind(survey, supply)
    if not circuits:
        raise UnknownFact(survey.plan.where("circuits"))
    if regime is not Regime.RECREATIONAL_VEHICLE:
        _ask_for_purposes(circuits)
    area = None if regime is Regime.RECREATIONAL_VEHICLE else counted_area(survey, garages=False).area
    return SmallSupply(
        regime=regime,
        rating=supply.rating,
        two_legs=supply.voltage is not SupplyVoltage.V120,
        circuits=tuple(_circuit(survey, each) for each in circuits),
        loads=tuple(
            PlacedLoad(load=load_of(each), leg=_leg(survey.plan.circuits[each.circuit]) if each.knows("circuit") else None)
            for each in counted_appliances(survey)
        ),
        length=None if area is None else Inches(area / _STRIP),
        width=None if area is None else _STRIP,
    )


def _ask_for_purposes(circuits: Iterable[Circuit]) -> None:
    """Small-appliance circuits count for 1500 VA each; while fewer than two are stated, those of which it is not said may be some."""
    stated = sum(circuit.knows("purpose") and circuit.purpose is Purpose.SMALL_APPLIANCE for circuit in circuits)
    silent = next((circuit for circuit in circuits if not circuit.knows("purpose")), None)
    if silent is not None and stated < _USUAL_KITCHEN:
        raise UnknownFact(silent.where("purpose"))


def _circuit(survey: Survey, circuit: Circuit) -> SupplyCircuit:
    appliances = survey.appliances_on_circuit.get(circuit.id, [])
    converter = bool(appliances) and all(each.kind is ApplianceKind.CONVERTER for each in appliances)
    purpose = circuit.purpose if circuit.knows("purpose") else None
    return SupplyCircuit(
        rating=circuit.breaker.rating,
        voltage=circuit.voltage,
        use=CircuitUse.CONVERTER if converter else _USES.get(purpose, CircuitUse.GENERAL) if purpose else CircuitUse.GENERAL,
        multiwire=circuit.knows("multiwire"),
    )


def _leg(circuit: Circuit) -> int | None:
    return list(Leg).index(circuit.legs[0]) if circuit.knows("legs") and len(circuit.legs) == 1 else None
