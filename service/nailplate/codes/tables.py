"""The tables of a code edition as typed, frozen data; each class is one table, its fields are the entries of the TOML file."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from nailplate.codes.errors import CodeTableError
from nailplate.codes.nearest import unknown_name
from nailplate.terms import Column, Material
from nailplate.units import Amperes, CubicInches, Inches


class TextStatus(StrEnum):
    """How well the text behind a table is known."""

    VERIFIED = "verified"
    MEMORY = "memory"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Table:
    """What every table says of itself: its section in this edition, a public source, how well its text is known."""

    cite: str
    source: str
    text_status: TextStatus
    unit: str = ""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Ampacity(Table):
    """Ampacity by temperature column and size, at 30 degC, at most three current-carrying conductors."""

    copper: Mapping[Column, Mapping[str, Amperes]]
    aluminum: Mapping[Column, Mapping[str, Amperes]]

    def of(self, material: Material) -> Mapping[Column, Mapping[str, Amperes]]:
        """The half of the table for ``material``; copper-clad aluminum goes with aluminum."""
        return self.copper if material is Material.COPPER else self.aluminum


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class AmbientCorrection(Table):
    """Factors by temperature column and the upper limit of the row in degrees Celsius, rows in rising order."""

    factors: Mapping[Column, Mapping[int, float]]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Adjustment(Table):
    """Factors for conductors lying together, by the least count each holds for, in rising order."""

    from_count: Mapping[int, float]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SmallConductors(Table):
    """The largest overcurrent device for small conductors."""

    copper: Mapping[str, Amperes]
    aluminum: Mapping[str, Amperes]
    copper_clad_aluminum: Mapping[str, Amperes]

    def of(self, material: Material) -> Mapping[str, Amperes]:
        """The limits for ``material``; a size that is not there has none."""
        match material:
            case Material.COPPER:
                return self.copper
            case Material.ALUMINUM:
                return self.aluminum
            case Material.COPPER_CLAD_ALUMINUM:
                return self.copper_clad_aluminum


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class NextSizeUp(Table):
    """The largest rating that may stand above the conductor's ampacity."""

    largest_rating: Amperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SingleAppliance(Table):
    """The device for one nonmotor appliance that is not marked with its largest."""

    small_current: Amperes
    small_rating: Amperes
    share_of_current: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Overcurrent(Table):
    """Standard ratings of overcurrent devices, in rising order."""

    standard_ratings: tuple[Amperes, ...]
    additional_fuse_ratings: tuple[Amperes, ...]
    next_size_up: NextSizeUp
    single_appliance: SingleAppliance

    def __post_init__(self) -> None:
        """Refuses ratings out of order: the choice among them relies on it."""
        if not self.standard_ratings or list(self.standard_ratings) != sorted(set(self.standard_ratings)):
            raise CodeTableError("overcurrent.standard_ratings: the ratings do not rise")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CordLoad(Table):
    """The largest cord-and-plug-connected load on one of several receptacles, by the receptacle's rating."""

    by_receptacle: Mapping[int, Amperes]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ReceptacleRatings(Table):
    """The receptacles that a circuit of several may have, by its rating."""

    by_circuit: Mapping[int, tuple[Amperes, ...]]
    cord_load: CordLoad


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MotorCurrents(Table):
    """Full-load current of single-phase motors, by rated voltage and horsepower as printed (``1 1/2``)."""

    single_phase: Mapping[int, Mapping[str, Amperes]]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Grounding(Table):
    """The smallest equipment grounding conductor, by the largest rating it holds for, in rising order."""

    copper: Mapping[int, str]
    aluminum: Mapping[int, str]

    def of(self, material: Material) -> Mapping[int, str]:
        """The column for ``material``; copper-clad aluminum goes with aluminum."""
        return self.copper if material is Material.COPPER else self.aluminum


class BoxShape(StrEnum):
    """The shapes that metal boxes of standard trade sizes come in."""

    ROUND = "round"
    SQUARE = "square"
    DEVICE = "device"
    MASONRY = "masonry"
    CAST = "cast"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class BoxVolumes(Table):
    """The volume of metal boxes by shape and trade size."""

    volumes: Mapping[BoxShape, Mapping[str, CubicInches]]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class BoxDepths(Table):
    """The least inside depth of a box by the largest conductor on the device in it."""

    by_size: Mapping[str, Inches]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class BoxFillSections:
    """Where the rule for each kind of content stands."""

    conductors: str
    clamps: str
    support_fittings: str
    yokes: str
    grounding_conductors: str
    terminal_blocks: str


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class IsolatedGrounding(Table):
    """Whether a second, isolated set of grounding conductors has an allowance of its own."""

    counted_apart: bool


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class BoxFillAllowances(Table):
    """What the contents of a box count for. Counts are of allowances, each the volume of one conductor of the governing size.

    ``grounding_counted_together`` is how many grounding conductors share the one allowance: all of them, if nothing is said.
    """

    per_conductor: Mapping[str, CubicInches]
    sections: BoxFillSections
    isolated_grounding: IsolatedGrounding
    loop_length: Inches
    allowances_per_loop: int
    allowances_for_clamps: int
    allowances_per_fitting_kind: int
    allowances_per_gang: int
    allowances_for_grounding: int
    allowances_per_terminal_block: int
    canopy_fixture_wires: int
    canopy_wires_smaller_than: str
    grounding_counted_together: int | None = None
    allowance_per_further_grounding: float = 0.0

    def __post_init__(self) -> None:
        """Refuses allowances of nothing, and a canopy limit that has no allowance to compare by."""
        if self.canopy_wires_smaller_than not in self.per_conductor:
            raise CodeTableError(
                "box_fill.canopy_wires_smaller_than: "
                + unknown_name("wire size", self.canopy_wires_smaller_than, self.per_conductor)
            )
        if min(self.per_conductor.values()) <= 0:
            raise CodeTableError("box_fill.per_conductor: a conductor counts for nothing")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Resistance:
    """Ohms per 1000 ft of solid and of stranded conductors."""

    solid: Mapping[str, float]
    stranded: Mapping[str, float]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ConductorProperties(Table):
    """Area in circular mils and direct-current resistance at 75 degC. The order of wire sizes is the order of areas."""

    area: Mapping[str, int]
    copper: Resistance
    aluminum: Resistance

    def of(self, material: Material) -> Resistance:
        """The resistances for ``material``."""
        return self.copper if material is Material.COPPER else self.aluminum

    def larger(self, size: str, other: str) -> bool:
        """Whether ``size`` is a larger wire than ``other``."""
        return self.area[size] > self.area[other]

    def rising(self, sizes: Iterable[str]) -> list[str]:
        """``sizes`` from the smallest to the largest."""
        return sorted(sizes, key=self.area.__getitem__)

    def check(self, size: str, where: str) -> None:
        """Refuses a size that stands nowhere in this table."""
        if size not in self.area:
            raise CodeTableError(f"{where}: {unknown_name('wire size', size, self.area)}")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TerminationColumns:
    """The column that terminals allow when nothing is said of their listing, by the size of the conductor."""

    small_up_to: str
    small: Column
    large: Column


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CableLimit(Table):
    """The column that caps a cable's ampacity, and the one its correction starts from."""

    column: Column
    insulation: Column | None = None
    up_to: str | None = None
    only_in_thermal_insulation: bool = False


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TemperatureLimits(Table):
    """What a conductor ends on and what cable it is in, as limits on its temperature column."""

    terminations: TerminationColumns
    cables: Mapping[str, CableLimit]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RunLimits(Table):
    """How far a point of a run may be from an outlet, and the shortest run that needs one."""

    minimum_cite: str
    reach: Inches
    minimum: Inches

    def __post_init__(self) -> None:
        """Refuses a reach of nothing: no number of outlets would do."""
        if self.reach <= 0:
            raise CodeTableError("spacing: the reach is nothing")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Spacing(Table):
    """Receptacle spacing along walls and counters."""

    wall: RunLimits
    counter: RunLimits
