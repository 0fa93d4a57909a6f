"""The wiring as drawn: panels, circuits, boxes, devices, controls, and the appliances they serve."""

from typing import Annotated

from nailplate.plan import words
from nailplate.plan.facts import AtLeast, AtMost, Doc, Due, Facts, Items, MoreThan, Needed, OrAlone, Part, Stage, drawn
from nailplate.plan.house import Place
from nailplate.plan.marks import (
    ApplianceId,
    BoxId,
    CircuitId,
    Count,
    Current,
    DeviceId,
    Distance,
    Height,
    Length,
    Line,
    Outline,
    PanelId,
    Power,
    RoomId,
    Run,
    SupplyId,
    TradeSize,
    Voltage,
    Volume,
    Weight,
    WireSize,
)
from nailplate.plan.supplies import Conductors, Disconnect


@drawn
class Appliance(Part):
    """An appliance, fastened in place or carried."""

    kind: Annotated[words.ApplianceKind, Doc("what it is"), Needed]
    room: Annotated[RoomId, Doc("where it stands; its footprint tells it where that is drawn inside one room")]
    volts: Annotated[Voltage, Doc("nameplate voltage")]
    power: Annotated[Power, Doc("nameplate watts or volt-amperes")]
    current: Annotated[Current, Doc("nameplate amperes")]
    hp: Annotated[float, MoreThan(0), AtMost(1_000), Doc("motor horsepower")]
    minimum_circuit: Annotated[Current, Doc("minimum circuit ampacity on the nameplate")]
    max_overcurrent: Annotated[Current, Doc("maximum overcurrent protection on the nameplate")]
    gfci_built_in: Annotated[bool, Doc("whether it has a GFCI in itself, its plug, or its cord within 12 in of the plug")]
    variable_speed: Annotated[bool, Doc("whether power electronics set the speed of its compressor")]
    listed_appliance: Annotated[bool, Doc("a listed motor-operated appliance, whose nameplate gives amperes beside horsepower")]
    listed_hvac: Annotated[bool, Doc("listed heating, air-conditioning or refrigeration equipment")]
    continuous: Annotated[bool, Doc("runs three hours or more at full load")]
    connection: Annotated[words.Connection, Doc("how it is connected"), Due(Stage.CIRCUITS)]
    cord_length: Annotated[Length, Doc("of its cord"), Due(Stage.CIRCUITS)]
    fastened: Annotated[bool, Doc("fastened in place")]
    fuel: Annotated[words.Fuel, Doc("the fuel that it uses; `none` is a fact")]
    footprint: Annotated[Outline, Doc("its outline on the floor or counter")]
    depth_behind: Annotated[Distance, Doc("of the counter behind a range or cooktop")]
    in_corner: Annotated[bool, Doc("whether it sits across a corner")]
    outdoors: Annotated[bool, Doc("whether it stands outdoors")]
    receptacle_above: Annotated[bool, Doc("whether a heater's instructions allow a receptacle above it")]
    capacity: Annotated[Volume, Doc("of a storage water heater's tank")]
    units: Annotated[Count, Doc("number of separately controlled heating units")]
    circuit: Annotated[CircuitId, Doc("the circuit that feeds it; that of its outlet unless said"), Due(Stage.CIRCUITS)]
    outlet: Annotated[DeviceId, Doc("the receptacle or connection it uses; or say it there, by `serves`"), Due(Stage.ROUGH_IN)]
    disconnect: Annotated[Disconnect, Doc("how it is disconnected"), Due(Stage.CIRCUITS)]
    with_hood: Annotated[bool, Doc("a microwave oven that is a range hood too")]
    own_circuit: Annotated[bool, Doc("whether its instructions require an individual branch circuit")]
    needs_neutral: Annotated[bool, Doc("whether it needs a neutral, as a 120/240 V nameplate says and a 240 V one does not")]


@drawn
class FaceSize(Facts):
    """Width and height of an enclosure's front."""

    width: Annotated[Length, Doc("of the enclosure"), Needed]
    height: Annotated[Length, Doc("of the enclosure"), Needed]


@drawn
class Panel(Part):
    """A panelboard or load center."""

    at: Annotated[Place, Doc("where its center is")]
    face: Annotated[FaceSize, Doc("its front")]
    projection: Annotated[Distance, Doc("of its front from the finished face of the wall; 0 where it is flush")]
    handle_height: Annotated[Length, Doc("center of the grip of the highest breaker in its highest position")]
    kind: Annotated[words.PanelKind, Doc("what it is"), Needed]
    bus_rating: Annotated[Current, Doc("as marked on its label")]
    main_rating: Annotated[Current, Doc("of the breaker in it that feeds its bus bars")]
    spaces: Annotated[Count, AtMost(200), Doc("full-size breaker spaces")]
    most_circuits: Annotated[Count, AtMost(400), Doc("poles that it is listed for, tandem breakers counted as two")]
    neutral_bond: Annotated[words.NeutralBond, Doc("whether neutral and enclosure are bonded here")]
    supply: Annotated[SupplyId, Doc("the supply that feeds it")]
    directory: Annotated[bool, Doc("whether a circuit directory is drawn up"), Due(Stage.ROUGH_IN)]
    sheath_inside: Annotated[Distance, Doc("least length of cable sheath inside it, past the connector")]
    stackers: Annotated[bool, Doc("whether the cables that come to it are held off the framing by cable stackers")]


@drawn
class Breaker(Facts):
    """A circuit's overcurrent device."""

    rating: Annotated[Current, Doc("its rating")]
    poles: Annotated[Count, AtMost(4), Doc("how many")]
    protects: Annotated[words.Protects, Doc("what else it does; `none` is a fact")]


@drawn
class Multiwire(Facts):
    """The other half of a multiwire branch circuit."""

    partner: Annotated[CircuitId, Doc("the circuit that shares the neutral"), Needed]
    tie: Annotated[words.Tie, Doc("what opens both together")]


@drawn
class AddedWiring(Facts):
    """What is added to a branch circuit that stands already."""

    length: Annotated[Run, Doc("of the added conductors, outside enclosures")]
    adds_outlets: Annotated[bool, Doc("whether outlets or devices are added, other than splicing devices")]


@drawn
class Tied(Facts):
    """A circuit with a neutral of its own that disconnects simultaneously with this one, as circuits on one yoke do."""

    circuit: Annotated[CircuitId, Doc("the other circuit"), Needed]
    tie: Annotated[words.Tie, Doc("what opens both together; `none` is a fact"), Needed]


@drawn
class Circuit(Part):
    """A branch circuit."""

    panel: Annotated[PanelId, Doc("the panel it starts at")]
    position: Annotated[
        tuple[Annotated[int, AtLeast(1), AtMost(200)], ...],
        Doc("its breaker's spaces; a bare number is the first, and the poles of its breaker tell how many there are"),
        Items(1, 6),
        OrAlone,
    ]
    legs: Annotated[tuple[words.Leg, ...], Doc("the legs it is on"), Items(1, 2)]
    voltage: Annotated[Voltage, Doc("nominal, between its conductors")]
    neutral: Annotated[bool, Doc("whether it has a neutral")]
    breaker: Annotated[Breaker, Doc("its overcurrent device")]
    conductor: Annotated[Conductors, Doc("its wire")]
    purpose: Annotated[words.Purpose, Doc("what it is for")]
    multiwire: Annotated[Multiwire, Doc("if it shares a neutral")]
    tied: Annotated[Tied, Doc("if it disconnects simultaneously with another circuit and shares no neutral")]
    extension: Annotated[AddedWiring, Doc("if it stands already and is only modified or extended")]
    directory: Annotated[str, Doc("its text in the panel directory"), Due(Stage.ROUGH_IN)]


@drawn
class Extension(Facts):
    """An extension ring, plaster ring or domed cover that adds volume."""

    volume: Annotated[Volume, Doc("marked volume")]
    trade_size: Annotated[TradeSize, Doc("standard size")]
    depth: Annotated[Length, Doc("depth that it adds inside")]


@drawn
class TerminalBlock(Facts):
    """A terminal block assembly in a box."""

    size: Annotated[WireSize, Doc("largest conductor on it"), Needed]


@drawn
class Box(Part):
    """A box in a wall, ceiling or floor."""

    at: Annotated[Place, Doc("where its center is")]
    gangs: Annotated[Count, AtMost(12), Doc("device widths")]
    volume: Annotated[Volume, Doc("marked volume, all gangs together")]
    trade_size: Annotated[TradeSize, Doc("of a standard metal box, one gang where it is ganged")]
    shape: Annotated[words.BoxShape, Doc("what it looks like")]
    material: Annotated[words.BoxMaterial, Doc("metal or nonmetallic")]
    depth: Annotated[Length, Doc("inside depth")]
    clamps: Annotated[words.Clamps, Doc("how cables are held; `none` is a fact")]
    support_fittings: Annotated[tuple[words.SupportFitting, ...], Doc("studs and hickeys inside"), Items(0, 10)]
    extension: Annotated[Extension, Doc("ring or cover that adds volume")]
    terminal_blocks: Annotated[tuple[TerminalBlock, ...], Doc("terminal block assemblies inside"), Items(0, 10)]
    front_offset: Annotated[Height, Doc("how far its front edge, ring included, stands in front of the framing's face")]
    support_rating: Annotated[Weight, Doc("what it may carry, as marked")]
    fan_rating: Annotated[Weight, Doc("what fan it may carry, as marked")]
    fan_rated: Annotated[bool, Doc("listed for a ceiling-suspended fan")]
    structure_access: Annotated[bool, Doc("whether framing able to hold a fan can be reached through it")]
    spare_switched: Annotated[bool, Doc("whether a spare hot conductor with its own switch ends in it, for a fan later")]
    rear_entry: Annotated[bool, Doc("whether a cable or raceway enters at the center of its back")]
    access: Annotated[words.Access, Doc("how it is reached when finished; `none` is a fact")]
    open_framing: Annotated[bool, Doc("whether a cable can be added to it when finished, without removing finish")]
    location_rating: Annotated[words.Exposure, Doc("the wettest place it is rated for")]
    fastened: Annotated[words.BoxFastening, Doc("what it is fastened to; `none` is a fact")]
    placing: Annotated[words.Placing, Doc("whether it is set where it is drawn, or beside the stud nearest to that place")]
    bracket_reach: Annotated[
        Distance, Doc("how far its bracket reaches from its side to the stud; 0 where its side is fastened to the stud itself")
    ]
    free_conductor: Annotated[Length, Doc("shortest free conductor in it, from where it leaves the cable's sheath")]
    beyond_opening: Annotated[Distance, Doc("how far its shortest free conductor reaches out of its opening")]
    sheath_inside: Annotated[Distance, Doc("least length of cable sheath inside it, past the clamp if there is one")]
    rated_wall_listed: Annotated[bool, Doc("listed for use in a fire-rated wall without the usual distances")]
    stackers: Annotated[bool, Doc("whether the cables that come to it are held off the framing by cable stackers")]
    roof_deck_clearance: Annotated[Distance, Doc("of its top below the lowest surface of the roof decking")]


@drawn
class FixtureWires(Facts):
    """A luminaire's own wires that end in the box."""

    size: Annotated[WireSize, Doc("their size"), Needed]
    count: Annotated[Count, Doc("how many, grounding not counted"), Needed]
    grounding: Annotated[bool, Doc("whether a grounding conductor comes with them")]


@drawn
class Device(Part):
    """A device or outlet: receptacle, switch, luminaire, alarm, connection, disconnect."""

    kind: Annotated[words.DeviceKind, Doc("what it is"), Needed]
    box: Annotated[BoxId, Doc("the box it is in"), Due(Stage.ROUGH_IN)]
    at: Annotated[Place, Doc("its own position while there is no box")]
    mount: Annotated[words.Mount, Doc("where it sits; `ceiling` follows from a place in a room at the height of its ceiling")]
    circuit: Annotated[CircuitId, Doc("the circuit that feeds it"), Due(Stage.CIRCUITS)]
    second_circuit: Annotated[CircuitId, Doc("the other circuit of a split receptacle or two-circuit yoke")]
    rating: Annotated[Current, Doc("its ampere rating"), Due(Stage.CIRCUITS)]
    voltage: Annotated[Voltage, Doc("its voltage rating"), Due(Stage.CIRCUITS)]
    power: Annotated[Power, Doc("what it draws"), Due(Stage.CIRCUITS)]
    poles: Annotated[Count, AtMost(6), Doc("of a switch or disconnect")]
    gangs: Annotated[Count, AtMost(12), Doc("device widths it takes, 1 for one yoke")]
    yoke_with: Annotated[
        DeviceId,
        Doc("the device on whose yoke it is: the other half of a switch and receptacle, or of two switches, built as one"),
    ]
    depth: Annotated[Length, Doc("of the device behind its yoke"), Due(Stage.ROUGH_IN)]
    contacts: Annotated[Count, AtMost(12), Doc("1 single, 2 duplex receptacle")]
    switched_half: Annotated[words.SwitchedHalf, Doc("which half of a duplex is switched; `none` is a fact")]
    ways: Annotated[words.Ways, Doc("of a switch")]
    locking: Annotated[bool, Doc("a locking receptacle")]
    tamper_resistant: Annotated[bool, Doc("listed tamper-resistant"), Due(Stage.CIRCUITS)]
    weather_resistant: Annotated[bool, Doc("listed weather-resistant"), Due(Stage.CIRCUITS)]
    isolated_ground: Annotated[bool, Doc("isolated-ground type")]
    usb: Annotated[bool, Doc("whether it has USB charging contacts")]
    usb_listed: Annotated[bool, Doc("whether receptacle and USB supply are built and listed as one, the supply Class 2")]
    cover: Annotated[words.Cover, Doc("what covers it")]
    exposure: Annotated[words.Exposure, Doc("how wet its place gets, where the room does not say it")]
    gfci: Annotated[bool, Doc("a GFCI device itself"), Due(Stage.CIRCUITS)]
    afci: Annotated[bool, Doc("an outlet-type AFCI device itself"), Due(Stage.CIRCUITS)]
    fed_from: Annotated[words.FedFrom, Doc("the circuit itself, or some device's LOAD side"), Due(Stage.CIRCUITS)]
    feed_through_source: Annotated[DeviceId, Doc("the device whose LOAD side feeds this one"), Due(Stage.CIRCUITS)]
    in_cabinet: Annotated[bool, Doc("inside a cabinet or cupboard")]
    dedicated_space: Annotated[ApplianceId, Doc("the appliance in whose dedicated space it stands")]
    serves: Annotated[
        tuple[ApplianceId, ...], Doc("the appliances it is there for; or say it at each, by `outlet`"), Items(0, 20)
    ]
    part_of: Annotated[ApplianceId, Doc("the appliance or luminaire that it is built into")]
    readily_accessible: Annotated[bool, Doc("reached without moving or climbing over anything")]
    listing: Annotated[words.Listing, Doc("a special listing of the assembly")]
    orientation: Annotated[words.Orientation, Doc("how a receptacle lies")]
    source: Annotated[words.LightSource, Doc("what gives the light")]
    with_light: Annotated[bool, Doc("a fan with a light kit, or an exhaust fan with a light in it")]
    luminaire_mount: Annotated[words.LuminaireMount, Doc("how a luminaire is mounted")]
    enclosed: Annotated[bool, Doc("whether the lamp is completely enclosed"), Due(Stage.CIRCUITS)]
    projection: Annotated[Distance, Doc("of a luminaire from wall or ceiling")]
    width: Annotated[Length, Doc("of a luminaire, across its widest part")]
    suspended_length: Annotated[Distance, Doc("of a pendant, track or fan below the ceiling")]
    blade_span: Annotated[Length, Doc("of a ceiling fan, from tip to tip")]
    weight: Annotated[Weight, Doc("of a luminaire or fan"), Due(Stage.ROUGH_IN)]
    independent_support: Annotated[bool, Doc("a luminaire or fan carried by the structure and not by its box")]
    insulation_contact: Annotated[bool, Doc("type IC")]
    airtight: Annotated[bool, Doc("a recessed luminaire listed and labeled as airtight, sealed to the ceiling")]
    insulation_distance: Annotated[Distance, Doc("from a recessed luminaire, its wiring box and driver to thermal insulation")]
    combustible_distance: Annotated[Distance, Doc("from a recessed luminaire's housing to wood and other combustibles")]
    location_rating: Annotated[words.Exposure, Doc("the wettest place it is listed for"), Due(Stage.CIRCUITS)]
    domed_canopy: Annotated[bool, Doc("has a domed canopy")]
    fixture_wires: Annotated[FixtureWires, Doc("its own wires ending in the box")]
    track: Annotated[Line, Doc("ends of a lighting track")]
    override: Annotated[bool, Doc("a sensor with a manual override")]
    suits_receptacles: Annotated[bool, Doc("a dimmer or control listed to control receptacles")]
    full_range: Annotated[bool, Doc("a dimmer giving the full range from every control point")]
    integral_enclosure: Annotated[bool, Doc("a switch with an enclosure of its own, needing no box")]
    battery_powered: Annotated[bool, Doc("a control powered by a battery alone")]
    own_switch: Annotated[bool, Doc("a lampholder or luminaire with a switch of its own, such as a pull chain")]
    sensing: Annotated[words.Sensing, Doc("of a smoke alarm")]
    power_source: Annotated[words.AlarmPower, Doc("of an alarm")]
    interconnect: Annotated[words.Interconnect, Doc("of an alarm")]
    with_co: Annotated[bool, Doc("a smoke alarm that senses carbon monoxide too")]
    silencing: Annotated[bool, Doc("an alarm with a silencing switch")]
    nuisance_marked: Annotated[bool, Doc("a smoke alarm listed and marked as helping to reduce cooking nuisance alarms")]


@drawn
class Control(Part):
    """Which switches control which outlets."""

    switches: Annotated[tuple[DeviceId, ...], Doc("switches, dimmers or sensors that work together"), Items(1, 10), Needed]
    outlets: Annotated[tuple[DeviceId, ...], Doc("what they control"), Items(1, 100), Needed]
    override: Annotated[bool, Doc("a sensor control with a manual override")]
    automatic: Annotated[bool, Doc("remote, central or automatic control")]
    opens: Annotated[words.Opens, Doc("the conductors that its switches open"), Due(Stage.ROUGH_IN)]
    whole_floor_visible: Annotated[
        bool, Doc("whether the whole floor it lights is seen from its switches"), Due(Stage.ROUGH_IN)
    ]
