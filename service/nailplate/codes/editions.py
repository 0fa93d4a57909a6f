"""A code edition: its tables under one name, read from TOML folders laid one over another, and local amendments to it."""

import copy
import tomllib
from collections.abc import Callable, Hashable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources.abc import Traversable
from typing import Any, Final, TypeVar

from nailplate.codes.build import built_table, field_types
from nailplate.codes.errors import CodeTableError
from nailplate.codes.figures import Figures, Limit, Limits, Provisions, entry_of
from nailplate.codes.gfci_tables import GfciAppliances, GfciLocations, GfciOutdoorOutlets
from nailplate.codes.load_tables import (
    ApplianceCords,
    Cooking,
    DwellingConductors,
    DwellingLoad,
    ElectrodeConductors,
    GroundingIncrease,
    Impedance,
    MovableHomes,
)
from nailplate.codes.nearest import unknown_name
from nailplate.codes.overlay import Raw, TableChange, laid_over, mark, set_entry
from nailplate.codes.tables import (
    Adjustment,
    AmbientCorrection,
    Ampacity,
    BoxDepths,
    BoxFillAllowances,
    BoxVolumes,
    ConductorProperties,
    Grounding,
    MotorCurrents,
    Overcurrent,
    ReceptacleRatings,
    SmallConductors,
    Spacing,
    Table,
    TemperatureLimits,
    TextStatus,
)

Result = TypeVar("Result")

_MOST_KEPT: Final = 2000
"""Figures; the plans that a service sees ask for some hundred different ones."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Edition(Figures):
    """One edition of the code. An amended one keeps the name of the edition it rests on and tells its ``changes``."""

    id: str
    year: int
    ampacity: Ampacity
    ambient_correction: AmbientCorrection
    adjustment: Adjustment
    temperature_limits: TemperatureLimits
    conductors: ConductorProperties
    small_conductors: SmallConductors
    overcurrent: Overcurrent
    receptacle_ratings: ReceptacleRatings
    motor_currents: MotorCurrents
    grounding: Grounding
    box_volumes: BoxVolumes
    box_depths: BoxDepths
    box_fill: BoxFillAllowances
    spacing: Spacing
    gfci_locations: GfciLocations
    gfci_vehicles: GfciLocations
    gfci_park_trailers: GfciLocations
    gfci_other_buildings: GfciLocations
    appliance_cords: ApplianceCords
    gfci_appliances: GfciAppliances
    gfci_outdoor_outlets: GfciOutdoorOutlets
    dwelling_load: DwellingLoad
    cooking: Cooking
    impedance: Impedance
    electrode_conductors: ElectrodeConductors
    dwelling_conductors: DwellingConductors
    grounding_increase: GroundingIncrease
    movable_homes: MovableHomes
    limits: Limits
    provisions: Provisions
    based_on: str | None = None
    changes: tuple[TableChange, ...] = ()
    as_written: Mapping[str, Raw] = field(default_factory=dict, repr=False)
    kept: MutableMapping[Hashable, object] = field(default_factory=dict, init=False, repr=False)

    def once(self, work_out: Callable[..., Result], *about: Hashable) -> Result:
        """``work_out(*about, self)``, a figure that follows from these and the tables alone: worked out once and kept a while."""
        key = (work_out, *about)
        try:
            return self.kept[key]  # type: ignore[return-value]  # the key holds the function that made the value
        except KeyError:
            made = work_out(*about, self)
        if len(self.kept) >= _MOST_KEPT:
            self.kept.clear()
        self.kept[key] = made
        return made

    def since(self, year: int) -> bool:
        """Whether this is the edition of ``year`` or a later one."""
        return self.year >= year

    def limit_entry(self, name: str) -> Limit:
        """The figure of that name with its section. Raises CodeTableError."""
        found = self.limits.entries.get(name)
        return entry_of(self.limits.entries, name, "limit") if found is None else found

    def holds(self, name: str) -> bool:
        """Whether this edition has that provision. Raises CodeTableError."""
        return entry_of(self.provisions.entries, name, "provision").holds


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionHeader:
    """What ``edition.toml`` says. ``inherited_text_status`` holds for tables that the folder does not state anew."""

    id: str
    year: int
    based_on: str | None = None
    inherited_text_status: TextStatus | None = None


_HEADER_FILE = "edition.toml"
_TABLE_HEADER = ("cite", "source", "text_status")


def table_types() -> dict[str, type[Table]]:
    """The tables of an edition by name; each is a file of that name."""
    return {name: kind for name, kind in field_types(Edition).items() if isinstance(kind, type) and issubclass(kind, Table)}


def file_types() -> dict[str, type]:
    """Everything that a folder may hold a file of: the tables, and the figures and provisions of sentences."""
    return {**table_types(), "limits": Limits, "provisions": Provisions}


@dataclass(frozen=True, slots=True)
class Written:
    """An edition as its files say it, laid over what it is based on, before it is typed."""

    header: EditionHeader
    as_written: Mapping[str, Raw]


def read_edition(folder: Traversable, earlier: Mapping[str, Edition | Written]) -> Edition:
    """The edition that ``folder`` describes, laid over the one of ``earlier`` that it names."""
    return typed(read_written(folder, earlier), folder.name)


def read_written(folder: Traversable, earlier: Mapping[str, Edition | Written]) -> Written:
    """What ``folder`` says, laid over the one of ``earlier`` that it names; of those only what is written is looked at."""
    header = built_table(EditionHeader, _toml(folder / _HEADER_FILE), f"{folder.name}/{_HEADER_FILE}")
    tables = _inherited(header, earlier)
    types = file_types()
    for file in sorted(folder.iterdir(), key=lambda each: each.name):
        name = file.name.removesuffix(".toml")
        if file.name == _HEADER_FILE or name == file.name:
            continue
        if name not in types:
            raise CodeTableError(f"{folder.name}: {unknown_name('table', name, types)}")
        where = f"{folder.name}/{file.name}"
        tables[name] = laid_over(tables.get(name, {}), _stated(file, where), where)
    return Written(header, tables)


def amended(edition: Edition, changes: Sequence[TableChange]) -> Edition:
    """``edition`` with ``changes`` laid over it and validated as it was itself."""
    types = file_types()
    tables = dict(edition.as_written)
    for change in changes:
        if change.table not in types:
            raise CodeTableError(unknown_name("table", change.table, types))
        tables[change.table] = copy.deepcopy(tables[change.table])
    for change in changes:
        set_entry(tables[change.table], types[change.table], change)
    built: dict[str, Any] = {
        name: built_table(types[name], tables[name], name) for name in dict.fromkeys(change.table for change in changes)
    }
    result = replace(edition, **built, changes=(*edition.changes, *changes), as_written=tables)
    check_sizes(result)
    return result


def check_sizes(edition: Edition) -> None:
    """Refuses a wire size in any table that the table of conductors does not have."""
    known = edition.conductors
    for material, columns in (("copper", edition.ampacity.copper), ("aluminum", edition.ampacity.aluminum)):
        for column, row in columns.items():
            for size in row:
                known.check(size, f"ampacity.{material}.{column}")
    for where, sizes in (
        ("small_conductors.copper", edition.small_conductors.copper),
        ("small_conductors.aluminum", edition.small_conductors.aluminum),
        ("small_conductors.copper_clad_aluminum", edition.small_conductors.copper_clad_aluminum),
        ("grounding.copper", edition.grounding.copper.values()),
        ("grounding.aluminum", edition.grounding.aluminum.values()),
        ("box_fill.per_conductor", edition.box_fill.per_conductor),
        ("box_depths.by_size", edition.box_depths.by_size),
        ("box_fill.canopy_wires_smaller_than", [edition.box_fill.canopy_wires_smaller_than]),
        ("temperature_limits.terminations", [edition.temperature_limits.terminations.small_up_to]),
        ("temperature_limits.cables", [cable.up_to for cable in edition.temperature_limits.cables.values() if cable.up_to]),
    ):
        for size in sizes:
            known.check(size, where)


def typed(written: Written, folder: str) -> Edition:
    """The edition that is ``written`` in ``folder``, whole and sound. Raises CodeTableError."""
    header, tables, types = written.header, written.as_written, file_types()
    for name in types:
        if name not in tables:
            raise CodeTableError(f"{folder}: the table {name!r} is missing, and no edition below has it")
    built: dict[str, Any] = {name: built_table(kind, tables[name], f"{folder}/{name}") for name, kind in types.items()}
    edition = Edition(id=header.id, year=header.year, based_on=header.based_on, as_written=dict(tables), **built)
    check_sizes(edition)
    return edition


def _inherited(header: EditionHeader, earlier: Mapping[str, Edition | Written]) -> dict[str, Raw]:
    """The tables of the edition below: its own, which nobody changes, unless they are marked anew."""
    if header.based_on is None:
        return {}
    if header.based_on not in earlier:
        raise CodeTableError(f"{header.id}: {unknown_name('edition', header.based_on, earlier)}")
    tables = dict(earlier[header.based_on].as_written)
    if header.inherited_text_status:
        tables = copy.deepcopy(tables)
        for table in tables.values():
            mark(table, header.inherited_text_status)
    return tables


def _toml(file: Traversable) -> Raw:
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise CodeTableError(f"{file.name}: {error}") from error


def _stated(file: Traversable, where: str) -> Raw:
    raw = _toml(file)
    for name in _TABLE_HEADER if file.name.removesuffix(".toml") in table_types() else ():
        if name not in raw:
            raise CodeTableError(f"{where}: {name!r} is missing")
    return raw
