"""The plan as drawn: parts, where each is written, the facts known about it."""

from nailplate.plan.cables import BoxEnd, Cable, DeviceEnd, PanelEnd, Segment
from nailplate.plan.document import MAP_NAMES, PART_KINDS, Amendment, Basis, Plan, Ruling, Suppression, due
from nailplate.plan.facts import Facts, Part, Stage
from nailplate.plan.faults import Fault, FaultCode, PlanRefused, UnknownFact
from nailplate.plan.house import Ceiling, Counter, Fixture, Level, Opening, Place, Room, RoomPlace, Stair, Wall, WallPlace
from nailplate.plan.needs import Need, NeedPlace
from nailplate.plan.pointer import ROOT, Pointer
from nailplate.plan.supplies import Supply
from nailplate.plan.wiring import Appliance, Box, Circuit, Control, Device, Panel

__all__ = [
    "MAP_NAMES",
    "PART_KINDS",
    "ROOT",
    "Amendment",
    "Appliance",
    "Basis",
    "Box",
    "BoxEnd",
    "Cable",
    "Ceiling",
    "Circuit",
    "Control",
    "Counter",
    "Device",
    "DeviceEnd",
    "Facts",
    "Fault",
    "FaultCode",
    "Fixture",
    "Level",
    "Need",
    "NeedPlace",
    "Opening",
    "Panel",
    "PanelEnd",
    "Part",
    "Place",
    "Plan",
    "PlanRefused",
    "Pointer",
    "Room",
    "RoomPlace",
    "Ruling",
    "Segment",
    "Stage",
    "Stair",
    "Supply",
    "Suppression",
    "UnknownFact",
    "Wall",
    "WallPlace",
    "due",
]
