"""The cable sheet: every cable with its cut length, labels and circuit, in the order to pull, and the coils to open."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc.cutting import FOOT, CuttingPlan, cutting_plan
from nailplate.plan import Cable, PanelEnd, UnknownFact
from nailplate.plan.trade import ON_COILS
from nailplate.sheets.called import NOT_STATED, Name, cable_kind, named, said, text
from nailplate.sheets.drawing.measures import dimension, unit_of
from nailplate.sheets.ends_told import circuits_told, end_told, label_at
from nailplate.sheets.orders import Order
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.routing import route_of
from nailplate.survey.wiring import LengthFrom, cable_length
from nailplate.units import Inches, Unit, count, inches

_HOW: Final = {
    LengthFrom.STATED: "stated by the plan",
    LengthFrom.ROUTE: "along the route as drawn",
    LengthFrom.DERIVED: "along a route worked out",
    LengthFrom.ESTIMATED: "estimated at right angles",
}
_COLUMNS = (
    Column("Pull", Unit.COUNT),
    Column("Cable"),
    Column("From"),
    Column("To"),
    Column("Type"),
    Column("Circuit"),
    Column("Run and makeup", Unit.INCH),
    Column("Slack", Unit.INCH),
    Column("Cut", Unit.INCH),
    Column("Length is"),
    Column("Label at the first end"),
    Column("Label at the other end"),
)
_COILS = (
    Column("Coil", Unit.COUNT),
    Column("Type"),
    Column("Length (ft)", Unit.COUNT),
    Column("Cut from it, in order"),
    Column("Used", Unit.INCH),
    Column("Left over", Unit.INCH),
)
_SUMS = (
    Column("Type"),
    Column("Pieces", Unit.COUNT),
    Column("Cut in all", Unit.INCH),
    Column("Bought in coils (ft)", Unit.COUNT),
    Column("Left over", Unit.INCH),
    Column("How the coils were chosen"),
)


@dataclass(frozen=True, slots=True)
class Cut:
    """A cable's piece: what the run and both ends take, and what is left over as slack. A stated length is the whole piece."""

    cable: Cable
    run: Inches
    slack: Inches
    source: LengthFrom

    @property
    def length(self) -> Inches:
        """What to cut."""
        return Inches(self.run + self.slack)


def cuts(survey: Survey) -> tuple[Cut, ...]:
    """Every cable whose length is known, in the order to pull: home runs first, the farthest first, then the others alike."""
    return survey.once(_cuts)


def _cuts(survey: Survey) -> tuple[Cut, ...]:
    found = [cut for cable in survey.plan.cables.values() if (cut := _cut(survey, cable)) is not None]
    return tuple(sorted(found, key=lambda each: (not is_home_run(each.cable), -each.length)))


def _cut(survey: Survey, cable: Cable) -> Cut | None:
    try:
        length = cable_length(survey, cable)
    except UnknownFact:  # unknown: the sheet lists the cable without a length
        return None
    if length.source is LengthFrom.STATED:
        return Cut(cable, length.inches, Inches(0.0), length.source)
    route = route_of(survey, cable)
    makeup = route.makeup if length.source is LengthFrom.ROUTE else 0.0
    return Cut(cable, Inches(length.inches + makeup), route.slack, length.source)


def is_home_run(cable: Cable) -> bool:
    """Whether one of its ends is in a panel."""
    return any(isinstance(end, PanelEnd) for end in cable.ends)


def without_length(survey: Survey) -> list[Cable]:
    """The cables whose length nothing tells."""
    known = {cut.cable.id for cut in cuts(survey)}
    return [cable for cable in survey.plan.cables.values() if cable.id not in known]


def kinds(survey: Survey) -> dict[str, list[Cut]]:
    """The pieces by kind of cable, kinds in order of name."""
    found: dict[str, list[Cut]] = {}
    for cut in cuts(survey):
        found.setdefault(cable_kind(cut.cable), []).append(cut)
    return dict(sorted(found.items()))


def coils_for(survey: Survey) -> dict[str, CuttingPlan]:
    """The coils to open, by kind of cable."""
    return survey.once(_coils_for)


def _coils_for(survey: Survey) -> dict[str, CuttingPlan]:
    return {
        kind: cutting_plan([each.length for each in pieces])
        for kind, pieces in kinds(survey).items()
        if _on_coils(pieces[0].cable)
    }


def _on_coils(cable: Cable) -> bool:
    return not cable.knows("type") or cable.type in ON_COILS


def cables(order: Order) -> Document:
    """The cable sheet."""
    survey = order.survey
    rows = [_row(survey, number, cut) for number, cut in enumerate(cuts(survey), 1)]
    rows += [_without(survey, cable) for cable in without_length(survey)]
    coils = [row for kind in coils_for(survey) for row in _coil_rows(survey, kind)]
    sums = [_sum(survey, kind) for kind in coils_for(survey)]
    sections = (
        Section(Cell("Cables, in the order to pull"), table("Cables", _COLUMNS, rows)),
        Section(
            Cell("Coils to open"),
            (*table("By type", _SUMS, sums), *table("Cutting plan", _COILS, coils)),
            tuple(_off_coils(survey)),
        ),
    )
    return Document("cables", "Cables and coils", order.stamp, unit_of(survey.plan), sections, _NOTES)


_NOTES = (
    "Home runs come first, the longest first, then the other cables, the longest first.",
    "Run and makeup holds what boxes, panel and stripping take at both ends. A stated length is taken as the whole piece, slack in it.",
    "Makeup of 10 in at a box, the panel's height and 18 in at a panel, slack of 6 in at a box: common practice; 300.14 requires 6 in of "
    "free conductor.",
    "No piece is spliced in a wall. Coils are chosen for the least cable bought, then the fewest coils; measure each run before cutting.",
)


def _off_coils(survey: Survey) -> Iterator[Cell]:
    """What no coil holds: conductors in raceways, and cable that is sold by the foot."""
    for kind, pieces in kinds(survey).items():
        if kind not in coils_for(survey):
            long = dimension(sum(each.length for each in pieces), unit_of(survey.plan))
            numbers = ", ".join(str(survey.once(_places)[each.cable.id]) for each in pieces)
            yield text(f"Not from a coil: {kind}, {long} in all (pull {numbers}). In a raceway each conductor is that long.")


def _row(survey: Survey, number: int, cut: Cut) -> tuple[Cell, ...]:
    cable = cut.cable
    stated = cut.source is LengthFrom.STATED
    return (
        Cell(count(number), cable.pointer),
        *_which(survey, cable),
        Cell(inches(cut.run), cable.pointer),
        Cell("in it" if stated else inches(cut.slack), cable.pointer),
        Cell(inches(cut.length), cable.pointer),
        text(_HOW[cut.source]),
        label_at(survey, cable, 0),
        label_at(survey, cable, 1),
    )


def _which(survey: Survey, cable: Cable) -> tuple[Cell, ...]:
    return (
        named(cable),
        end_told(survey, cable, 0),
        end_told(survey, cable, 1),
        text(cable_kind(cable), cable.pointer),
        text(circuits_told(survey, cable) or NOT_STATED, cable.pointer),
    )


def _without(survey: Survey, cable: Cable) -> tuple[Cell, ...]:
    why = route_of(survey, cable).why_not or "its length is not stated"
    labels = (label_at(survey, cable, 0), label_at(survey, cable, 1))
    return (Cell(None, cable.pointer), *_which(survey, cable), Cell(), Cell(), Cell(), text(f"not known: {why}"), *labels)


def _coil_rows(survey: Survey, kind: str) -> Iterator[tuple[Cell, ...]]:
    pieces, plan = kinds(survey)[kind], coils_for(survey)[kind]
    for number, coil in enumerate(plan.coils, 1):
        yield (
            Cell(count(number)),
            text(kind),
            Cell(count(round(coil.size / FOOT))),
            _pieces(survey, [pieces[place] for place in coil.pieces]),
            Cell(inches(coil.used)),
            Cell(inches(coil.left)),
        )
    for place in plan.from_reel:
        cut = pieces[place]
        reel = _pieces(survey, [cut])
        yield (Cell("reel"), text(kind), Cell(count(math.ceil(cut.length / FOOT))), reel, Cell(inches(cut.length)), Cell())


def _pieces(survey: Survey, pieces: list[Cut]) -> Cell:
    return said(lambda name: "; ".join(_piece(survey, each, name) for each in pieces), pieces[0].cable.pointer)


def _piece(survey: Survey, cut: Cut, name: Name) -> str:
    """A piece by its number in the pull order and its length to the inch: rounded up, the pieces of a full coil would not fit it."""
    return f"{survey.once(_places)[cut.cable.id]} ({dimension(cut.length, unit_of(survey.plan))}) {name(cut.cable)}"


def _places(survey: Survey) -> dict[str, int]:
    return {cut.cable.id: number for number, cut in enumerate(cuts(survey), 1)}


def _sum(survey: Survey, kind: str) -> tuple[Cell, ...]:
    pieces, plan = kinds(survey)[kind], coils_for(survey)[kind]
    how = "the least that can be bought, all divisions tried"
    if not plan.exact:
        how = f"first-fit decreasing; no purchase is under {round(plan.bound / FOOT)} ft"
    return (
        text(kind),
        Cell(count(len(pieces))),
        Cell(inches(sum(each.length for each in pieces))),
        Cell(count(round(plan.bought / FOOT))),
        Cell(inches(plan.left)),
        text(how),
    )
