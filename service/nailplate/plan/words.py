"""The named choices of a plan: kinds of part, ratings and arrangements, each as the trade says it."""

from enum import StrEnum


class EditionName(StrEnum):
    """An edition of the National Electrical Code (NFPA 70)."""

    NEC_2017 = "2017"
    NEC_2020 = "2020"
    NEC_2023 = "2023"
    NEC_2026 = "2026"


class ResidentialCode(StrEnum):
    """An edition of the International Residential Code."""

    IRC_2018 = "2018"
    IRC_2021 = "2021"
    IRC_2024 = "2024"
    IRC_2027 = "2027"


class Regime(StrEnum):
    """Which rules a dwelling is built under."""

    DWELLING = "dwelling"
    RECREATIONAL_VEHICLE = "recreational_vehicle"
    PARK_TRAILER = "park_trailer"
    MANUFACTURED_HOME = "manufactured_home"
    NOT_A_DWELLING = "not_a_dwelling"
    UNDECIDED = "undecided"


class RuledAs(StrEnum):
    """How an authority read the code's words for one place."""

    PASS = "pass"  # noqa: S105 - an answer
    VIOLATION = "violation"


class Provision(StrEnum):
    """A permanent provision that makes a dwelling unit."""

    LIVING = "living"
    SLEEPING = "sleeping"
    COOKING = "cooking"
    SANITATION = "sanitation"


class BuildingKind(StrEnum):
    """The kind of building that a dwelling is, or is in."""

    ONE_FAMILY = "one_family"
    TOWNHOUSE = "townhouse"
    TWO_FAMILY = "two_family"
    MULTIFAMILY = "multifamily"


class LengthUnit(StrEnum):
    """The unit of bare numbers for lengths."""

    IN = "in"
    FT = "ft"
    MM = "mm"
    CM = "cm"
    M = "m"


class SupplyKind(StrEnum):
    """How power arrives."""

    SERVICE = "service"
    FEEDER = "feeder"
    CORD_INLET = "cord_inlet"
    GENERATOR = "generator"
    INVERTER = "inverter"


class SupplyVoltage(StrEnum):
    """A supply's system voltage."""

    V120 = "120"
    V120_240 = "120/240"
    V120_208 = "120/208"


class ElectrodeKind(StrEnum):
    """A grounding electrode."""

    ROD = "rod"
    CONCRETE_ENCASED = "concrete_encased"
    PLATE = "plate"
    GROUND_RING = "ground_ring"
    WATER_PIPE = "water_pipe"
    NONE = "none"


class SurgeProtectionType(StrEnum):
    """The type of a surge-protective device."""

    TYPE_1 = "1"
    TYPE_2 = "2"
    TYPE_3 = "3"
    NONE = "none"


class NeutralBond(StrEnum):
    """Whether the neutral is bonded to the enclosure here."""

    BONDED = "bonded"
    ISOLATED = "isolated"


class LevelKind(StrEnum):
    """What a level is."""

    STOREY = "storey"
    LOFT = "loft"
    BASEMENT = "basement"
    CRAWL_SPACE = "crawl_space"
    ATTIC = "attic"
    ROOF = "roof"
    GRADE = "grade"
    DECK = "deck"


class WallKind(StrEnum):
    """What a wall is."""

    EXTERIOR = "exterior"
    INTERIOR = "interior"
    HALF = "half"
    RAILING = "railing"
    GLASS = "glass"


class Face(StrEnum):
    """A face of the house, as the street sees it."""

    FRONT = "front"
    BACK = "back"
    SIDE = "side"


class Side(StrEnum):
    """A side of a wall, seen from its ``from`` toward its ``to``."""

    LEFT = "left"
    RIGHT = "right"


class FramingMaterial(StrEnum):
    """What framing is made of."""

    WOOD = "wood"
    STEEL = "steel"
    SIP = "sip"
    LOG = "log"
    ENGINEERED = "engineered"


class Member(StrEnum):
    """A framing member by its nominal size."""

    M2X2 = "2x2"
    M2X3 = "2x3"
    M2X4 = "2x4"
    M2X6 = "2x6"
    M2X8 = "2x8"
    M2X10 = "2x10"
    M2X12 = "2x12"


class Cavity(StrEnum):
    """What fills a wall's cavity."""

    NONE = "none"
    BATT = "batt"
    SPRAY_FOAM = "spray_foam"
    RIGID = "rigid"


class OpeningKind(StrEnum):
    """What an opening in a wall is."""

    DOOR = "door"
    CASED = "cased"
    WINDOW = "window"
    SLIDING_DOOR = "sliding_door"
    FRENCH_DOOR = "french_door"
    POCKET_DOOR = "pocket_door"
    FIXED_GLASS = "fixed_glass"
    VEHICLE_DOOR = "vehicle_door"


class Hinge(StrEnum):
    """The edge of an opening that its leaf is hinged at."""

    FROM = "from"
    TO = "to"


class SliderPanel(StrEnum):
    """One panel of a sliding door."""

    FIXED = "fixed"
    SLIDING = "sliding"


class Use(StrEnum):
    """What a room or area is used for."""

    KITCHEN = "kitchen"
    PANTRY = "pantry"
    LIVING = "living"
    FAMILY = "family"
    DINING = "dining"
    BREAKFAST = "breakfast"
    BEDROOM = "bedroom"
    LOFT_SLEEPING = "loft_sleeping"
    DEN = "den"
    LIBRARY = "library"
    OFFICE = "office"
    SUNROOM = "sunroom"
    RECREATION = "recreation"
    BATHROOM = "bathroom"
    TOILET = "toilet"
    HALLWAY = "hallway"
    FOYER = "foyer"
    STAIRWAY = "stairway"
    LAUNDRY = "laundry"
    CLOSET = "closet"
    STORAGE = "storage"
    UTILITY = "utility"
    GARAGE = "garage"
    BASEMENT = "basement"
    CRAWL_SPACE = "crawl_space"
    ATTIC = "attic"
    ACCESSORY = "accessory_building"
    PORCH = "porch"
    DECK = "deck"
    BALCONY = "balcony"
    OUTDOORS = "outdoors"


class Exposure(StrEnum):
    """How wet a place gets."""

    DRY = "dry"
    DAMP = "damp"
    WET = "wet"


class StairKind(StrEnum):
    """How one climbs."""

    STAIR = "stair"
    LADDER = "ladder"
    SHIPS_LADDER = "ships_ladder"
    ALTERNATING_TREAD = "alternating_tread"


class CounterKind(StrEnum):
    """What a counter or fixed cabinet is."""

    WALL = "wall"
    ISLAND = "island"
    PENINSULA = "peninsula"
    DIVIDER = "divider"
    TALL_CABINET = "tall_cabinet"


class FutureOutlet(StrEnum):
    """What is provided for a later outlet at an island or peninsula."""

    NONE = "none"
    BOX_AND_CABLE = "box_and_cable"
    RACEWAY = "raceway"
    SPACE_ONLY = "space_only"


class FixtureKind(StrEnum):
    """What is built in, apart from appliances."""

    KITCHEN_SINK = "kitchen_sink"
    BAR_SINK = "bar_sink"
    LAUNDRY_SINK = "laundry_sink"
    UTILITY_SINK = "utility_sink"
    BASIN = "basin"
    TUB = "tub"
    SHOWER = "shower"
    TOILET = "toilet"
    BIDET = "bidet"
    FIREPLACE = "fireplace"
    STOVE = "stove"
    CLOSET_ROD = "closet_rod"
    SHELF = "shelf"
    BED = "bed"
    DUCT = "duct"
    SUPPLY_REGISTER = "supply_register"
    PIPE = "pipe"


class Enclosure(StrEnum):
    """What closes off a tub or shower."""

    NONE = "none"
    CURTAIN = "curtain"
    GLASS = "glass"
    WALL = "wall"


class ApplianceKind(StrEnum):
    """What an appliance is."""

    RANGE = "range"
    WALL_OVEN = "wall_oven"
    COOKTOP = "cooktop"
    MICROWAVE = "microwave"
    RANGE_HOOD = "range_hood"
    REFRIGERATOR = "refrigerator"
    FREEZER = "freezer"
    DISHWASHER = "dishwasher"
    DISPOSER = "disposer"
    COMPACTOR = "compactor"
    CLOTHES_WASHER = "clothes_washer"
    CLOTHES_DRYER = "clothes_dryer"
    WASHER_DRYER = "washer_dryer"
    WATER_HEATER = "water_heater"
    TANKLESS_HEATER = "tankless_heater"
    BASEBOARD_HEATER = "baseboard_heater"
    WALL_HEATER = "wall_heater"
    FURNACE = "furnace"
    HEAT_PUMP = "heat_pump"
    MINI_SPLIT = "mini_split"
    AIR_CONDITIONER = "air_conditioner"
    EVAPORATIVE_COOLER = "evaporative_cooler"
    VENTILATOR = "ventilator"
    EXHAUST_FAN = "exhaust_fan"
    EVSE = "evse"
    WELDER = "welder"
    WELL_PUMP = "well_pump"
    SUMP_PUMP = "sump_pump"
    PRESSURE_PUMP = "pressure_pump"
    GARAGE_DOOR_OPENER = "garage_door_opener"
    CONVERTER = "converter"
    INVERTER = "inverter"
    KETTLE = "kettle"
    COFFEE_MAKER = "coffee_maker"
    TOASTER = "toaster"
    HAIR_DRYER = "hair_dryer"
    PORTABLE_HEATER = "portable_heater"
    ELECTRONIC_TOILET = "electronic_toilet"
    COMPUTER = "computer"
    TELEVISION = "television"
    OTHER = "other"


class Connection(StrEnum):
    """How an appliance is connected."""

    CORD = "cord"
    HARD_WIRED = "hard_wired"


class Fuel(StrEnum):
    """The fuel that an appliance uses."""

    NONE = "none"
    PROPANE = "propane"
    NATURAL_GAS = "natural_gas"
    WOOD = "wood"
    OIL = "oil"
    PELLET = "pellet"


class DisconnectKind(StrEnum):
    """What disconnects an appliance."""

    BREAKER = "breaker"
    SWITCH = "switch"
    UNIT_SWITCH = "unit_switch"
    CORD_AND_PLUG = "cord_and_plug"
    NONE = "none"


class EnclosureDoor(StrEnum):
    """How the door or hinged cover of a disconnect's enclosure opens; one with a dead front exposes no energized part."""

    DEAD_FRONT = "dead_front"
    TOOL = "tool"
    LOCKED = "locked"
    LOCKABLE = "lockable"
    BY_HAND = "by_hand"


class PanelKind(StrEnum):
    """What an electrical panel is."""

    SERVICE = "service"
    SUBPANEL = "subpanel"
    LOAD_CENTER = "load_center"
    METER_MAIN = "meter_main"


class Protects(StrEnum):
    """What a breaker does beside opening on overcurrent."""

    NONE = "none"
    GFCI = "gfci"
    AFCI = "afci"
    DUAL = "dual"

    @property
    def gfci(self) -> bool:
        """Whether it protects people from ground faults (Class A)."""
        return self in (Protects.GFCI, Protects.DUAL)

    @property
    def afci(self) -> bool:
        """Whether it is a combination-type AFCI device."""
        return self in (Protects.AFCI, Protects.DUAL)


class CableType(StrEnum):
    """A wiring method by its code type."""

    NM_B = "NM-B"
    UF_B = "UF-B"
    MC = "MC"
    AC = "AC"
    SE = "SE"
    RACEWAY = "raceway"
    CORD = "cord"


class Purpose(StrEnum):
    """What a circuit is for."""

    GENERAL = "general"
    SMALL_APPLIANCE = "small_appliance"
    LAUNDRY = "laundry"
    BATHROOM = "bathroom"
    GARAGE = "garage"
    INDIVIDUAL = "individual"
    ALARM = "alarm"


class Leg(StrEnum):
    """One of the two ungrounded legs of a panel."""

    A = "A"
    B = "B"


class Tie(StrEnum):
    """What opens the hots of a multiwire circuit together."""

    COMMON_TRIP = "common_trip"
    HANDLE_TIE = "handle_tie"
    NONE = "none"


class BoxShape(StrEnum):
    """The shape of a box."""

    DEVICE = "device"
    ROUND = "round"
    OCTAGON = "octagon"
    SQUARE = "square"
    PANCAKE = "pancake"
    WEATHERPROOF = "weatherproof"
    FLOOR = "floor"


class BoxMaterial(StrEnum):
    """What a box is made of."""

    METAL = "metal"
    NONMETALLIC = "nonmetallic"


class Clamps(StrEnum):
    """How cables are held at a box."""

    NONE = "none"
    INTERNAL = "internal"
    CONNECTOR = "connector"


class SupportFitting(StrEnum):
    """A fitting inside a box that a luminaire hangs from."""

    STUD = "stud"
    HICKEY = "hickey"


class Access(StrEnum):
    """What gives access to a box afterwards."""

    PLATE = "plate"
    PANEL = "panel"
    CABINET_CUTOUT = "cabinet_cutout"
    NONE = "none"


class DeviceKind(StrEnum):
    """What a device or outlet is."""

    RECEPTACLE = "receptacle"
    SWITCH = "switch"
    DIMMER = "dimmer"
    SENSOR = "sensor"
    TIMER = "timer"
    FAN_CONTROL = "fan_control"
    LUMINAIRE = "luminaire"
    TRACK = "track"
    FAN = "fan"
    EXHAUST_FAN = "exhaust_fan"
    SMOKE_ALARM = "smoke_alarm"
    CO_ALARM = "co_alarm"
    HEAT_ALARM = "heat_alarm"
    CONNECTION = "connection"
    DISCONNECT = "disconnect"
    BLANK_GFCI = "blank_gfci"
    THERMOSTAT = "thermostat"
    CHIME = "chime"
    USB_OUTLET = "usb_outlet"


class FedFrom(StrEnum):
    """What feeds a device: the circuit itself by way of splices or LINE terminals, or the LOAD side of a protective device."""

    CIRCUIT = "circuit"
    LOAD_SIDE = "load_side"


class SwitchedHalf(StrEnum):
    """Which half of a duplex receptacle is switched."""

    NONE = "none"
    UPPER = "upper"
    LOWER = "lower"
    BOTH = "both"


class Ways(StrEnum):
    """How many positions of a circuit a switch joins."""

    SINGLE_POLE = "single_pole"
    DOUBLE_POLE = "double_pole"
    THREE_WAY = "three_way"
    FOUR_WAY = "four_way"


class Cover(StrEnum):
    """What covers a receptacle outside. In-use covers are outlet box hoods; an in-use enclosure is listed and no hood."""

    NONE = "none"
    WEATHERPROOF = "weatherproof"
    IN_USE = "in_use"
    EXTRA_DUTY_IN_USE = "extra_duty_in_use"
    IN_USE_ENCLOSURE = "in_use_enclosure"


class Opens(StrEnum):
    """Which conductors a switch opens."""

    HOT = "hot"
    NEUTRAL = "neutral"
    BOTH = "both"


class Orientation(StrEnum):
    """How a receptacle lies."""

    VERTICAL = "vertical"
    HORIZONTAL = "horizontal"
    FACE_UP = "face_up"


class Mount(StrEnum):
    """Where a device sits."""

    WALL = "wall"
    FLOOR = "floor"
    CEILING = "ceiling"
    COUNTERTOP = "countertop"
    BELOW_COUNTER = "below_counter"
    DRAWER = "drawer"
    BASEBOARD_HEATER = "baseboard_heater"


class Listing(StrEnum):
    """A special listing of a receptacle assembly, or of a luminaire that may stand in a closet's storage space."""

    STANDARD = "standard"
    COUNTERTOP = "countertop"
    WORK_SURFACE = "work_surface"
    FLOOR = "floor"
    STORAGE_SPACE = "storage_space"


class LightSource(StrEnum):
    """What gives the light."""

    LED = "led"
    INCANDESCENT = "incandescent"
    FLUORESCENT = "fluorescent"


class LuminaireMount(StrEnum):
    """How a luminaire is mounted."""

    SURFACE = "surface"
    RECESSED = "recessed"
    PENDANT = "pendant"
    TRACK = "track"
    LAMPHOLDER = "lampholder"


class Sensing(StrEnum):
    """How a smoke alarm senses."""

    PHOTOELECTRIC = "photoelectric"
    IONIZATION = "ionization"
    DUAL = "dual"
    HEAT = "heat"


class AlarmPower(StrEnum):
    """What powers an alarm."""

    BUILDING_AND_BATTERY = "building_and_battery"
    BUILDING = "building"
    BATTERY = "battery"


class Interconnect(StrEnum):
    """How alarms sound together."""

    WIRED = "wired"
    WIRELESS = "wireless"
    NONE = "none"


class How(StrEnum):
    """How a cable runs."""

    BORED = "bored"
    ALONG_MEMBER = "along_member"
    NOTCH = "notch"
    SURFACE = "surface"
    ATTIC = "attic"
    UNDER_CHASSIS = "under_chassis"
    RACEWAY = "raceway"
    GROOVE = "groove"


class Plates(StrEnum):
    """Nail plates at a hole, notch or run."""

    NONE = "none"
    ONE_FACE = "one_face"
    BOTH_FACES = "both_faces"


class BendSide(StrEnum):
    """The side a flat cable is bent on."""

    FLAT = "flat"
    EDGE = "edge"


class MemberRole(StrEnum):
    """What a framing member does."""

    STUD = "stud"
    PLATE = "plate"
    JOIST = "joist"
    RAFTER = "rafter"
    BEAM = "beam"
    HEADER = "header"
    BLOCKING = "blocking"
    FURRING = "furring"


class NotchPlace(StrEnum):
    """Where along a joist or rafter a notch is cut."""

    END = "end"
    OUTER_THIRD = "outer_third"
    MIDDLE_THIRD = "middle_third"


class RacewayKind(StrEnum):
    """A raceway by its code type."""

    RMC = "RMC"
    IMC = "IMC"
    EMT = "EMT"
    PVC = "PVC"
    ENT = "ENT"
    FMC = "FMC"
    LFMC = "LFMC"
    LFNC = "LFNC"


class Guard(StrEnum):
    """What an exposed cable lies on or is guarded by."""

    NONE = "none"
    SURFACE = "surface"
    RUNNING_BOARD = "running_board"
    GUARD_STRIPS = "guard_strips"
    SLEEVE = "sleeve"


class AtticAccess(StrEnum):
    """How an attic is reached."""

    STAIR = "stair"
    SCUTTLE = "scuttle"
    NONE = "none"


class Decking(StrEnum):
    """The roof decking straight over a ceiling's cavity."""

    NONE = "none"
    WOOD = "wood"
    CORRUGATED_METAL = "corrugated_metal"
    METAL_ON_PURLINS = "metal_on_purlins"


class BoxFastening(StrEnum):
    """What a box is fastened to."""

    FRAMING = "framing"
    BRACE = "brace"
    FINISH = "finish"
    NONE = "none"


class Placing(StrEnum):
    """How exactly the place of a box along its wall is meant."""

    AS_DRAWN = "as_drawn"
    NEAREST_STUD = "nearest_stud"


class InletSide(StrEnum):
    """The side of a house on wheels that its supply cord leaves, as it travels."""

    LEFT = "left"
    RIGHT = "right"
    REAR = "rear"
    FRONT = "front"


class Change(StrEnum):
    """What a local amendment does: a rule or a table's entry off, an entry on, another severity, another value."""

    OFF = "off"
    ON = "on"
    SEVERITY = "severity"
    VALUE = "value"


class Severity(StrEnum):
    """How much a finding matters."""

    DANGER = "danger"
    CODE = "code"
    ADVICE = "advice"
