"""What protection rests on: ratings, ground-fault devices and what they feed, places that require them, cord paths."""

from nailplate.survey.protection.cord_connected import connection_of, is_behind, is_served, others_on_circuit, plugged_into
from nailplate.survey.protection.cords import DOORWAYS, DOORWAYS_AND_WINDOWS, NOTHING, barriers_on, plug_of
from nailplate.survey.protection.gfci_places import GfciPlace, GfciPlaces, places_by_cord, places_by_room
from nailplate.survey.protection.ground_faults import (
    GroundFaultProtection,
    appliance_protection,
    at_or_below,
    ground_fault_protection,
    is_gfci,
    outlets_of,
    protects_people,
    unknown_upstream,
    way_from_panel,
)
from nailplate.survey.protection.ratings import (
    NO_ROOM,
    HomeRun,
    Supplied,
    appliances_served,
    home_run,
    outlet_type_interrupter,
    receptacle_amperes,
    receptacle_volts,
    supplied,
)
from nailplate.survey.protection.ready_access import Obstacle, is_readily_accessible, obstacle

__all__ = [
    "DOORWAYS",
    "DOORWAYS_AND_WINDOWS",
    "NOTHING",
    "NO_ROOM",
    "GfciPlace",
    "GfciPlaces",
    "GroundFaultProtection",
    "HomeRun",
    "Obstacle",
    "Supplied",
    "appliance_protection",
    "appliances_served",
    "at_or_below",
    "barriers_on",
    "connection_of",
    "ground_fault_protection",
    "home_run",
    "is_behind",
    "is_gfci",
    "is_readily_accessible",
    "is_served",
    "obstacle",
    "others_on_circuit",
    "outlet_type_interrupter",
    "outlets_of",
    "places_by_cord",
    "places_by_room",
    "plug_of",
    "plugged_into",
    "protects_people",
    "receptacle_amperes",
    "receptacle_volts",
    "supplied",
    "unknown_upstream",
    "way_from_panel",
]
