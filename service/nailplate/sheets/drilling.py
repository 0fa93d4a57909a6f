"""The drilling sheet: wall by wall the drill lines, holes stud by stud, plates, staples and notches, and where nobody drills later."""

from collections.abc import Iterator

from nailplate.plan import UnknownFact, Wall
from nailplate.plan.words import How, Side, WallKind
from nailplate.rulekit import Job
from nailplate.sheets.called import SENTENCES, named, said, text, words_of
from nailplate.sheets.corners_told import end_of
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drill_holes import DrillLine, HoleAt, diameter_of, lines_in
from nailplate.sheets.keep_out import cables_told, keep_out, stretches
from nailplate.sheets.orders import Order
from nailplate.sheets.plate_holes import PlateHole, holes_counted, plate_holes
from nailplate.sheets.runs_told import mark_of, members_crossed, plates_for, runs_by_wall
from nailplate.sheets.site_cables import staples_of
from nailplate.sheets.site_walls import wall_items
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.places import point_on_wall, room_beside
from nailplate.survey.rough_in import Run, stud_centers
from nailplate.survey.wiring import is_power_cable
from nailplate.units import Measure, Unit, count, inches

_HOLES = (
    Column("Line above floor", Unit.INCH),
    Column("Stud along the wall", Unit.INCH),
    Column("Hole", Unit.INCH),
    Column("Cables", Unit.COUNT),
    Column("Which"),
)
_LINES = (
    Column("Line above floor", Unit.INCH),
    Column("From", Unit.INCH),
    Column("To", Unit.INCH),
    Column("Holes", Unit.COUNT),
    Column("Most cables in a hole", Unit.COUNT),
)
_PLATE_HOLES = (
    Column("Plate"),
    Column("Along the wall", Unit.INCH),
    Column("Across the plate"),
    Column("Cables", Unit.COUNT),
    Column("Which"),
)
_NOTCHES = (
    Column("Cable"),
    Column("Height", Unit.INCH),
    Column("Depth", Unit.INCH),
    Column("Members", Unit.COUNT),
    Column("Plates"),
)
_PLATES = (Column("Cable"), Column("How"), Column("Members crossed", Unit.COUNT), Column("Plates", Unit.COUNT))
_KEEP = (
    Column("From, along the wall", Unit.INCH),
    Column("To, along the wall", Unit.INCH),
    Column("Lowest", Unit.INCH),
    Column("Highest", Unit.INCH),
    Column("What is in there"),
)
_ELSEWHERE = (
    Column("Level"),
    Column("Cable"),
    Column("How"),
    Column("Members"),
    Column("Crossed, about", Unit.COUNT),
    Column("Hole", Unit.INCH),
    Column("Plates", Unit.COUNT),
)
_STAPLES = (Column("Cable"), Column("Staples, about", Unit.COUNT), Column("Where"))


def drilling(order: Order) -> Document:
    """The drilling sheet."""
    survey = order.survey
    here = runs_by_wall(survey)
    site = _site_notes(survey)
    walls = [wall for wall in survey.plan.walls.values() if wall.id in here or wall.id in site]
    sections = [_section(survey, wall, here.get(wall.id, []), site.get(wall.id, ())) for wall in walls]
    if here.get(""):
        sections.append(
            Section(
                Cell("Ceilings, floors and other runs"), table("Runs outside walls", _ELSEWHERE, _elsewhere(survey, here[""]))
            )
        )
    staples = list(_staples(survey))
    if staples:
        sections.append(Section(Cell("Staples and supports"), table("Cable by cable", _STAPLES, staples)))
    sections.append(_totals(survey))
    return Document("drilling", "Drilling and plates, wall by wall", order.stamp, unit_of(survey.plan), tuple(sections), _NOTES)


_NOTES = (
    "Distances along a wall count from the end that is named under it, to the center of the hole. Stud places are those that the plan states, "
    "and otherwise follow from the spacing; find each stud on site.",
    "Where cables are drawn in one line, or within 1 in of each other in height, one hole a stud is counted for all of them, at the lowest one's "
    "height; pull no more than two in a 3/4 in hole (common practice).",
    "Derived: its route is worked out between its ends and drawn by nobody; holes and plates go by walls, ceilings and the plan's defaults.",
    "In joists and plates one hole is counted for each cable and member. Cuts weaken framing. Ask the manufacturer before you cut an engineered member.",
    "Straps of raceways are not counted.",
)


def _section(survey: Survey, wall: Wall, runs: list[Run], notes: tuple[Cell, ...]) -> Section:
    level = [run for run in runs if run.segment.how is How.BORED and run.upright is False]
    lines = [each for each in lines_in(level) if each.holes or not stud_centers(wall)]
    start = said(lambda name: f"Along the wall counts from {end_of(survey, wall, name)}.", wall.pointer)
    return Section(
        named(wall),
        (
            *table("Lines of holes", _LINES, [row for each in lines for row in _stretches_of(each)]),
            *table("Holes, stud by stud", _HOLES, [_hole(each) for line in lines for each in line.holes]),
            *table(
                "Holes in plates", _PLATE_HOLES, [_plate_hole(survey, wall, each) for each in plate_holes(survey, wall, runs)]
            ),
            *table("Notches", _NOTCHES, list(_notches(survey, runs))),
            *table("Nail plates", _PLATES, list(_plates(survey, runs))),
            *table("Do not drill or screw here", _KEEP, list(keep_out(runs))),
        ),
        (start, *notes),
    )


# Holes


def _stretches_of(line: DrillLine) -> Iterator[tuple[Cell, ...]]:
    """A row for each stretch of a line that cable lies in: who snaps a line over the gap between two would bore studs for nothing."""
    for runs in stretches(line.runs, axis=0):
        alongs = [along for run in runs for along, _ in run.on_wall]
        holes = [each for each in line.holes if min(alongs) <= each.along <= max(alongs)]
        if holes or not line.holes:
            most = max((len(_cables(each.runs)) for each in holes), default=len(_cables(runs)))
            figures = (inches(line.height), inches(min(alongs)), inches(max(alongs)), count(len(holes)), count(most))
            yield tuple(Cell(each, runs[0].pointer) for each in figures)


def _hole(hole: HoleAt) -> tuple[Cell, ...]:
    at = hole.runs[0].pointer
    cables = _cables(hole.runs)
    return (
        Cell(inches(hole.height), at),
        Cell(inches(hole.along), at),
        Cell(inches(hole.diameter) if hole.diameter else None, at),
        Cell(count(len(cables)), at),
        cables_told(hole.runs, at),
    )


def _plate_hole(survey: Survey, wall: Wall, hole: PlateHole) -> tuple[Cell, ...]:
    at = hole.runs[0].pointer
    return (
        Cell(hole.plate, at),
        Cell(inches(hole.along), at),
        _across(survey, wall, hole),
        Cell(count(len(_cables(hole.runs))), at),
        cables_told(hole.runs, at),
    )


def _across(survey: Survey, wall: Wall, hole: PlateHole) -> Cell:
    """Where a hole is across its plate: holes closer along the wall than they are wide stand in two rows."""
    if not hole.across:
        return text("center", hole.runs[0].pointer)
    side = Side.LEFT if hole.across > 0 else Side.RIGHT
    room = room_beside(survey, wall, point_on_wall(wall, hole.along), side)
    off = dimension(abs(hole.across), unit_of(survey.plan), BY_TAPE)
    beyond = "the outside" if wall.is_(kind=WallKind.EXTERIOR) else f"the wall's {side} side"
    return said(lambda name: f"{off} off center, toward {name(room) if room else beyond}", hole.runs[0].pointer)


def _cables(runs: tuple[Run, ...]) -> list[str]:
    return list(dict.fromkeys(run.cable.id for run in runs))


def _cable_of(run: Run) -> Cell:
    """The cable of a run, marked where no author draws it."""
    return said(lambda name: f"{name(run.cable)}{mark_of(run)}", run.cable.pointer)


# Notches and plates


def _notches(survey: Survey, runs: list[Run]) -> Iterator[tuple[Cell, ...]]:
    for run in runs:
        if run.segment.how is How.NOTCH:
            depth = inches(run.segment.notch_depth) if run.segment.knows("notch_depth") else None
            high = inches(run.on_wall[0][1]) if run.on_wall else None
            crossed = count(members_crossed(run))
            plates = f"{plates_for(survey, run)}, on the open face"
            yield _cable_of(run), Cell(high, run.pointer), Cell(depth, run.pointer), Cell(crossed, run.pointer), text(plates)


def _plates(survey: Survey, runs: list[Run]) -> Iterator[tuple[Cell, ...]]:
    for run in runs:
        number = plates_for(survey, run)
        if number:
            yield (
                _cable_of(run),
                text(words_of(run.segment.how)),
                Cell(count(members_crossed(run)), run.pointer),
                Cell(count(number), run.pointer),
            )
        elif run.segment.how is How.ALONG_MEMBER and _is_plated(run):
            length = run.length or 0.0
            words = f"steel along {length / 12:.1f} ft of it"
            yield (
                _cable_of(run),
                text(f"along framing: {words}", run.pointer),
                Cell(count(1), run.pointer),
                Cell(),
            )


def _is_plated(run: Run) -> bool:
    return run.segment.knows("plates") and run.segment.plates != "none"


# Elsewhere, and staples


def _elsewhere(survey: Survey, runs: list[Run]) -> list[tuple[Cell, ...]]:
    """A row for each cable and way of running on a level, its members added up."""
    groups: dict[tuple[object, ...], list[Run]] = {}
    for run in runs:
        member = words_of(run.segment.member) if run.segment.knows("member") else ""
        groups.setdefault((run.level, run.cable.id, run.segment.how, member, diameter_of(run)), []).append(run)
    return [_elsewhere_row(survey, here) for here in groups.values()]


def _elsewhere_row(survey: Survey, here: list[Run]) -> tuple[Cell, ...]:
    run = here[0]
    how, at, diameter = run.segment.how, run.pointer, diameter_of(run)
    bored = how in (How.BORED, How.NOTCH)
    return (
        named(survey.plan.levels[run.level]) if run.level is not None else Cell(),
        _cable_of(run),
        text("along framing" if how is How.ALONG_MEMBER else words_of(how), at),
        text(words_of(run.segment.member) if run.segment.knows("member") else ""),
        Cell(count(sum(members_crossed(each) for each in here)), at) if bored else Cell(),
        Cell(inches(diameter), at) if diameter else Cell(None, at if bored else None),
        Cell(count(sum(plates_for(survey, each) for each in here)), at) if bored else Cell(),
    )


def staples_counted(survey: Survey) -> dict[str, tuple[int, str]]:
    """Staples and supports, about, by cable; cables without a kind or length are left out."""
    return survey.once(_staples_counted)


def _staples_counted(survey: Survey) -> dict[str, tuple[int, str]]:
    found = {}
    for cable in survey.plan.cables.values():
        try:
            counted = staples_of(survey, cable) if is_power_cable(cable) else None
        except UnknownFact:  # unknown: without its kind no interval holds
            continue
        if counted is not None:
            found[cable.id] = counted
    return found


def _staples(survey: Survey) -> Iterator[tuple[Cell, ...]]:
    for cable_id, (number, where) in staples_counted(survey).items():
        cable = survey.plan.cables[cable_id]
        yield named(cable), Cell(count(number), cable.pointer), text(where)


def plates_counted(survey: Survey) -> int:
    """Nail plates of all runs."""
    return sum(plates_for(survey, run) for runs in runs_by_wall(survey).values() for run in runs)


def _totals(survey: Survey) -> Section:
    figures: list[tuple[str, Measure]] = [
        ("Holes, about", count(holes_counted(survey))),
        ("Nail plates, about", count(plates_counted(survey))),
        ("Staples and supports, about", count(sum(number for number, _ in staples_counted(survey).values()))),
    ]
    rows = [(Cell(head), Cell(figure)) for head, figure in figures]
    return Section(Cell("In all"), table("Counted", (Column("What"), Column("Number", Unit.COUNT)), rows))


# What the site list of the report says of the same walls


def _site_notes(survey: Survey) -> dict[str, tuple[Cell, ...]]:
    found: dict[str, list[Cell]] = {}
    for item in wall_items(Job(survey.plan, survey, survey.edition)):
        wall = item.at[0].members[1]
        if item.topic in ("holes", "side_by_side", "keep_clear", "studs"):
            found.setdefault(wall, []).append(
                text(f"{item.do} ({item.section or 'common practice'})", item.at[0], most=SENTENCES)
            )
    return {wall: tuple(notes) for wall, notes in found.items()}
