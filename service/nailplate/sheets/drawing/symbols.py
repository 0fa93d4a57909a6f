"""The symbols of the drawing by the name that it carries, with what the legend says of each."""

from dataclasses import dataclass
from typing import Final

from nailplate.sheets.drawing.svg import circle, group
from nailplate.sheets.drawing.symbol_shapes import (
    RADIUS,
    Draw,
    connection,
    disconnect,
    exhaust_fan,
    fan,
    half_switched,
    hexagon,
    in_floor,
    lettered,
    luminaire,
    panel,
    pendant,
    receptacle,
    recessed,
    square,
    switch,
    track,
    wall_luminaire,
)


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol: what the legend says of it, half its width, and how it is drawn around a center."""

    words: str
    draw: Draw
    half: float = RADIUS + 0.6


WIDE: Final = RADIUS + 3.4
SYMBOLS: Final = {
    "receptacle": Symbol("Duplex receptacle", receptacle(-1.6, 1.6), RADIUS + 2.4),
    "receptacle-single": Symbol("Single receptacle", receptacle(0.0), RADIUS + 2.4),
    "receptacle-240": Symbol("Receptacle, 208 or 240 V", receptacle(-2.4, 0.0, 2.4), RADIUS + 2.4),
    "receptacle-half": Symbol("Receptacle, one half switched", half_switched, RADIUS + 2.4),
    "receptacle-floor": Symbol("Floor receptacle", in_floor, RADIUS + 2.4),
    "usb": Symbol("USB outlet", lettered("U")),
    "gfci-blank": Symbol("GFCI device without receptacle", lettered("GF")),
    "switch": Symbol("Switch", switch("")),
    "switch-2": Symbol("Switch, double-pole", switch("2")),
    "switch-3": Symbol("Switch, three-way", switch("3")),
    "switch-4": Symbol("Switch, four-way", switch("4")),
    "dimmer": Symbol("Dimmer", switch("D")),
    "sensor": Symbol("Occupancy or vacancy sensor", switch("O")),
    "timer": Symbol("Timer", switch("T")),
    "fan-control": Symbol("Fan speed control", switch("F")),
    "thermostat": Symbol("Thermostat", lettered("T")),
    "luminaire": Symbol("Luminaire, ceiling", luminaire, RADIUS + 2.0),
    "luminaire-wall": Symbol("Luminaire, wall", wall_luminaire, RADIUS + 2.4),
    "luminaire-recessed": Symbol("Luminaire, recessed", recessed),
    "luminaire-pendant": Symbol("Luminaire, pendant", pendant, RADIUS + 2.0),
    "track": Symbol("Lighting track", track, 9.2),
    "fan": Symbol("Ceiling fan", fan, WIDE),
    "fan-light": Symbol("Ceiling fan with light", lambda at, into: group(fan(at, into), circle(at, 3.2, "np-symbol")), WIDE),
    "exhaust-fan": Symbol("Exhaust fan", exhaust_fan, RADIUS + 1.0),
    "smoke-alarm": Symbol("Smoke alarm", hexagon("SA"), RADIUS + 1.6),
    "smoke-co-alarm": Symbol("Smoke and CO alarm", hexagon("SC"), RADIUS + 1.6),
    "co-alarm": Symbol("CO alarm", hexagon("CO"), RADIUS + 1.6),
    "heat-alarm": Symbol("Heat alarm", hexagon("HA"), RADIUS + 1.6),
    "connection": Symbol("Equipment connection", connection),
    "disconnect": Symbol("Disconnect", disconnect),
    "chime": Symbol("Chime", square("CH")),
    "junction-box": Symbol("Junction box, no device", lettered("J", 6.4)),
    "panel": Symbol("Panel", panel, 7.4),
    "inlet": Symbol("Cord inlet", lettered("IN", 5.0)),
}
"""By the name that a drawing carries in ``data-symbol``."""
