"""Words of the trade: named sets of a plan's words, each once, with the section that speaks of it.

Rules, survey and review ask these by name. A set that stood twice forked sooner or later and gave two answers, so a house test bars
literal sets of four or more such words elsewhere, and smaller ones that repeat a set of this module.
"""

from typing import Final

from nailplate.plan.words import (
    ApplianceKind,
    BoxShape,
    CableType,
    DeviceKind,
    Exposure,
    FixtureKind,
    How,
    LevelKind,
    OpeningKind,
    Purpose,
    RacewayKind,
    Regime,
    Use,
    WallKind,
)

# What rooms are used for

HABITABLE: Final = frozenset(
    {
        Use.KITCHEN,
        Use.LIVING,
        Use.FAMILY,
        Use.DINING,
        Use.BREAKFAST,
        Use.BEDROOM,
        Use.LOFT_SLEEPING,
        Use.DEN,
        Use.LIBRARY,
        Use.OFFICE,
        Use.SUNROOM,
        Use.RECREATION,
    }
)
"""Rooms for living, sleeping, eating and cooking: the list of 210.52(A), and habitable space as the IRC's R202 has it."""

SURELY_HABITABLE: Final = HABITABLE - {Use.KITCHEN, Use.SUNROOM}
"""Habitable rooms of 210.70(A)(1) in every reading, apart from kitchens, which that section names by themselves."""

OCCUPIABLE: Final = HABITABLE | {Use.BATHROOM, Use.TOILET, Use.HALLWAY, Use.FOYER, Use.STAIRWAY}
"""Bathrooms, halls, stairs and habitable rooms, 404.2(C)."""

AT_TIMES_OCCUPIED: Final = frozenset({Use.LAUNDRY, Use.UTILITY, Use.GARAGE, Use.BASEMENT, Use.ACCESSORY})
"""Places where people are at times; whether they are occupiable, 404.2(C), is for the building code in force."""

ARC_FAULT_ROOMS: Final = HABITABLE | {Use.CLOSET, Use.HALLWAY, Use.FOYER, Use.LAUNDRY}
"""The rooms of 210.12(A), from 2023 on (B), which also speaks of similar rooms."""

GATHERING: Final = frozenset({Use.LIVING, Use.FAMILY, Use.KITCHEN, Use.DINING, Use.BREAKFAST})
"""Where a story is lived in by day, for alarms outside its bedrooms, IRC R314.3 (common practice)."""

FOOD_ROOMS: Final = frozenset({Use.KITCHEN, Use.PANTRY, Use.BREAKFAST, Use.DINING})
"""Kitchen, pantry, breakfast and dining room: 210.52(B)(1), and 210.52(C), which speaks of their counters."""

OUTDOOR: Final = frozenset({Use.OUTDOORS, Use.PORCH, Use.DECK, Use.BALCONY})
"""Places outside the walls, 210.52(E) and 210.8(A)(3)."""

RAISED_OUTDOOR: Final = OUTDOOR - {Use.OUTDOORS}
"""Balconies, decks and porches, 210.52(E)(3)."""

WEATHER_UNSAID: Final = OUTDOOR | {Use.CRAWL_SPACE}
"""Where a plan has to say how wet it gets: Article 100, damp and wet locations."""

OUTSIDE_THE_WALLS: Final = OUTDOOR | {Use.GARAGE, Use.ACCESSORY}
"""Places that may lie outside the walls of their level; a garage may be a carport."""

SERVICE_SPACES: Final = frozenset({Use.ATTIC, Use.CRAWL_SPACE, Use.UTILITY, Use.BASEMENT})
"""Attics, underfloor spaces, utility rooms and basements: 210.70(C), and 210.70(A)(3) until 2017."""

OFTEN_UNFINISHED: Final = frozenset({Use.BASEMENT, Use.STORAGE, Use.UTILITY, Use.LAUNDRY})
"""What a part of a basement is used for that may be left unfinished, 210.52(G)(3); the plan says whether it is."""

BARE_WHERE_UNFINISHED: Final = SERVICE_SPACES | {Use.STORAGE, Use.STAIRWAY}
"""Uses of a space whose framing stays bare where it is unfinished (common practice)."""

# Levels, walls, openings

INDOOR_LEVELS: Final = frozenset({LevelKind.STOREY, LevelKind.LOFT, LevelKind.BASEMENT, LevelKind.CRAWL_SPACE, LevelKind.ATTIC})
"""Levels inside the house, which an indoor stair joins, 210.70(A)(2)."""

LEVELS_OUTSIDE: Final = frozenset({LevelKind.CRAWL_SPACE, LevelKind.ROOF, LevelKind.GRADE, LevelKind.DECK})
"""Levels outside the dry rooms of a house: none of their area counts, 220.11, and what is there may be damp or wet."""

FULL_WALLS: Final = frozenset({WallKind.EXTERIOR, WallKind.INTERIOR, WallKind.GLASS})
"""Walls up to the ceiling, which stop what railings and half walls do not."""

FRAMED_WALLS: Final = frozenset({WallKind.EXTERIOR, WallKind.INTERIOR, WallKind.HALF})
"""Walls of framing, which cable runs in and boxes are fastened to."""

NO_WALL_BOX: Final = frozenset({WallKind.GLASS, WallKind.HALF, WallKind.RAILING})
"""Walls that a box for a receptacle has no place in at its usual height (common practice)."""

DOORS: Final = frozenset({OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.FRENCH_DOOR, OpeningKind.POCKET_DOOR})
"""Openings with a leaf that people go through."""

CLOSING: Final = DOORS | {OpeningKind.VEHICLE_DOOR}
"""Openings in a wall, down to the floor, with a leaf."""

DOORWAYS: Final = CLOSING | {OpeningKind.CASED}
"""Openings in a wall down to the floor."""

# Fixtures

SINKS: Final = frozenset(
    {
        FixtureKind.KITCHEN_SINK,
        FixtureKind.BAR_SINK,
        FixtureKind.LAUNDRY_SINK,
        FixtureKind.UTILITY_SINK,
        FixtureKind.BASIN,
    }
)
"""Sinks of 210.8(A)(7) and 210.52(C), basins among them."""

BATH_FIXTURES: Final = frozenset({FixtureKind.TOILET, FixtureKind.TUB, FixtureKind.SHOWER, FixtureKind.BIDET})
"""What makes an area with a basin a bathroom: Article 100, bathroom."""

HUNG_FIXTURES: Final = frozenset({FixtureKind.SHELF, FixtureKind.CLOSET_ROD, FixtureKind.DUCT, FixtureKind.PIPE})
"""Fixtures that begin at their height and not at the floor."""

# Devices and outlets

HAND_SWITCHES: Final = frozenset({DeviceKind.SWITCH, DeviceKind.DIMMER, DeviceKind.TIMER, DeviceKind.FAN_CONTROL})
"""Switches that are set by hand where they stand."""

HANDLES: Final = HAND_SWITCHES | {DeviceKind.DISCONNECT}
"""Switches with a handle that is reached for, 404.8(A)."""

SWITCHES: Final = HAND_SWITCHES | {DeviceKind.SENSOR}
"""What a light or fan is controlled by: 404.2, 210.70."""

CONTROLS: Final = SWITCHES | {DeviceKind.THERMOSTAT}
"""Devices that open one conductor of what they control."""

SWITCHING: Final = CONTROLS | {DeviceKind.DISCONNECT}
"""Everything that switches what is behind it: Article 100, switch."""

NOT_OUTLETS: Final = SWITCHING | {DeviceKind.BLANK_GFCI}
"""Devices at which no current is taken: Article 100, outlet and device."""

YOKED: Final = NOT_OUTLETS | {DeviceKind.RECEPTACLE, DeviceKind.USB_OUTLET}
"""Devices on a yoke or strap, 314.16(B)(4)."""

SHALLOW: Final = YOKED - {DeviceKind.DISCONNECT, DeviceKind.THERMOSTAT}
"""Wiring devices of the usual depth behind their yoke (common practice)."""

ALARMS: Final = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.HEAT_ALARM, DeviceKind.CO_ALARM})
"""Smoke, heat and carbon monoxide alarms, IRC R314 and R315."""

LIGHTS_AND_FANS: Final = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK, DeviceKind.FAN})
"""What hangs from or is part of a lighting outlet."""

ON_ONE_CIRCUIT: Final = ALARMS | LIGHTS_AND_FANS | {DeviceKind.EXHAUST_FAN}
"""Outlets that two circuits never come to."""

SEEN_AND_TAKEN_OFF: Final = YOKED | ALARMS | LIGHTS_AND_FANS
"""What closes a box so that one gets at it by taking the device or its plate off, 314.29."""

WIRED_OUTLETS: Final = frozenset({DeviceKind.CONNECTION, DeviceKind.FAN, DeviceKind.EXHAUST_FAN, DeviceKind.USB_OUTLET})
"""Hard-wired outlets for equipment, lights apart: 210.8(F)."""

# Appliances

COOKING: Final = frozenset({ApplianceKind.RANGE, ApplianceKind.WALL_OVEN, ApplianceKind.COOKTOP})
"""Household cooking appliances of Table 220.55 and 210.19(A)(3)."""

WATER_HEATING: Final = frozenset({ApplianceKind.WATER_HEATER, ApplianceKind.TANKLESS_HEATER})
"""Water heaters, 422.13."""

SPACE_HEATING: Final = frozenset({ApplianceKind.BASEBOARD_HEATER, ApplianceKind.WALL_HEATER, ApplianceKind.FURNACE})
"""Fixed electric space heating, Article 424."""

COOLING: Final = frozenset({ApplianceKind.HEAT_PUMP, ApplianceKind.MINI_SPLIT, ApplianceKind.AIR_CONDITIONER})
"""Equipment with a hermetic compressor, Article 440."""

HVAC: Final = COOLING | {ApplianceKind.FURNACE}
"""Heating and cooling equipment that is serviced with tools and gauges, 210.63."""

MOTOR_DRIVEN: Final = frozenset(
    {
        ApplianceKind.WELL_PUMP,
        ApplianceKind.SUMP_PUMP,
        ApplianceKind.PRESSURE_PUMP,
        ApplianceKind.GARAGE_DOOR_OPENER,
        ApplianceKind.DISPOSER,
        ApplianceKind.COMPACTOR,
        ApplianceKind.EVAPORATIVE_COOLER,
    }
)
"""Appliances that are a motor and little else, Article 430."""

LAUNDRY_MACHINES: Final = frozenset({ApplianceKind.CLOTHES_WASHER, ApplianceKind.CLOTHES_DRYER, ApplianceKind.WASHER_DRYER})
"""What makes an area a laundry area, 210.52(F) and 210.8(A)(10)."""

CARRIED: Final = frozenset(
    {
        ApplianceKind.KETTLE,
        ApplianceKind.COFFEE_MAKER,
        ApplianceKind.TOASTER,
        ApplianceKind.HAIR_DRYER,
        ApplianceKind.PORTABLE_HEATER,
        ApplianceKind.COMPUTER,
        ApplianceKind.TELEVISION,
    }
)
"""Plugged in and out by whoever lives there; what the code asks of a circuit does not count them one by one (common practice)."""

COUNTER_HEATERS: Final = frozenset(
    {ApplianceKind.KETTLE, ApplianceKind.MICROWAVE, ApplianceKind.COFFEE_MAKER, ApplianceKind.TOASTER}
)
"""What heats at a kitchen counter and is switched on with others (common practice)."""

HEAT_MAKERS: Final = COUNTER_HEATERS | {ApplianceKind.HAIR_DRYER, ApplianceKind.PORTABLE_HEATER}
"""Carried appliances that each take most of a circuit (common practice)."""

STAND_ON_COUNTERS: Final = CARRIED | {ApplianceKind.MICROWAVE, ApplianceKind.OTHER}
"""Appliances that stand on a counter and leave its receptacle free, 210.52(C)(5), unless they are fastened in place."""

IN_THE_ALLOWANCES: Final = CARRIED | {
    ApplianceKind.REFRIGERATOR,
    ApplianceKind.FREEZER,
    ApplianceKind.CLOTHES_WASHER,
    ApplianceKind.INVERTER,
}
"""Plugged into general, small-appliance or laundry circuits, whose allowances hold them, 220.52 (and an inverter is a source)."""

TAKES_NO_FLOOR: Final = CARRIED | {ApplianceKind.BASEBOARD_HEATER}
"""What is carried away, or is no deeper than the trim."""

FLOOR_STANDING: Final = LAUNDRY_MACHINES | {
    ApplianceKind.RANGE,
    ApplianceKind.REFRIGERATOR,
    ApplianceKind.FREEZER,
    ApplianceKind.DISHWASHER,
    ApplianceKind.WATER_HEATER,
    ApplianceKind.FURNACE,
}
"""What surely takes up floor, so that a footprint left out is asked for."""

FREE_STANDING: Final = LAUNDRY_MACHINES | {
    ApplianceKind.REFRIGERATOR,
    ApplianceKind.FREEZER,
    ApplianceKind.RANGE,
    ApplianceKind.WELDER,
}
"""On a cord and not fastened, 210.23(A), unless the plan says otherwise (common practice)."""

BUILT_IN_KITCHEN: Final = frozenset(
    {ApplianceKind.DISHWASHER, ApplianceKind.DISPOSER, ApplianceKind.COMPACTOR, ApplianceKind.MICROWAVE}
)
"""Built-in appliances whose instructions often ask for a circuit of their own (common practice); the plan has to say it."""

BUILT_IN: Final = (
    WATER_HEATING
    | SPACE_HEATING
    | (COOLING - {ApplianceKind.AIR_CONDITIONER})
    | (COOKING - {ApplianceKind.RANGE})
    | (BUILT_IN_KITCHEN - {ApplianceKind.MICROWAVE})
    | {ApplianceKind.RANGE_HOOD, ApplianceKind.WELL_PUMP, ApplianceKind.GARAGE_DOOR_OPENER}
    | {ApplianceKind.VENTILATOR, ApplianceKind.EXHAUST_FAN}
)
"""Fastened in place, 210.23(A)(2) and 220.53, whether or not they have a cord."""

KITCHEN_APPLIANCES: Final = COOKING | BUILT_IN_KITCHEN | {ApplianceKind.REFRIGERATOR, ApplianceKind.RANGE_HOOD}
"""What a kitchen's receptacles away from its counters are for, 210.8(A)(6)."""

OFF_SMALL_APPLIANCE_CIRCUITS: Final = (
    COOKING | WATER_HEATING | (BUILT_IN_KITCHEN - {ApplianceKind.MICROWAVE}) | {ApplianceKind.RANGE_HOOD}
)
"""Built in, so that the small-appliance circuits of 210.52(B)(2) do not feed them."""

SET_IN_COUNTERS: Final = COOKING | {ApplianceKind.DISHWASHER}
"""What stands in a run of counter and breaks or carries its top, 210.52(C)."""

NOT_EASILY_MOVED: Final = (
    (FLOOR_STANDING | COOKING | BUILT_IN_KITCHEN | {ApplianceKind.RANGE_HOOD}) - {ApplianceKind.MICROWAVE}
) | {ApplianceKind.SUMP_PUMP, ApplianceKind.GARAGE_DOOR_OPENER}
"""Appliances in a space of their own that are not easily moved, 406.12 and 210.8(A)."""

NEVER_LONG: Final = LAUNDRY_MACHINES | {
    ApplianceKind.DISHWASHER,
    ApplianceKind.MICROWAVE,
    ApplianceKind.REFRIGERATOR,
    ApplianceKind.FREEZER,
    ApplianceKind.WELDER,
}
"""Taken to pause within three hours, Article 100, continuous load, unless the plan says otherwise (common practice)."""

ARTICLE_422: Final = (
    COOKING
    | BUILT_IN_KITCHEN
    | LAUNDRY_MACHINES
    | WATER_HEATING
    | {ApplianceKind.RANGE_HOOD, ApplianceKind.REFRIGERATOR, ApplianceKind.FREEZER}
    | {ApplianceKind.VENTILATOR, ApplianceKind.EXHAUST_FAN, ApplianceKind.GARAGE_DOOR_OPENER}
    | {ApplianceKind.ELECTRONIC_TOILET}
)
"""Appliances of Article 422, of which 422.31 wants a disconnect."""

SERVICED_EQUIPMENT: Final = (
    WATER_HEATING
    | {ApplianceKind.FURNACE, ApplianceKind.HEAT_PUMP, ApplianceKind.AIR_CONDITIONER, ApplianceKind.VENTILATOR}
    | {ApplianceKind.WELL_PUMP, ApplianceKind.PRESSURE_PUMP, ApplianceKind.SUMP_PUMP}
    | {ApplianceKind.CONVERTER, ApplianceKind.INVERTER}
)
"""Equipment that needs service and may stand in an attic, crawl space or utility room, 210.70(C)."""

MAY_BURN_FUEL: Final = (
    COOKING
    | WATER_HEATING
    | {ApplianceKind.CLOTHES_DRYER, ApplianceKind.WALL_HEATER, ApplianceKind.FURNACE}
    | {ApplianceKind.REFRIGERATOR, ApplianceKind.OTHER}
)
"""Kinds of appliance that burn fuel in some houses and none in others, IRC R315.2."""

# Circuits and cable

RESERVED_CIRCUITS: Final = frozenset({Purpose.SMALL_APPLIANCE, Purpose.LAUNDRY, Purpose.BATHROOM, Purpose.GARAGE})
"""The 20 A circuits of 210.11(C); their load is an allowance or is not counted."""

POWER_CABLE: Final = frozenset({CableType.NM_B, CableType.UF_B, CableType.AC, CableType.SE})
"""Cables of which every insulated conductor is for power."""

ON_COILS: Final = frozenset({CableType.NM_B, CableType.UF_B, CableType.AC, CableType.MC})
"""Cable that is sold on coils (common practice)."""

METAL_AROUND: Final = frozenset({CableType.MC, CableType.AC, CableType.RACEWAY})
"""Wiring methods that may bring metal around the conductors, 250.118 and 210.12."""

RIGID_RACEWAYS: Final = frozenset({RacewayKind.RMC, RacewayKind.IMC, RacewayKind.EMT, RacewayKind.PVC})
"""Raceways that 300.4 leaves without a nail plate: rigid metal, intermediate metal and PVC conduit, and EMT."""

OUTSIDE_FRAMING: Final = frozenset({How.SURFACE, How.ATTIC, How.UNDER_CHASSIS, How.RACEWAY})
"""Ways to run a cable outside the framing of a wall."""

ROUND_OR_SQUARE: Final = frozenset({BoxShape.ROUND, BoxShape.OCTAGON, BoxShape.SQUARE, BoxShape.PANCAKE})
"""Shapes of box that are as wide as high (common practice)."""

# The rest

NOT_DWELLINGS: Final = frozenset(
    {Regime.RECREATIONAL_VEHICLE, Regime.PARK_TRAILER, Regime.MANUFACTURED_HOME, Regime.NOT_A_DWELLING}
)
"""Where the rules that speak of dwelling units only are not those in force: Articles 550, 551 and 552."""

FROM_DRY_TO_WET: Final = (Exposure.DRY, Exposure.DAMP, Exposure.WET)
"""How wet places get, in rising order: Article 100, location."""

# Voltages

LINE_TO_NEUTRAL: Final = 130.0
"""Volts up to which a circuit or an appliance is one of 120 V, as marked 115 V to 127 V (common practice)."""

TWO_LEGS: Final = 200.0
"""Volts from which a circuit or an appliance takes both legs: 208 V and 240 V (common practice)."""

LEVELS_AS_READ: Final = (
    LevelKind.STOREY,
    LevelKind.LOFT,
    LevelKind.BASEMENT,
    LevelKind.CRAWL_SPACE,
    LevelKind.ATTIC,
    LevelKind.ROOF,
    LevelKind.DECK,
    LevelKind.GRADE,
)
"""Levels in the order in which sheets show them: the house's own floors, then what is around it (common practice)."""
