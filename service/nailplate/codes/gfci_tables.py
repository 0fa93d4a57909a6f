"""The lists of places, appliances and outdoor outlets that are protected from ground faults, as typed, frozen data.

Each place and appliance is an entry of its own, so that a local amendment can take one of them out or set its limit.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from nailplate.codes.tables import Table
from nailplate.units import Amperes, Volts


class GfciItem(StrEnum):
    """An item of the list in 210.8(A)."""

    BATHROOM = "bathrooms"
    GARAGE = "garages"
    ACCESSORY = "accessory_buildings"
    OUTDOORS = "outdoors"
    CRAWL_SPACE = "crawl_spaces"
    BASEMENT = "basements"
    KITCHEN = "kitchens"
    FOOD_AREA = "food_areas"
    SINK = "sinks"
    TUB = "tubs_and_showers"
    LAUNDRY = "laundry_areas"
    DAMP = "damp_places"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GfciLocation:
    """One listed place: whether its receptacles are protected, and up to which ratings; no amperes where any rating is meant."""

    section: str
    what: str
    applies: bool
    volts: Volts
    amperes: Amperes | None = None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GfciLocations(Table):
    """Places whose receptacles are protected, and how their words are to be read: those of a dwelling, or of another class."""

    through_doorways: bool
    through_windows: bool
    finished_basements: bool
    whole_kitchens: bool
    raised_accessory_floors: bool
    items: Mapping[GfciItem, GfciLocation]
    spares_dedicated_spaces: bool = False

    def lists(self, item: GfciItem) -> bool:
        """Whether the receptacles of such a place are protected."""
        return self.items[item].applies


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GfciAppliance:
    """One listed appliance."""

    section: str
    applies: bool
    only_electric: bool = False


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GfciAppliances(Table):
    """The appliances whose branch circuit or outlet is protected, up to what rating, and whether a built-in device will do."""

    amperes: Amperes
    built_in_serves: bool
    kinds: Mapping[str, GfciAppliance]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GfciOutdoorOutlets(Table):
    """Outdoor outlets other than receptacles: up to what circuit, at what else, and the day on which the excepted HVAC comes in.

    ``cooling_from`` is a date of permits; before it listed HVAC equipment is left out.
    """

    amperes: Amperes
    garages_and_accessory: bool
    cooling: bool
    cooling_from: str
    only_variable_speed_waits: bool
