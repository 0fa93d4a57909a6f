"""Works out the load summary. What cannot be worked out is said, with the facts that are missing."""

import logging
from collections.abc import Iterator, Sequence

from nailplate.calc.loads.dwelling import SQUARE_FOOT, LoadMethod
from nailplate.calc.loads.general import area_note
from nailplate.calc.loads.items import Line
from nailplate.calc.loads.small_supply import SmallSupplyFigures
from nailplate.calc.loads.supply import Regime as SupplyRegime
from nailplate.calc.steps import CalculationError, Step
from nailplate.plan import Panel, Pointer, Room, Supply, UnknownFact
from nailplate.plan.words import Leg, Regime, SupplyKind
from nailplate.rulekit import Job
from nailplate.sheets.loads import (
    CountedRoom,
    LoadArea,
    LoadLine,
    Loads,
    MethodLoad,
    OtherReading,
    PanelLegs,
    SupplyLoad,
)
from nailplate.survey import regime_of
from nailplate.survey.loads import (
    HouseLoad,
    appliance_needs,
    as_feeder,
    circuits_of,
    counted_appliances,
    has_one_leg,
    house_load,
    leg_loads,
    load_needs,
    movable_load,
)
from nailplate.survey.space import CountedArea, area_needs
from nailplate.units import Measure, Unit, amperes, volt_amperes

log = logging.getLogger("nailplate.sheets")

_MOVABLE = {
    Regime.RECREATIONAL_VEHICLE: SupplyRegime.RECREATIONAL_VEHICLE,
    Regime.PARK_TRAILER: SupplyRegime.PARK_TRAILER,
    Regime.MANUFACTURED_HOME: SupplyRegime.MANUFACTURED_HOME,
}
_ONE_LEG = 120.0
_FACTS_MISSING = "Facts are missing."
_NO_APPLIANCE = "No appliance that counts by its nameplate is drawn: the figures hold the general load alone."
_NO_DWELLING = "The plan says that this is not a dwelling unit; the load of other buildings is not worked out here."
_NO_CORD = "No supply cord, inlet or permanent feeder is drawn."
_FAULT = "The load could not be worked out by a fault of this service."


def loads_of(job: Job) -> Loads:
    """The load summary of one plan."""
    try:
        return _loads(job)
    except Exception:  # a summary that fails must not take the report with it
        log.exception("the load summary failed")
        return Loads((), (), (), (), not_worked_out=_FAULT)


def _loads(job: Job) -> Loads:
    panels, regime = tuple(_panels(job)), regime_of(job.plan)
    if regime in _MOVABLE:
        return _of_movable(job, _MOVABLE[regime], panels)
    if regime is Regime.NOT_A_DWELLING:
        return Loads((), (), panels, (), not_worked_out=_NO_DWELLING)
    return _of_dwelling(job, panels)


# Dwellings


def _of_dwelling(job: Job, panels: tuple[PanelLegs, ...]) -> Loads:
    try:
        found = house_load(job.survey, job.edition)
    except UnknownFact as unknown:
        needs = load_needs(job.survey, job.edition) or (unknown.pointer,)
        return Loads((), (), panels, (), needs, _FACTS_MISSING)
    except CalculationError as error:
        return Loads((), (), panels, (), not_worked_out=_sentence(error))
    methods = (_method(job, LoadMethod.STANDARD, found), _method(job, LoadMethod.OPTIONAL, found))
    return Loads(methods, (), panels, tuple(_notes(job)))


def _method(job: Job, method: LoadMethod, found: HouseLoad) -> MethodLoad:
    """The neutral is that of the standard method, whichever is asked."""
    optional = method is LoadMethod.OPTIONAL
    figures, area = (found.optional, found.optional_area) if optional else (found.standard, found.area)
    return MethodLoad(
        method="optional" if optional else "standard",
        default=not optional,
        area=_area(job, area),
        total=volt_amperes(figures.total),
        current=amperes(figures.current),
        neutral_load=volt_amperes(found.standard.neutral),
        neutral=amperes(found.standard.neutral_current),
        general=_lines(figures.general),
        lines=_lines(figures.lines),
        other_readings=tuple(
            OtherReading(each.what, volt_amperes(each.total)) for each in figures.others if not each.another_method
        ),
        service=amperes(figures.service) if figures.service is not None else None,
        condition=_condition(job) if optional else None,
    )


def _condition(job: Job) -> str:
    table = job.edition.dwelling_load.optional
    return f"only for conductors of at least {table.least_ampacity:g} A that carry the whole dwelling ({table.cite})"


def _area(job: Job, counted: CountedArea) -> LoadArea:
    lofts = {room.id for room in counted.lofts}
    rooms = (CountedRoom(room.pointer, _called(room), room.id in lofts) for room in counted.rooms)
    return LoadArea(Measure(counted.area / SQUARE_FOOT, Unit.SQUARE_FOOT), job.plan.basis.knows("floor_area"), tuple(rooms))


def _lines(lines: Sequence[Line]) -> tuple[LoadLine, ...]:
    return tuple(LoadLine(each.what, volt_amperes(each.load), each.citation, each.note or None) for each in lines)


def _notes(job: Job) -> Iterator[str]:
    note = area_note(job.edition)
    yield f"{note[0].upper()}{note[1:]}."
    if not any(counted_appliances(job.survey)):
        yield _NO_APPLIANCE
    yield from (_on_one_leg(job, supply) for supply in job.plan.supplies.values() if has_one_leg(supply))


def _on_one_leg(job: Job, supply: Supply) -> str:
    total = house_load(job.survey, job.edition).standard.total
    return (
        f"{_called(supply)} gives 120 V on one leg, which carries all of it: {total / _ONE_LEG:.1f} A by the standard method."
    )


# Vehicles, park trailers, manufactured homes


def _of_movable(job: Job, regime: SupplyRegime, panels: tuple[PanelLegs, ...]) -> Loads:
    cords = [supply for supply in job.plan.supplies.values() if _is_judged(supply, regime)]
    if not cords:
        return Loads((), (), panels, (), (job.plan.where("supplies"),), _NO_CORD)
    return Loads((), tuple(_cord(job, supply, regime) for supply in cords), panels, ())


def _is_judged(supply: Supply, regime: SupplyRegime) -> bool:
    """Cords, and permanent feeders from elsewhere to what may have one."""
    feeder = supply.kind is SupplyKind.FEEDER and not supply.knows("starts_at")
    return supply.kind is SupplyKind.CORD_INLET or (feeder and regime is not SupplyRegime.RECREATIONAL_VEHICLE)


def _cord(job: Job, supply: Supply, regime: SupplyRegime) -> SupplyLoad:
    try:
        found = movable_load(job.survey, supply, regime, job.edition)
        return _of_cord(supply, found if supply.kind is SupplyKind.CORD_INLET else as_feeder(found, supply.rating, job.edition))
    except UnknownFact as unknown:
        needs = (unknown.pointer, *_movable_needs(job, regime))
        return SupplyLoad(supply.pointer, _called(supply), (), needs=tuple(dict.fromkeys(needs)), not_worked_out=_FACTS_MISSING)
    except CalculationError as error:
        return SupplyLoad(supply.pointer, _called(supply), (), not_worked_out=_sentence(error))


def _of_cord(supply: Supply, found: SmallSupplyFigures) -> SupplyLoad:
    return SupplyLoad(
        at=supply.pointer,
        name=_called(supply),
        legs=tuple(amperes(leg) for leg in found.legs),
        lines=tuple(_line_of(step) for step in found.steps if step.measure.unit is Unit.AMPERE),
        cautions=tuple(_sentence(each) for each in found.cautions),
        fits=found.fits,
        smallest=amperes(found.smallest) if found.smallest is not None else None,
        by=found.by,
    )


def _movable_needs(job: Job, regime: SupplyRegime) -> tuple[Pointer, ...]:
    of_area = () if regime is SupplyRegime.RECREATIONAL_VEHICLE else area_needs(job.survey, garages=False)
    return (*of_area, *appliance_needs(job.survey))


def _line_of(step: Step) -> LoadLine:
    return LoadLine(step.what, step.measure, step.citation, step.note or None)


# Legs of panels


def _panels(job: Job) -> Iterator[PanelLegs]:
    for panel in job.plan.panels.values():
        if circuits_of(job.survey, panel):
            yield _legs(job, panel)


def _legs(job: Job, panel: Panel) -> PanelLegs:
    try:
        legs = leg_loads(job.survey, panel)
    except UnknownFact as unknown:
        return PanelLegs(panel.pointer, _called(panel), needs=(unknown.pointer,))
    return PanelLegs(panel.pointer, _called(panel), amperes(legs[Leg.A]), amperes(legs[Leg.B]))


def _called(part: Panel | Supply | Room) -> str:
    return part.label if part.knows("label") else part.id


def _sentence(words: object) -> str:
    text = str(words)
    return f"{text[:1].upper()}{text[1:]}."
