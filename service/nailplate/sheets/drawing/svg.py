"""Writes SVG: elements as text, everything an author wrote escaped on the way in. The only place that makes markup."""

from typing import Final, NewType

from nailplate.sheets.inert import inert

Markup = NewType("Markup", str)
"""Finished SVG. Only functions of this module make it out of text."""
Attribute = str | float | None
Point = tuple[float, float]

_ESCAPES: Final = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})
NOTHING: Final = Markup("")


def escaped(text: str) -> str:
    """An author's words as character data or as the value of an attribute."""
    return inert(text).translate(_ESCAPES)


def figure(value: float) -> str:
    """A coordinate with no more digits than a printer tells apart."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def element(name: str, *children: Markup, **attributes: Attribute) -> Markup:
    """One element. Of an attribute's name ``_`` becomes ``-`` and a trailing ``_`` falls away; None leaves the attribute out."""
    head = name + "".join(
        f' {_attribute_name(key)}="{_value(value)}"' for key, value in attributes.items() if value is not None
    )
    return Markup(f"<{head}>{''.join(children)}</{name}>" if children else f"<{head}/>")


def _attribute_name(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def _value(value: str | float) -> str:
    return escaped(value) if isinstance(value, str) else figure(value)


def words(text: str) -> Markup:
    """An author's or our own words as character data."""
    return Markup(escaped(text))


def title(text: str) -> Markup:
    """What a reader is told of an element on pointing at it, and a screen reader reads."""
    return element("title", words(text))


def group(*children: Markup, **attributes: Attribute) -> Markup:
    """A group of elements; nothing where there are none."""
    return element("g", *children, **attributes) if any(children) else NOTHING


def line(one: Point, other: Point, class_: str | None = None) -> Markup:
    """A straight line."""
    return element("line", x1=one[0], y1=one[1], x2=other[0], y2=other[1], class_=class_)


def polyline(points: "list[Point] | tuple[Point, ...]", class_: str | None = None) -> Markup:
    """A line through several points."""
    return element("polyline", points=_points(points), class_=class_)


def polygon(points: "list[Point] | tuple[Point, ...]", class_: str | None = None, *children: Markup) -> Markup:
    """A closed shape."""
    return element("polygon", *children, points=_points(points), class_=class_)


def rectangle(x: float, y: float, width: float, height: float, class_: str | None = None, *children: Markup) -> Markup:
    """An upright rectangle by its upper left corner."""
    return element("rect", *children, x=x, y=y, width=width, height=height, class_=class_)


def circle(center: Point, radius: float, class_: str | None = None) -> Markup:
    """A circle."""
    return element("circle", cx=center[0], cy=center[1], r=radius, class_=class_)


def path(data: str, class_: str | None = None) -> Markup:
    """A path by its data, which our own code wrote."""
    return element("path", d=data, class_=class_)


def _points(points: "list[Point] | tuple[Point, ...]") -> str:
    return " ".join(f"{figure(x)},{figure(y)}" for x, y in points)
