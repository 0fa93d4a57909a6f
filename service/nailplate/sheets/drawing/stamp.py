"""What a sheet says of itself: plan, digest, edition, packs, date, scale, and the cautions that go with any drawing."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.lettering import text
from nailplate.sheets.drawing.margin import Row, gap, heading, said
from nailplate.sheets.drawing.measures import DIMENSIONS_IN, dimension
from nailplate.sheets.drawing.paper import Paper, Scale, is_metric
from nailplate.sheets.drawing.svg import Markup, Point, group, rectangle

CAUTIONS: Final = (
    "Not for construction without a permit, approval by the authority having jurisdiction, and review by a licensed electrician.",
    "Written dimensions govern over scaled ones. Verify every dimension, stud place and clearance on site before drilling.",
    "The adopted code, local amendments, the serving utility and manufacturers' instructions govern over this drawing.",
    "Turn off the power, lock it out and test before work. Photograph and have the rough-in inspected before cover-up.",
)


@dataclass(frozen=True, slots=True)
class Stamp:
    """Whose drawing it is, by which law it was checked, and when. ``issued`` is the caller's date, since this room has no clock."""

    plan: str
    edition: str
    digest: str | None = None
    packs: tuple[tuple[str, str], ...] = ()
    issued: str | None = None
    cautions: tuple[str, ...] = ()


def title_rows(stamp: Stamp, sheet: str, scale: Scale, paper: Paper, unit: LengthUnit) -> Iterator[Row]:
    """The title block."""
    yield from said(stamp.plan, 9.6, lines=3, bold=True)
    yield gap(2)
    yield from said(sheet, 8.2, lines=3)
    yield gap(2)
    yield from said(
        f"Scale {scale.words} at full size on {paper.name} ({paper.width:g} x {paper.height:g} in); do not fit to page."
    )
    yield scale_bar(scale, unit)
    yield from said(f"Dimensions in {DIMENSIONS_IN[unit]}. Heights above the finished floor to the center of the box.")
    packs = ", ".join(f"{name} {version}" for name, version in stamp.packs)
    yield from said(
        f"NEC {stamp.edition}{f'; rules: {packs}' if packs else ''}{f'; issued {stamp.issued}' if stamp.issued else ''}"
    )
    if stamp.digest:
        half = (len(stamp.digest) + 1) // 2
        yield from said(f"Plan {stamp.digest[:half]} {stamp.digest[half:]}", 5.6, class_="np-soft")


def caution_rows(stamp: Stamp) -> Iterator[Row]:
    """The cautions, those of the plan's own class after those of every drawing."""
    yield gap()
    yield heading("Cautions")
    for each in (*CAUTIONS, *stamp.cautions):
        yield from said(each, 6.2, lines=5)
        yield gap(1.4)


def scale_bar(scale: Scale, unit: LengthUnit) -> Row:
    """A bar that tells whether a print came out at its scale."""
    step = _bar_step(scale, metric=is_metric(unit))

    def draw(at: Point, width: float) -> Markup:
        long, y = step * scale.points, at[1] + 3
        parts = [
            rectangle(at[0] + number * long / 2, y, long / 2, 3, "np-solid" if number % 2 == 0 else "np-symbol")
            for number in range(4)
        ]
        ends = [
            text((at[0] + number * long, y + 10), dimension(number * step, unit) if number else "0", 5.6, anchor=anchor)
            for number, anchor in ((0, None), (1, "middle"), (2, "middle"))
        ]
        return group(*parts, *ends)

    return Row(16.0, draw)


_BAR: Final = 70.0
"""Points that half of a bar takes at most."""


def _bar_step(scale: Scale, *, metric: bool) -> float:
    usual = (250, 500, 1000, 2000, 5000, 10_000, 20_000) if metric else (1, 2, 4, 5, 8, 10, 20, 50, 100)
    steps = [each / 25.4 for each in usual] if metric else [12.0 * each for each in usual]
    return max((each for each in steps if each * scale.points <= _BAR), default=_BAR / scale.points)
