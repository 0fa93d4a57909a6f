"""A device as it is bought: its rating, its kind, and the marks that a supplier picks it by."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Device
from nailplate.plan.words import DeviceKind, Exposure, LuminaireMount
from nailplate.sheets.called import joined, words_of
from nailplate.survey.index import Survey

_COMMON_VOLTS: Final = 130.0
_CALLED: Final = {
    DeviceKind.CONNECTION: "hard-wired connection",
    DeviceKind.FAN: "ceiling fan",
    DeviceKind.TRACK: "lighting track",
}
"""Kinds that nobody buys by the plan's own word."""
_MOUNTED: Final = {
    LuminaireMount.SURFACE: "surface",
    LuminaireMount.RECESSED: "recessed",
    LuminaireMount.PENDANT: "pendant",
    LuminaireMount.LAMPHOLDER: "lampholder as a",
}
_MARKS: Final = (
    ("gfci", "GFCI"),
    ("afci", "AFCI"),
    ("tamper_resistant", "tamper resistant"),
    ("weather_resistant", "weather resistant"),
    ("with_light", "with light"),
    ("insulation_contact", "type IC"),
    ("airtight", "airtight"),
    ("with_co", "with carbon monoxide sensor"),
    ("usb", "with USB"),
)


def kind_of_device(survey: Survey, device: Device) -> str:
    """``20 A receptacle, duplex, tamper resistant``; ``50 A 125/250 V receptacle, single``; ``surface luminaire, for wet places``."""
    rating = f"{device.rating:g} A" if device.knows("rating") else ""
    ways = device.ways.replace("_", "-") if device.knows("ways") else ""
    mount = (
        _MOUNTED.get(device.luminaire_mount, "")
        if device.kind is DeviceKind.LUMINAIRE and device.knows("luminaire_mount")
        else ""
    )
    called = _CALLED.get(device.kind) or words_of(device.kind)
    name = " ".join(each for each in (rating, _volts(survey, device), ways, mount, called) if each)
    return joined((name, *_marks(device)))


def _volts(survey: Survey, device: Device) -> str:
    """Above 120 V; a receptacle that a circuit's neutral comes to is the one with a blade for it, 125/250 V."""
    if not device.knows("voltage") or device.voltage <= _COMMON_VOLTS:
        return ""
    circuit = survey.plan.circuits[device.circuit] if device.knows("circuit") else None
    four_wire = device.kind is DeviceKind.RECEPTACLE and circuit is not None and circuit.is_(neutral=True)
    return f"125/{device.voltage:g} V" if four_wire else f"{device.voltage:g} V"


def _marks(device: Device) -> Iterator[str]:
    yield {1: "single", 2: "duplex"}.get(device.contacts, "") if device.knows("contacts") else ""
    yield from (words for fact, words in _MARKS if device.is_(**{fact: True}))
    if device.knows("switched_half") and device.switched_half != "none":
        yield f"{device.switched_half} half switched"
    if device.kind is DeviceKind.LUMINAIRE and device.knows("location_rating") and device.location_rating is not Exposure.DRY:
        yield f"for {device.location_rating} places"
    if device.knows("cover") and device.cover != "none":
        yield f"{words_of(device.cover)} cover"
