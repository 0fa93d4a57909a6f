"""Where power comes from: supplies with their conductors, disconnects and grounding electrodes."""

from typing import Annotated

from nailplate.plan import words
from nailplate.plan.facts import AtMost, Doc, Due, Facts, Needed, Note, Part, Stage, drawn
from nailplate.plan.house import Place
from nailplate.plan.marks import (
    Count,
    Current,
    DeviceId,
    Distance,
    Length,
    PanelId,
    Power,
    Run,
    Temperature,
    WireSize,
)
from nailplate.terms import Column, Material


@drawn
class Conductors(Facts):
    """The conductors of a supply or circuit."""

    size: Annotated[WireSize, Doc("of the ungrounded conductors")]
    material: Annotated[Material, Doc("what they are made of")]
    type: Annotated[words.CableType, Doc("the wiring method")]
    insulation: Annotated[Column, Doc("its temperature rating")]
    count: Annotated[Count, Doc("circuit conductors, grounding not counted; a note that no rule reads"), Note]
    grounding: Annotated[WireSize, Doc("size of the equipment grounding conductor")]
    neutral: Annotated[WireSize, Doc("size of the neutral where it differs")]
    terminations: Annotated[Column, Doc("the lower temperature rating of the terminals at both ends")]
    ambient: Annotated[Temperature, Doc("the warmest air along the run")]


@drawn
class Electrode(Facts):
    """A supply's grounding electrode and the conductor to it."""

    kind: Annotated[words.ElectrodeKind, Doc("what it is; `none` is a fact"), Needed]
    conductor: Annotated[WireSize, Doc("size of the grounding electrode conductor")]
    material: Annotated[Material, Doc("of that conductor")]
    supplement: Annotated[words.ElectrodeKind, Doc("the second electrode that is bonded to it; `none` is a fact")]
    at_most_25_ohms: Annotated[bool, Doc("whether a single rod or plate was measured at 25 ohms to earth or less")]


@drawn
class SurgeProtection(Facts):
    """A supply's surge-protective device."""

    type: Annotated[words.SurgeProtectionType, Doc("its type; `none` is a fact"), Needed]
    nominal_discharge: Annotated[Current, AtMost(1_000_000), Doc("its nominal discharge current rating")]
    panel: Annotated[PanelId, Doc("the panel it is in or next to")]


@drawn
class Disconnect(Facts):
    """A disconnecting means."""

    kind: Annotated[words.DisconnectKind, Doc("what it is; `none` is a fact")]
    at: Annotated[Place, Doc("where it is")]
    rating: Annotated[Current, Doc("its rating")]
    outdoors: Annotated[bool, Doc("whether it is outdoors")]
    in_sight: Annotated[bool, Doc("within sight (50 ft) of what it disconnects")]
    lockable: Annotated[bool, Doc("can be locked open in place")]
    door: Annotated[
        words.EnclosureDoor,
        Doc("how its enclosure's door or hinged cover opens, if it exposes energized parts"),
        Due(Stage.ROUGH_IN),
    ]
    marked: Annotated[bool, Doc("marked as the emergency disconnect")]
    device: Annotated[DeviceId, Doc("the device that is the disconnect")]
    panel: Annotated[PanelId, Doc("the panel whose main breaker it is: place and rating need not be said again")]


@drawn
class ChassisBond(Facts):
    """The bond between a vehicle's chassis and the grounding bar."""

    provided: Annotated[bool, Doc("whether there is one"), Needed]
    size: Annotated[WireSize, Doc("of the bonding conductor")]


@drawn
class Supply(Part):
    """How power reaches a house."""

    kind: Annotated[words.SupplyKind, Doc("how it arrives"), Needed]
    voltage: Annotated[words.SupplyVoltage, Doc("the system voltage")]
    rating: Annotated[Current, Doc("of the main, inlet or source")]
    capacity: Annotated[Power, Doc("of a generator or inverter")]
    conductors: Annotated[Conductors, Doc("of the service, feeder or cord")]
    starts_at: Annotated[PanelId, Doc("the panel that a feeder starts at, if it is in this plan")]
    overcurrent: Annotated[Current, Doc("rating of the overcurrent device at the start of a feeder")]
    existing: Annotated[bool, Doc("whether a feeder was there before this work, as was lawful when it was run")]
    bond_panel: Annotated[PanelId, Doc("the panel where the neutral is bonded, if it is in this plan")]
    disconnect: Annotated[Disconnect, Doc("the service, feeder or building disconnect")]
    emergency_disconnect: Annotated[Disconnect, Doc("the outdoor emergency disconnect")]
    grounding_electrode: Annotated[Electrode, Doc("at this structure")]
    surge_protection: Annotated[SurgeProtection, Doc("at this supply")]
    chassis_bond: Annotated[ChassisBond, Doc("of a house on wheels")]
    inlet: Annotated[Place, Doc("where the cord inlet is")]
    inlet_side: Annotated[words.InletSide, Doc("the side of a house on wheels that the inlet or cord is on, as it travels")]
    inlet_from_rear: Annotated[Distance, Doc("of a house on wheels, from its rear to the inlet or cord")]
    cord_length: Annotated[Length, Doc("of the supply cord")]
    length: Annotated[Run, Doc("one way, of the feeder or service conductors")]
