"""The part of a report that says what the house asks of its supply: the load, what was counted, and what each leg carries."""

from dataclasses import dataclass
from typing import Literal

from nailplate.plan import Pointer
from nailplate.units import Measure


@dataclass(frozen=True, slots=True)
class CountedRoom:
    """A room whose floor counts in a load's area. ``loft``: the code has no rule for lofts; one that is finished is counted."""

    at: Pointer
    name: str
    loft: bool


@dataclass(frozen=True, slots=True)
class LoadArea:
    """The floor area that was counted, by outside dimensions. ``stated``: the plan gives it, it was not taken from the drawing."""

    area: Measure
    stated: bool
    rooms: tuple[CountedRoom, ...]


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line of a load's sum, with its section."""

    what: str
    load: Measure
    section: str
    note: str | None = None


@dataclass(frozen=True, slots=True)
class OtherReading:
    """Another reading of the code, or another choice that it allows, and the total that it gives."""

    what: str
    total: Measure


@dataclass(frozen=True, slots=True)
class MethodLoad:
    """The dwelling's load by one method. ``general`` is counted before any demand factor; ``lines`` add up to the total.

    ``current`` is that of each leg. ``service`` is the next standard rating, never under the least for a one-family dwelling.
    """

    method: Literal["standard", "optional"]
    default: bool
    area: LoadArea
    total: Measure
    current: Measure
    neutral_load: Measure
    neutral: Measure
    general: tuple[LoadLine, ...]
    lines: tuple[LoadLine, ...]
    other_readings: tuple[OtherReading, ...]
    service: Measure | None = None
    condition: str | None = None


@dataclass(frozen=True, slots=True)
class SupplyLoad:
    """What the cord of a vehicle, park trailer or manufactured home must carry on each leg; or why that is not known."""

    at: Pointer
    name: str
    legs: tuple[Measure, ...]
    lines: tuple[LoadLine, ...] = ()
    needs: tuple[Pointer, ...] = ()
    cautions: tuple[str, ...] = ()
    fits: bool | None = None
    smallest: Measure | None = None
    by: str | None = None
    not_worked_out: str | None = None


@dataclass(frozen=True, slots=True)
class PanelLegs:
    """What a panel's circuits weigh on each leg: appliances by their nameplates, circuits without any by half their rating."""

    at: Pointer
    name: str
    leg_a: Measure | None = None
    leg_b: Measure | None = None
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class Loads:
    """The load summary. ``not_worked_out`` says in words why there are no figures, ``needs`` which facts would give them."""

    methods: tuple[MethodLoad, ...]
    supplies: tuple[SupplyLoad, ...]
    panels: tuple[PanelLegs, ...]
    notes: tuple[str, ...]
    needs: tuple[Pointer, ...] = ()
    not_worked_out: str | None = None
