"""Figures and provisions that the code prints in a sentence, by name: how far, how many, and whether an edition says so.

What the code prints as a table has a table of its own. ``limits.toml`` holds the figures, ``provisions.toml`` what an edition asks
or allows that another does not; a later edition's folder states only what changed, and a local amendment sets one entry as it sets
one of a table (``TableChange("limits", "fan_heaviest.value", 60)``, ``TableChange("provisions", "fan_box_anywhere.holds", False)``).

Errors: ``CodeTableError`` for a name that no table has, or that is of another kind than was asked for.
"""

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, TypeVar

from nailplate.codes.errors import CodeTableError
from nailplate.codes.nearest import unknown_name
from nailplate.codes.tables import TextStatus
from nailplate.units import (
    Amperes,
    Celsius,
    CubicInches,
    Inches,
    Measure,
    Pounds,
    SquareInches,
    Unit,
    VoltAmperes,
    Volts,
    shown,
)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Limit:
    """One figure of a sentence, in the canonical unit, with its section and how well it is known.

    Exactly one of ``value``, ``values`` (several ratings), ``size`` (a wire size) and ``day`` (an ISO date) is stated. ``what``
    says in words what it limits; ``note`` what this edition changed, where it did.
    """

    what: str
    section: str
    text_status: TextStatus
    unit: Unit | None = None
    value: float | None = None
    values: tuple[float, ...] | None = None
    size: str | None = None
    day: str | None = None
    source: str | None = None
    note: str | None = None

    def __post_init__(self) -> None:
        """Refuses an entry of two figures or of none, and a number without its unit."""
        stated = [each for each in (self.value, self.values, self.size, self.day) if each is not None]
        if len(stated) != 1:
            raise CodeTableError(f"limits: {self.what!r} states one of value, values, size and day")
        if (self.unit is None) is (self.value is not None or self.values is not None):
            raise CodeTableError(f"limits: {self.what!r} has a unit where it is a number, and none where it is not")

    @property
    def shown(self) -> str:
        """The figure for people, with its unit."""
        if self.unit is not None:
            figures = self.values if self.values is not None else (self.value or 0.0,)
            return ", ".join(shown(Measure(each, self.unit)) for each in figures)
        return self.size or self.day or ""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Provision:
    """Something that an edition asks or allows (``holds``) and another does not. ``note`` says what this edition changed."""

    what: str
    section: str
    text_status: TextStatus
    holds: bool
    source: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Limits:
    """The figures by name. In TOML each name is a table of its own."""

    gathered: ClassVar[str] = "entries"
    entries: Mapping[str, Limit]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Provisions:
    """The provisions by name. In TOML each name is a table of its own."""

    gathered: ClassVar[str] = "entries"
    entries: Mapping[str, Provision]


class Figures:
    """Asks for limits and provisions by name: of an edition, a job, or a survey, each with the edition in force.

    Lengths are inches, volumes cubic inches and so on; a share is a part of one. A house test compares every name in the code with
    the tables, and the method with the unit.
    """

    __slots__ = ()

    @abstractmethod
    def limit_entry(self, name: str) -> Limit:
        """The figure of that name with its section. Raises CodeTableError."""

    @abstractmethod
    def holds(self, name: str) -> bool:
        """Whether the edition in force has this provision. Raises CodeTableError."""

    def limit(self, name: str) -> float:
        """The figure of that name in its canonical unit."""
        value = self.limit_entry(name).value
        if value is None:
            raise CodeTableError(f"limits: {name!r} is no single figure")
        return value

    def measure(self, name: str) -> Measure:
        """The figure with its unit, as findings give it."""
        entry = self.limit_entry(name)
        if entry.value is None or entry.unit is None:
            raise CodeTableError(f"limits: {name!r} is no single figure")
        return Measure(entry.value, entry.unit)

    def inches(self, name: str) -> Inches:
        """A length."""
        return Inches(self.limit(name))

    def square_inches(self, name: str) -> SquareInches:
        """An area."""
        return SquareInches(self.limit(name))

    def cubic_inches(self, name: str) -> CubicInches:
        """A volume."""
        return CubicInches(self.limit(name))

    def amperes(self, name: str) -> Amperes:
        """A current."""
        return Amperes(self.limit(name))

    def volts(self, name: str) -> Volts:
        """A voltage."""
        return Volts(self.limit(name))

    def volt_amperes(self, name: str) -> VoltAmperes:
        """A load."""
        return VoltAmperes(self.limit(name))

    def pounds(self, name: str) -> Pounds:
        """A weight."""
        return Pounds(self.limit(name))

    def celsius(self, name: str) -> Celsius:
        """A temperature."""
        return Celsius(self.limit(name))

    def number(self, name: str) -> int:
        """A number of things."""
        return int(self.limit(name))

    def share(self, name: str) -> float:
        """A share or factor, given in the table as a percentage: 125 % is 1.25."""
        return self.limit(name) / 100.0

    def ratings(self, name: str) -> tuple[Amperes, ...]:
        """Several ratings, in rising order."""
        values = self.limit_entry(name).values
        if values is None:
            raise CodeTableError(f"limits: {name!r} is no list of figures")
        return tuple(Amperes(each) for each in values)

    def size(self, name: str) -> str:
        """A wire size."""
        size = self.limit_entry(name).size
        if size is None:
            raise CodeTableError(f"limits: {name!r} is no wire size")
        return size

    def day(self, name: str) -> str:
        """A day, as ISO text."""
        day = self.limit_entry(name).day
        if day is None:
            raise CodeTableError(f"limits: {name!r} is no day")
        return day


Entry = TypeVar("Entry")


def entry_of(entries: Mapping[str, Entry], name: str, what: str) -> Entry:
    """The entry of that name; ``what`` names the table in the message. Raises CodeTableError."""
    found = entries.get(name)
    if found is None:
        raise CodeTableError(unknown_name(what, name, entries))
    return found
