"""Which symbol stands for a device, and what is written beside it."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Device, RoomPlace
from nailplate.plan.words import Cover, DeviceKind, Exposure, LuminaireMount, Mount, SwitchedHalf, Ways
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing
from nailplate.units import reaches

_BOTH_LEGS: Final = 200.0
"""Volts from which a receptacle takes both legs."""
_SWITCHES: Final = {
    Ways.SINGLE_POLE: "switch",
    Ways.DOUBLE_POLE: "switch-2",
    Ways.THREE_WAY: "switch-3",
    Ways.FOUR_WAY: "switch-4",
}
_LUMINAIRES: Final = {
    LuminaireMount.RECESSED: "luminaire-recessed",
    LuminaireMount.PENDANT: "luminaire-pendant",
    LuminaireMount.TRACK: "track",
}
_PLAIN: Final = {
    DeviceKind.DIMMER: "dimmer",
    DeviceKind.SENSOR: "sensor",
    DeviceKind.TIMER: "timer",
    DeviceKind.FAN_CONTROL: "fan-control",
    DeviceKind.TRACK: "track",
    DeviceKind.EXHAUST_FAN: "exhaust-fan",
    DeviceKind.CO_ALARM: "co-alarm",
    DeviceKind.HEAT_ALARM: "heat-alarm",
    DeviceKind.CONNECTION: "connection",
    DeviceKind.DISCONNECT: "disconnect",
    DeviceKind.BLANK_GFCI: "gfci-blank",
    DeviceKind.THERMOSTAT: "thermostat",
    DeviceKind.CHIME: "chime",
    DeviceKind.USB_OUTLET: "usb",
}
_HALVES: Final = (SwitchedHalf.UPPER, SwitchedHalf.LOWER)
_TWO: Final = 2


def symbol_of(survey: Survey, device: Device, at: Standing | None = None) -> str:
    """The name of the device's symbol."""
    match device.kind:
        case DeviceKind.RECEPTACLE:
            return _receptacle(device)
        case DeviceKind.SWITCH:
            return _switch(survey, device)
        case DeviceKind.LUMINAIRE:
            return _luminaire(device, at)
        case DeviceKind.FAN:
            return "fan-light" if device.knows("with_light") and device.with_light else "fan"
        case DeviceKind.SMOKE_ALARM:
            return "smoke-co-alarm" if device.knows("with_co") and device.with_co else "smoke-alarm"
        case _:
            return _PLAIN[device.kind]


def _receptacle(device: Device) -> str:
    if device.knows("voltage") and reaches(device.voltage, _BOTH_LEGS):
        return "receptacle-240"
    if device.knows("mount") and device.mount is Mount.FLOOR:
        return "receptacle-floor"
    if device.knows("switched_half") and device.switched_half in _HALVES:
        return "receptacle-half"
    return "receptacle-single" if device.knows("contacts") and device.contacts == 1 else "receptacle"


def _switch(survey: Survey, device: Device) -> str:
    """By what it says; one that says nothing is three-way where it controls its outlets together with one other (404.2 wiring)."""
    if device.knows("ways"):
        return _SWITCHES[device.ways]
    controls = [each for each in survey.controls_of.get(device.id, []) if device.id in each.switches]
    together = bool(controls) and len(set(controls[0].switches)) == _TWO
    if together:
        return "switch-3"
    return "switch-2" if device.knows("poles") and device.poles == _TWO else "switch"


def _luminaire(device: Device, at: Standing | None) -> str:
    if device.knows("luminaire_mount") and device.luminaire_mount in _LUMINAIRES:
        return _LUMINAIRES[device.luminaire_mount]
    return "luminaire-wall" if at is not None and not isinstance(at.place, RoomPlace) else "luminaire"


def notes_of(device: Device) -> Iterator[str]:
    """What is written beside a symbol for what its shape does not say: GFCI, WP, a mount out of the ordinary."""
    if device.knows("gfci") and device.gfci and device.kind is not DeviceKind.BLANK_GFCI:
        yield "GFCI"
    if device.knows("afci") and device.afci:
        yield "AFCI"
    if _is_in_weather(device):
        yield "WP"
    if device.kind is DeviceKind.RECEPTACLE and device.knows("mount"):
        yield from _MOUNTS.get(device.mount, ())


_MOUNTS: Final = {Mount.CEILING: ("CLG",), Mount.COUNTERTOP: ("CTR",), Mount.BELOW_COUNTER: ("UC",), Mount.DRAWER: ("DRWR",)}
ABBREVIATIONS: Final = {
    "WP": "weatherproof cover or wet place",
    "CLG": "in the ceiling",
    "CTR": "in the countertop",
    "UC": "below the counter",
    "DRWR": "in a drawer",
}
"""What the legend says of letters beside a symbol; GFCI and AFCI are the trade's own words."""


def _is_in_weather(device: Device) -> bool:
    covered = device.knows("cover") and device.cover is not Cover.NONE
    return covered or (device.knows("exposure") and device.exposure is Exposure.WET)
