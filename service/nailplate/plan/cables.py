"""Cables as drawn: what they are, where they end, and the segments of their routes."""

from typing import Annotated

from nailplate.plan import words
from nailplate.plan.facts import Doc, Facts, Items, Needed, Part, drawn
from nailplate.plan.marks import (
    BoxId,
    CircuitId,
    Count,
    DeviceId,
    Distance,
    Height,
    Length,
    LevelId,
    Line,
    PanelId,
    Point,
    Run,
    Temperature,
    WallId,
    WireSize,
)
from nailplate.terms import Material


@drawn
class BoxEnd(Facts):
    """A cable's end in a box."""

    box: Annotated[BoxId, Doc("the box"), Needed]


@drawn
class PanelEnd(Facts):
    """A cable's end in a panel."""

    panel: Annotated[PanelId, Doc("the panel"), Needed]


@drawn
class DeviceEnd(Facts):
    """A cable's end at a device or at equipment with its own wiring space."""

    device: Annotated[DeviceId, Doc("the device"), Needed]


End = BoxEnd | PanelEnd | DeviceEnd


@drawn
class Passing(Facts):
    """A box that a cable's conductors pass through unbroken."""

    box: Annotated[BoxId, Doc("the box"), Needed]
    loop: Annotated[Distance, Doc("length of the unbroken conductor left in the box")]


@drawn
class Hole(Facts):
    """A bored hole."""

    diameter: Annotated[Length, Doc("of the hole"), Needed]
    centre_offset: Annotated[Distance, Doc("of its center from the member's center line")]


@drawn
class Supports(Facts):
    """How a run is secured."""

    spacing: Annotated[Length, Doc("between supports")]
    first: Annotated[Distance, Doc("from the box or panel to the first support, along the cable")]
    first_straight: Annotated[
        Distance, Doc("from the box or panel to the first support, straight, where a slack loop lies between")
    ]
    stackers: Annotated[bool, Doc("held off the framing by cable stackers")]
    on_cable: Annotated[bool, Doc("tied to another cable instead of the framing")]


@drawn
class Bend(Facts):
    """The tightest bend of a run."""

    radius: Annotated[Length, Doc("inside radius"), Needed]
    side: Annotated[words.BendSide, Doc("the side a flat cable is bent on")]


@drawn
class Segment(Facts):
    """One stretch of a cable's route."""

    level: Annotated[LevelId, Doc("the level it is on")]
    wall: Annotated[WallId, Doc("the wall it runs in")]
    points: Annotated[Line, Doc("its course in the plane of the level")]
    heights: Annotated[tuple[Height, ...], Doc("of each point above that level's floor"), Items(1, 200)]
    to: Annotated[Point, Doc("where it ends, instead of `points`: it starts where the segment before it ends")]
    to_height: Annotated[Height, Doc("the height it ends at, where it differs from that at which it starts")]
    how: Annotated[words.How, Doc("how it runs"), Needed]
    member: Annotated[words.Member, Doc("the framing it crosses or follows")]
    material: Annotated[words.FramingMaterial, Doc("of that framing")]
    bearing: Annotated[bool, Doc("whether the member is load-bearing")]
    role: Annotated[words.MemberRole, Doc("what the member does; in a wall a stud unless said, elsewhere a joist")]
    doubled: Annotated[bool, Doc("whether each bored stud is doubled, and no more than two in a row are")]
    cut_approved: Annotated[
        bool, Doc("whether manufacturer or designer allows this cut in an engineered member, beam or header")
    ]
    edge_distance: Annotated[
        Distance, Doc("least distance from hole or cable to the member's nearest edge; in a groove, to its mouth")
    ]
    hole: Annotated[Hole, Doc("the bored hole")]
    notch_depth: Annotated[Length, Doc("of a notch")]
    notch_length: Annotated[Length, Doc("of a notch, along the member")]
    notch_place: Annotated[words.NotchPlace, Doc("where along a joist or rafter a notch is cut")]
    bushing: Annotated[bool, Doc("bushings in every hole of metal framing")]
    plates: Annotated[words.Plates, Doc("nail plates; `none` is a fact")]
    insulation_contact: Annotated[bool, Doc("lies in thermal insulation")]
    bundle: Annotated[str, Doc("a name shared by cables run together without spacing; `none` is a fact")]
    bundled_length: Annotated[Run, Doc("length of the run without spacing")]
    sealed: Annotated[bool, Doc("passes an opening in wood framing that is sealed with insulation, caulk or foam")]
    ambient: Annotated[Temperature, Doc("the warmest air along it")]
    roof_deck_clearance: Annotated[Distance, Doc("below the lowest surface of the roof decking")]
    exposure: Annotated[words.Exposure, Doc("how wet its place gets")]
    supports: Annotated[Supports, Doc("how it is secured")]
    bend: Annotated[Bend, Doc("its tightest bend")]
    low_voltage_distance: Annotated[Distance, Doc("to the nearest low-voltage cable")]
    raceway: Annotated[words.RacewayKind, Doc("the raceway or sleeve that it runs in")]
    fished: Annotated[bool, Doc("fished through finished construction, where supports are impracticable")]
    guard: Annotated[words.Guard, Doc("what an exposed run lies on or is guarded by; `none` is a fact")]
    sleeve_above_floor: Annotated[Distance, Doc("how far a sleeve covers an exposed run above a floor that it passes through")]
    from_access: Annotated[Distance, Doc("of a run in an attic, to the nearest edge of the scuttle")]
    above_attic_floor: Annotated[Distance, Doc("of a run across rafters or studs in an attic, over the floor joists")]
    across: Annotated[bool, Doc("whether an exposed run crosses the members it lies on, and not their sides")]


@drawn
class Cable(Part):
    """A cable, or conductors in a raceway, between two ends."""

    type: Annotated[words.CableType, Doc("the wiring method")]
    size: Annotated[WireSize, Doc("of its insulated conductors")]
    material: Annotated[Material, Doc("of its conductors")]
    insulated: Annotated[Count, Doc("insulated conductors: 2 for a 14-2 with ground")]
    grounding: Annotated[WireSize, Doc("size of its grounding conductor; `none` where it has none")]
    isolated_grounding: Annotated[bool, Doc("whether it brings a second, isolated grounding conductor")]
    outer_jacket: Annotated[bool, Doc("whether a jacket covers the armor of AC or MC cable")]
    room_for_neutral: Annotated[bool, Doc("a raceway large enough that a neutral can be added")]
    reidentified_white: Annotated[bool, Doc("whether its white is marked as an ungrounded conductor")]
    ends: Annotated[tuple[End, ...], Doc("both ends"), Items(2, 2), Needed]
    passes: Annotated[tuple[Passing, ...], Doc("boxes its conductors pass unbroken"), Items(0, 20)]
    circuit: Annotated[CircuitId, Doc("the circuit it carries")]
    second_circuit: Annotated[CircuitId, Doc("the multiwire partner it carries too")]
    low_voltage: Annotated[bool, Doc("a limited-energy cable")]
    length: Annotated[Run, Doc("as pulled")]
    width: Annotated[Length, Doc("of its sheath, the larger outside dimension, by its manufacturer")]
    thickness: Annotated[Length, Doc("of its sheath, the smaller outside dimension, by its manufacturer")]
    route: Annotated[tuple[Segment, ...], Doc("its course"), Items(1, 200)]
