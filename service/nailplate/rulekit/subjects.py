"""What a reader of a report would name as looked at: each rule says which of these it is about.

A report names every subject that its rules did not cover, so that silence is never taken for a pass. A subject that no rule here
is about yet stands in the list all the same: it is named as not covered until there is one.
"""

from enum import StrEnum


class Subject(StrEnum):
    """A subject of a wiring plan, in the words of a report."""

    # Circuits and cable
    FED = "whether every outlet is fed from its panel, and every cable matches its circuit"
    BREAKERS_AND_WIRE = "breakers and the wire they protect"
    RECEPTACLE_RATINGS = "ratings of receptacles on their circuits"
    REQUIRED_CIRCUITS = "small-appliance, laundry, bathroom, garage and lighting circuits, and what they may serve"
    APPLIANCE_CIRCUITS = "circuits of ranges, water heaters, fixed heat, motors and air conditioning"
    BRANCH_LOADS = "loads on a circuit, continuous loads and cord-connected shares"
    MULTIWIRE = "multiwire circuits"
    VOLTAGE_DROP = "voltage drop"
    GROUNDING_CONDUCTORS = "sizes of equipment grounding conductors"
    PANELS = "panel ratings, spaces and balance"
    BUNDLES = "bundles of cable in insulation"
    # Supply
    SUPPLY_LOAD = "the service or feeder and its load"
    BONDING = "neutral bond, grounding electrode and chassis bond"
    SURGE_AND_EMERGENCY = "surge protection and the emergency disconnect"
    BUILDING_CLASS = "which rules the house is built under"
    # Placement
    WALL_RECEPTACLES = "receptacle spacing along walls, in halls, foyers and lofts"
    COUNTER_RECEPTACLES = "receptacles at kitchen counters, islands and peninsulas"
    ROOM_DIVIDERS = "room dividers and railings"
    OTHER_RECEPTACLES = "bath, outdoor, deck, laundry, garage, basement and equipment receptacles"
    PANEL_PLACES = "working space, place and height of panels and handles"
    ALARMS = "smoke and carbon monoxide alarms"
    USUAL_PLACES = "usual heights, and clearances of fans and heaters"
    # Switching
    LIGHTS = "required lights and their switches, stairs included"
    SWITCHING = "whether the switches work as wired, and neutrals at switches"
    ALARM_POWER = "power and interconnection of alarms"
    # Boxes
    BOX_FILL = "box fill"
    BOXES = "depth, access, damp and wet rating and setback of boxes"
    BOX_SUPPORT = "boxes that carry luminaires and fans"
    # Protection
    GFCI_RECEPTACLES = "GFCI protection of receptacles by place"
    GFCI_OTHER = "GFCI for appliances, outdoor outlets that are no receptacles, and crawl-space lights"
    GFCI_DEVICES = "whether GFCI devices are readily accessible and not in series"
    AFCI = "AFCI protection"
    RECEPTACLE_TYPES = "tamper-resistant, USB and split receptacles"
    WET_PLACES = "weather-resistant receptacles, covers and luminaires in damp and wet places"
    TUB_ZONES = "receptacles, luminaires and switches in tub and shower zones"
    CLOSETS_AND_TRACK = "luminaires in closets and track lighting"
    DISCONNECTS = "cords and disconnects of appliances"
    # Rough-in
    HOLES_AND_SUPPORTS = "holes, notches, plates, supports and bends of cable"
    CABLE_PLACES = "cable in damp or wet places, exposed, or under a chassis"
    CABLE_ROUTES = "cables across openings, close under a roof deck, or beside low-voltage cable"
    FREE_CONDUCTORS = "free conductors in boxes and boxes in fire-rated walls"
    INLETS = "place of a supply inlet and length of its cord"
    RECESSED = "recessed luminaires in insulation"
