"""Reads a drawing back as a program outside would: parsed XML, anchors by part, boxes of text."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from sheets.measured_widths import em_width

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


class TextBox(NamedTuple):
    """A text with the box that it takes."""

    said: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "TextBox") -> bool:
        dust = 0.01
        return (
            self.left < other.right - dust
            and other.left < self.right - dust
            and self.top < other.bottom - dust
            and other.top < self.bottom - dust
        )


def parsed(svg: str) -> ET.Element:
    root = ET.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    return root


def anchors(svg: str, kind: str) -> dict[str, Point]:
    """Id of each part of a map to the place where the drawing puts it."""
    found: dict[str, Point] = {}
    for group in parsed(svg).iter(f"{SVG}g"):
        pointer = group.get("data-part", "")
        if pointer.startswith(f"/{kind}/") and pointer.count("/") == 2:
            dot = next((each for each in group if "np-anchor" in each.get("class", "")), None)
            square = next((each for each in group if each.get("class") == "np-box"), None)
            if dot is not None:
                found[pointer.split("/")[2]] = (float(dot.attrib["cx"]), float(dot.attrib["cy"]))
            elif square is not None:
                x, y, wide = (float(square.attrib[name]) for name in ("x", "y", "width"))
                found[pointer.split("/")[2]] = (x + wide / 2, y + wide / 2)
    return found


def layer(svg: str, name: str) -> ET.Element | None:
    return next((each for each in parsed(svg).iter(f"{SVG}g") if each.get("class") == f"np-layer-{name}"), None)


def texts(element: ET.Element, at: Point = (0.0, 0.0), turned: bool = False) -> Iterator[TextBox]:
    """Boxes of every text, moved and turned as its groups say."""
    moved = re.fullmatch(r"translate\(([-0-9.]+) ([-0-9.]+)\)( rotate\(-90\))?", element.get("transform", ""))
    if moved:
        at = (at[0] + float(moved[1]), at[1] + float(moved[2]))
        turned = turned or bool(moved[3])
    if element.tag == f"{SVG}text":
        yield _box(element, at, turned)
    for child in element:
        yield from texts(child, at, turned)


def _box(element: ET.Element, at: Point, turned: bool) -> TextBox:
    said = "".join(element.itertext())
    size = float(element.attrib["font-size"])
    wide = em_width(said, bold=element.get("font-weight") == "bold") * size
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    left = x - {"middle": wide / 2, "end": wide}.get(element.get("text-anchor", ""), 0.0)
    box = (left, y - 0.72 * size, left + wide, y + 0.2 * size)  # cap height to descender
    if turned:
        box = (box[1], -box[2], box[3], -box[0])
    return TextBox(said, box[0] + at[0], box[1] + at[1], box[2] + at[0], box[3] + at[1])


def overlaps(svg: str) -> list[tuple[str, str]]:
    """Pairs of texts that lie over each other; those of one symbol aside, which it draws as one."""
    found = [*texts(parsed(svg))]
    return [
        (one.said, other.said) for one, other in combinations(found, 2) if one.meets(other) and not _of_a_symbol(one, other)
    ]


def _of_a_symbol(one: TextBox, other: TextBox) -> bool:
    """The capital S of a switch and the small letter at its foot."""
    return {one.said, other.said} & {"S"} != set() and min(len(one.said), len(other.said)) == 1
