"""The shapes of the drawing's symbols, drawn by ourselves after the manner of ANSI Y32.9 (graphic symbols for wiring plans).

A shape is drawn around its center; ``into`` is the direction on the sheet that leads from the wall into the room, one point long. Only lines
turn with it; letters stay upright. Distances are in points.
"""

import math
from collections.abc import Callable
from typing import Final

from nailplate.sheets.drawing.lettering import text
from nailplate.sheets.drawing.svg import Markup, Point, circle, group, line, polygon, rectangle

RADIUS: Final = 4.6
"""Of a usual symbol: 1/8 in across on paper."""
_LETTERS: Final = 5.6
_CAP: Final = 0.36
"""Half the height of a capital in ems: what centers a letter on its middle."""
Draw = Callable[[Point, Point], Markup]


def _off(center: Point, into: Point, along: float, across: float) -> Point:
    """The place ``along`` into the room and ``across`` to its right hand."""
    return (center[0] + into[0] * along - into[1] * across, center[1] + into[1] * along + into[0] * across)


def _disc(center: Point, class_: str = "np-symbol") -> Markup:
    return circle(center, RADIUS, class_)


def _letters(center: Point, said: str, size: float = _LETTERS) -> Markup:
    return text((center[0], center[1] + _CAP * size), said, size, "np-letter", anchor="middle", bold=True)


def _strokes(center: Point, into: Point, *across: float) -> Markup:
    """Lines through a symbol, square to the wall."""
    reach = RADIUS + 2.2
    return group(*(line(_off(center, into, -reach, each), _off(center, into, reach, each), "np-stroke") for each in across))


def receptacle(*across: float) -> Draw:
    """A receptacle: a circle with a line for each ``across``."""
    return lambda center, into: group(_disc(center), _strokes(center, into, *across))


def half_switched(center: Point, into: Point) -> Markup:
    """A duplex receptacle, one half of it filled."""
    arc = [_off(center, into, RADIUS * math.sin(turn), RADIUS * math.cos(turn)) for turn in _HALF_TURN]
    return group(_disc(center), polygon(arc, "np-solid"), _strokes(center, into, -1.6, 1.6))


_HALF_TURN: Final = tuple(math.pi * step / 12 for step in range(13))


def in_floor(center: Point, into: Point) -> Markup:
    """A duplex receptacle in a square."""
    half = RADIUS + 1.6
    square = rectangle(center[0] - half, center[1] - half, 2 * half, 2 * half, "np-symbol")
    return group(square, _disc(center), _strokes(center, into, -1.6, 1.6))


def lettered(said: str, size: float = _LETTERS) -> Draw:
    """Letters in a circle."""
    return lambda center, into: group(_disc(center), _letters(center, said, size))


def switch(below: str) -> Draw:
    """An S on its stem, the kind of switch told by what stands lower."""

    def draw(center: Point, into: Point) -> Markup:
        x, y = center
        plate = rectangle(x - RADIUS, y - RADIUS - 0.4, 2 * RADIUS, 2 * RADIUS + 0.8, "np-plate")
        stem = line(_off(center, into, -RADIUS - 2.2, 0), _off(center, into, -RADIUS, 0), "np-stroke")
        capital = text((x - (2 if below else 0), y + 2.9), "S", 8.4, "np-letter", anchor="middle", bold=True)
        small = (text((x + 2.8, y + 4.2), below, 4.8, "np-letter", anchor="middle", bold=True),) if below else ()
        return group(plate, stem, capital, *small)

    return draw


def _rays(center: Point, *turns: float) -> Markup:
    reach = RADIUS + 2.4
    ends = ((math.cos(turn), math.sin(turn)) for turn in turns)
    return group(
        *(
            line((center[0] + x * RADIUS, center[1] + y * RADIUS), (center[0] + x * reach, center[1] + y * reach), "np-stroke")
            for x, y in ends
        )
    )


_DIAGONALS: Final = tuple(math.pi / 4 + quarter * math.pi / 2 for quarter in range(4))


def luminaire(center: Point, into: Point) -> Markup:
    """A luminaire: a circle with four rays."""
    return group(_disc(center), _rays(center, *_DIAGONALS))


def wall_luminaire(center: Point, into: Point) -> Markup:
    """A luminaire on its stem."""
    stem = line(_off(center, into, -RADIUS - 2.4, 0), _off(center, into, -RADIUS, 0), "np-stroke")
    return group(_disc(center), stem, _rays(center, *_DIAGONALS))


def recessed(center: Point, into: Point) -> Markup:
    """A recessed luminaire: a circle in a square."""
    half = RADIUS + 0.4
    return group(
        rectangle(center[0] - half, center[1] - half, 2 * half, 2 * half, "np-symbol"),
        circle(center, RADIUS - 1.2, "np-symbol"),
    )


def pendant(center: Point, into: Point) -> Markup:
    """A luminaire with its drop in the middle."""
    return group(_disc(center), circle(center, 1.5, "np-solid"), _rays(center, *_DIAGONALS))


def track(center: Point, into: Point) -> Markup:
    """A track with three heads."""
    x, y = center
    bar = line((x - 9, y), (x + 9, y), "np-heavy")
    heads = (polygon([(x + at, y), (x + at - 2.4, y + 4.4), (x + at + 2.4, y + 4.4)], "np-symbol") for at in (-6.0, 0.0, 6.0))
    return group(bar, *heads)


def fan(center: Point, into: Point) -> Markup:
    """A ceiling fan: four blades."""
    blades = (_blade(center, turn) for turn in _DIAGONALS)
    return group(*blades, circle(center, 1.9, "np-solid"))


def _blade(center: Point, turn: float) -> Markup:
    tip, side = RADIUS + 3.2, 0.34
    points = [(tip, turn - side), (tip, turn + side), (1.2, turn)]
    return polygon([(center[0] + r * math.cos(a), center[1] + r * math.sin(a)) for r, a in points], "np-symbol")


def exhaust_fan(center: Point, into: Point) -> Markup:
    """An exhaust fan: two blades in a square."""
    half = RADIUS + 0.8
    square = rectangle(center[0] - half, center[1] - half, 2 * half, 2 * half, "np-symbol")
    blades = [_off(center, (0, -1), along, across) for along, across in ((3, -3), (3, 3), (-3, -3), (-3, 3))]
    return group(square, polygon(blades, "np-solid"))


def hexagon(said: str) -> Draw:
    """Letters in a hexagon."""

    def draw(center: Point, into: Point) -> Markup:
        reach = RADIUS + 1.4
        corners = [
            (center[0] + reach * math.cos(k * math.pi / 3), center[1] + reach * math.sin(k * math.pi / 3)) for k in range(6)
        ]
        return group(polygon(corners, "np-symbol"), _letters(center, said, 5.0))

    return draw


def connection(center: Point, into: Point) -> Markup:
    """A connection to equipment: a triangle in a circle."""
    tip, left, right = (_off(center, into, along, across) for along, across in ((3.2, 0.0), (-2.0, -2.9), (-2.0, 2.9)))
    return group(_disc(center), polygon([tip, left, right], "np-solid"))


def disconnect(center: Point, into: Point) -> Markup:
    """A disconnect: a square with its diagonal."""
    half = RADIUS
    square = rectangle(center[0] - half, center[1] - half, 2 * half, 2 * half, "np-symbol")
    blade = line((center[0] - 3, center[1] + 3), (center[0] + 2.6, center[1] - 3), "np-heavy")
    return group(square, blade, circle((center[0] - 3, center[1] + 3), 1.1, "np-solid"))


def square(said: str) -> Draw:
    """Letters in a square."""

    def draw(center: Point, into: Point) -> Markup:
        frame = rectangle(center[0] - RADIUS, center[1] - RADIUS, 2 * RADIUS, 2 * RADIUS, "np-symbol")
        return group(frame, _letters(center, said, 4.8))

    return draw


def panel(center: Point, into: Point) -> Markup:
    """A panel: a rectangle, half of it filled."""
    corners = [_off(center, into, along, across) for along, across in ((-3, -7), (-3, 7), (3, 7), (3, -7))]
    return group(polygon(corners, "np-symbol"), polygon([corners[0], corners[1], corners[2]], "np-solid"))
