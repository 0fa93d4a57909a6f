"""The drawing as it is ordered by name: one level or one wall, on one paper, as SVG or PDF."""

from collections.abc import Mapping
from typing import Final, TypeVar

from nailplate.codes import nearest
from nailplate.plan.words import Side
from nailplate.sheets.drawing.level_sheet import level_sheet, levels_drawn
from nailplate.sheets.drawing.paper import PAPERS, Paper
from nailplate.sheets.drawing.pdf import pdf_of
from nailplate.sheets.drawing.svg import Markup
from nailplate.sheets.drawing.wall_sheet import wall_sheet
from nailplate.sheets.orders import Order, OrderError, Sheet
from nailplate.survey import Survey

SVG: Final = "image/svg+xml"
PDF: Final = "application/pdf"
Named = TypeVar("Named")


def written(order: Order) -> bytes:
    """The sheet that is ordered. Raises OrderError."""
    svg = drawn(order)
    return pdf_of(svg) if order.media == PDF else svg.encode()


def drawn(order: Order) -> Markup:
    """The sheet that is ordered, as SVG. Raises OrderError."""
    asked, plan = order.parameters, order.survey.plan
    paper = _paper(asked)
    if "wall" in asked:
        if "level" in asked:
            raise OrderError("A sheet shows a level or a wall; both are named.", "wall")
        wall = _named("wall", asked["wall"], plan.walls)
        return wall_sheet(order.survey, wall, paper, order.stamp, order.findings.marks, side=_side(asked))
    if "side" in asked:
        raise OrderError("A side is that of a wall, and no wall is named.", "side")
    name = asked.get("level") or _first_level(order.survey)
    return level_sheet(order.survey, _named("level", name, plan.levels), paper, order.stamp, order.findings)


def _paper(asked: Mapping[str, str]) -> Paper:
    name = asked.get("paper", "letter")
    if name not in PAPERS:
        raise OrderError(f"The paper is {' or '.join(PAPERS)}, not {name[:40]!r}.", "paper")
    return PAPERS[name]


def _side(asked: Mapping[str, str]) -> Side | None:
    if "side" not in asked:
        return None
    if asked["side"] not in (each.value for each in Side):
        raise OrderError(f"The side is left or right, as seen from the wall's from end, not {asked['side'][:40]!r}.", "side")
    return Side(asked["side"])


def _first_level(survey: Survey) -> str:
    """The first level on which the plan draws anything."""
    for level in levels_drawn(survey):
        return level.id
    raise OrderError("The plan gives nothing a place on a level, so there is nothing to draw.")


def _named(kind: str, name: str, parts: Mapping[str, Named]) -> Named:
    if name in parts:
        return parts[name]
    near = nearest(name[:80], parts)
    hint = f"; did you mean {near!r}?" if near else f"; it has {', '.join(parts)}" if parts else "; it has none"
    raise OrderError(f"The plan has no {kind} {name[:40]!r}{hint}", kind)


DRAWING: Final = Sheet(
    title="Wiring plan of a level, or elevation of a wall",
    media=(SVG, PDF),
    write=written,
    parameters={
        "level": "id of the level to draw; the first that anything is drawn on unless said",
        "wall": "id of the wall whose elevation to draw",
        "side": "`left` or `right`: the face of the wall that is seen; the one with more boxes unless said",
        "paper": "`letter` or `tabloid`",
    },
)
