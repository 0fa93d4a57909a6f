"""A sheet while it is drawn: its layers, what room is left, and which symbols, circuits and notes it has used so far."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.paper import View
from nailplate.sheets.drawing.room_for import Rectangle, Taken
from nailplate.sheets.drawing.svg import NOTHING, Markup, Point, group

LAYERS: Final = (
    "context",
    "rooms",
    "built",
    "walls",
    "openings",
    "cables",
    "switch-legs",
    "home-runs",
    "dimensions",
    "devices",
    "proposed",
    "labels",
    "findings",
)
"""From the bottom up; each is a group of class ``np-layer-…`` that a page may hide."""
_SILENT: Final = frozenset(LAYERS) - {"findings"}
"""Layers that a screen reader passes over: the sheet's description and the findings say the same in words."""


@dataclass(slots=True)
class Draft:
    """A sheet under way. ``unit`` is the plan's own, for its dimensions.

    ``taken`` is what no lettering may touch, ``walls`` what it keeps off while there is other room.
    """

    view: View
    unit: LengthUnit
    taken: Taken
    walls: Taken
    layers: dict[str, list[Markup]] = field(default_factory=dict)
    used: dict[str, None] = field(default_factory=dict)
    beside: dict[str, None] = field(default_factory=dict)
    """Abbreviations beside symbols, in the order used."""
    circuits: dict[str, None] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    unplaced: list[str] = field(default_factory=list)
    """Devices and boxes of which the plan does not say enough to draw them, on whatever level they are."""
    unlettered: list[str] = field(default_factory=list)
    """Labels for which there was no room."""
    centers: dict[str, Point] = field(default_factory=dict)
    """Pointer of a device, box or panel to where its symbol stands on the sheet."""

    def draw(self, layer: str, *markup: Markup) -> None:
        """Adds to a layer."""
        self.layers.setdefault(layer, []).extend(each for each in markup if each)

    def drawn(self, layers: Iterable[str] = LAYERS) -> Markup:
        """The layers, the lowest first."""
        found = (
            group(*self.layers.get(layer, ()), class_=f"np-layer-{layer}", aria_hidden="true" if layer in _SILENT else None)
            for layer in layers
        )
        return Markup("".join(each for each in found if each)) or NOTHING


def take_stretch(taken: Taken, one: Point, other: Point, half: float) -> None:
    """Takes a stretch with a width: an upright one as a rectangle, a slanting one as a chain of squares."""
    across, down = other[0] - one[0], other[1] - one[1]
    if min(abs(across), abs(down)) <= half:
        xs, ys = sorted((one[0], other[0])), sorted((one[1], other[1]))
        taken.take(Rectangle(xs[0] - half, ys[0] - half, xs[1] + half, ys[1] + half))
        return
    steps = min(_MOST_STEPS, int(max(abs(across), abs(down)) / max(half, 1.0)) + 1)
    for step in range(steps + 1):
        x, y = one[0] + across * step / steps, one[1] + down * step / steps
        taken.take(Rectangle(x - half, y - half, x + half, y + half))


_MOST_STEPS: Final = 60
