"""The box sheet: room by room what to buy, where to set it, what comes in, what each conductor carries, and what it counts for."""

from collections.abc import Iterator

from nailplate.calc.box_fill import CountedVolume, FillLine, counted_volume
from nailplate.calc.steps import CalculationError
from nailplate.plan import Box, BoxEnd, Cable, Device, Pointer, UnknownFact
from nailplate.plan.words import Placing
from nailplate.sheets.called import NOT_STATED, cable_kind, joined, measured, named, said, short_name, stated, text, words_of
from nailplate.sheets.carried import conductors_told
from nailplate.sheets.devices_told import kind_of_device
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.sheets.ends_told import other_end
from nailplate.sheets.orders import Order
from nailplate.sheets.places_told import by_room, height_of, place_told
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.boxes import contents_of, volume_of
from nailplate.survey.index import Survey
from nailplate.units import Measure, Unit, count, cubic_inches, inches

_BOXES = (
    Column("Box"),
    Column("Buy"),
    Column("Gangs", Unit.COUNT),
    Column("Volume", Unit.CUBIC_INCH),
    Column("Inside depth", Unit.INCH),
    Column("Rating and clamps"),
    Column("Height to center", Unit.INCH),
    Column("Place"),
    Column("Devices and covers"),
    Column("Circuits"),
    Column("Counts for", Unit.CUBIC_INCH),
    Column("Room left", Unit.CUBIC_INCH),
)
_CABLES = (Column("Box"), Column("Cable"), Column("Comes from"), Column("Type"), Column("Conductors and what each carries"))
_FILL = (
    Column("Box"),
    Column("What counts"),
    Column("How many", Unit.COUNT),
    Column("Each", Unit.CUBIC_INCH),
    Column("Together", Unit.CUBIC_INCH),
    Column("Section"),
)
_ALONE = (Column("Device"), Column("Height to center", Unit.INCH), Column("Place"), Column("Circuits"))


def boxes(order: Order) -> Document:
    """The box sheet."""
    survey = order.survey
    sections = [_section(survey, title, here) for title, here in by_room(survey, survey.plan.boxes.values())]
    alone = [each for each in survey.plan.devices.values() if not each.knows("box")]
    if alone:
        rows = [_alone(survey, device) for device in alone]
        sections.append(Section(Cell("Devices without a box"), table("Devices", _ALONE, rows)))
    return Document("boxes", "Boxes, room by room", order.stamp, unit_of(survey.plan), tuple(sections), _notes(survey))


def _notes(survey: Survey) -> tuple[str, ...]:
    """What holds for every room; boxes that go to the nearest stud are said to move."""
    moved = any(box.is_(placing=Placing.NEAREST_STUD) for box in survey.plan.boxes.values())
    return (*_NOTES, _TO_THE_STUD) if moved else _NOTES


_TO_THE_STUD = (
    "Boxes in walls go to the stud nearest to the place given, up to half the stud spacing along the wall; heights stay. Measure again "
    "what hangs on the place."
)
_NOTES = (
    "Height is from the finished floor to the center of the box, outdoors from the ground, porch or deck under it.",
    "The left and right corners of a wall are those of who stands before it.",
    "Counts for: the most that the plan can mean, by 314.16. Where it leaves something open, the lines of the fill are the least.",
    "Room left is by the code's count. A smart switch, a dimmer and a GFCI device count like a plain switch and fill far more.",
)


def _section(survey: Survey, title: Cell, here: list[Box]) -> Section:
    counted = {box.id: _counted(survey, box) for box in here}
    boxes_ = [_box_row(survey, box, counted[box.id]) for box in here]
    cables = [row for box in here for row in _cable_rows(survey, box)]
    fill = [row for box in here for row in _fill_rows(box, counted[box.id])]
    return Section(
        title,
        (*table("Boxes", _BOXES, boxes_), *table("Cables in", _CABLES, cables), *table("Fill, line by line", _FILL, fill)),
    )


def _counted(survey: Survey, box: Box) -> tuple[CountedVolume, CountedVolume | None] | str:
    """The least and the most that a box's contents count for; the most None where there is no end to it; else why not."""
    try:
        found = contents_of(survey, box, survey.edition)
        least, most = (counted_volume(each, survey.edition.box_fill) for each in (found.least, found.most))
    except UnknownFact as unknown:
        return f"not worked out: {_unstated(survey, unknown.pointer)} is not stated"
    except CalculationError as error:
        return f"not worked out: {error}"
    return least, None if found.unbounded else most


def _box_row(survey: Survey, box: Box, counted: tuple[CountedVolume, CountedVolume | None] | str) -> tuple[Cell, ...]:
    volume = measured(lambda: cubic_inches(volume_of(survey, box, survey.edition)), box.pointer)
    most = counted[1] if not isinstance(counted, str) else None
    fill = Cell(cubic_inches(most.total) if most else None, box.pointer)
    spare = None
    if most and isinstance(volume.value, Measure):
        spare = cubic_inches(volume.value.value - most.total)
    high = height_of(survey, box)
    return (
        named(box),
        text(kind_of_box(box), box.pointer),
        Cell(count(box.gangs), box.pointer) if box.knows("gangs") else Cell(),
        volume,
        Cell(inches(box.depth) if box.knows("depth") else None, box.where("depth")),
        text(_rated(box)),
        Cell(inches(high) if high is not None else None, box.pointer),
        place_told(survey, box),
        _devices(survey, box),
        _circuits(survey, box),
        fill,
        Cell(spare, box.pointer),
    )


def kind_of_box(box: Box) -> str:
    """What to ask for at the counter, volume and depth aside: ``2-gang nonmetallic device box, rated for fans``."""
    gangs = f"{box.gangs}-gang" if box.knows("gangs") and box.gangs > 1 else ""
    known = [words_of(getattr(box, each)) for each in ("material", "shape") if box.knows(each)]
    size = (
        _figures_of(box.trade_size) if box.knows("trade_size", "shape") else box.trade_size if box.knows("trade_size") else ""
    )
    fan = ", rated for fans" if box.is_(fan_rated=True) else ""
    ring = ", with an extension or plaster ring" if box.knows("extension") else ""
    return f"{' '.join(each for each in (gangs, size, *known) if each)} box{fan}{ring}".strip()


def _figures_of(trade_size: str) -> str:
    """``4 x 1-1/2`` of ``4 x 1-1/2 square``: the shape is said besides."""
    figures, _, last = trade_size.rpartition(" ")
    return figures if figures and last.isalpha() else trade_size


def _rated(box: Box) -> str:
    place = f"{box.location_rating} places" if box.knows("location_rating") else ""
    clamps = {"none": "no clamps", "internal": "internal clamps", "connector": "connectors"}
    return joined((place, clamps[box.clamps.value] if box.knows("clamps") else "")) or NOT_STATED


def _devices(survey: Survey, box: Box) -> Cell:
    devices = survey.devices_in_box.get(box.id, [])
    if not devices:
        return Cell("no device: blank cover", box.pointer)
    return said(lambda name: "; ".join(f"{name(each)}: {kind_of_device(survey, each)}" for each in devices), devices[0].pointer)


def _circuits(survey: Survey, box: Box) -> Cell:
    ids = [each.circuit for each in survey.devices_in_box.get(box.id, []) if each.knows("circuit")]
    for cable in (*survey.cables_at_box.get(box.id, []), *survey.cables_through_box.get(box.id, [])):
        ids += [getattr(cable, fact) for fact in ("circuit", "second_circuit") if cable.knows(fact)]
    return text(joined(circuit_tag(survey, survey.plan.circuits[each]) for each in ids) or NOT_STATED, box.pointer)


def _cable_rows(survey: Survey, box: Box) -> Iterator[tuple[Cell, ...]]:
    for cable in dict.fromkeys(survey.cables_at_box.get(box.id, [])):
        yield _cable_row(survey, box, cable, other_end(survey, cable, BoxEnd, box.id))
    for cable in dict.fromkeys(survey.cables_through_box.get(box.id, [])):
        yield _cable_row(survey, box, cable, Cell("passes unbroken"))


def _cable_row(survey: Survey, box: Box, cable: Cable, comes_from: Cell) -> tuple[Cell, ...]:
    return (
        named(box),
        named(cable),
        comes_from,
        text(cable_kind(cable), cable.pointer),
        said(lambda name: conductors_told(survey, cable, name), cable.pointer),
    )


def _fill_rows(box: Box, counted: tuple[CountedVolume, CountedVolume | None] | str) -> Iterator[tuple[Cell, ...]]:
    if isinstance(counted, str):
        yield (named(box), text(counted), Cell(), Cell(), Cell(), Cell())
        return
    for line in counted[0].lines:
        yield (
            named(box),
            text(_counts(line), box.pointer),
            Cell(Measure(line.how_many, Unit.COUNT)),
            Cell(cubic_inches(line.each)),
            Cell(cubic_inches(line.subtotal)),
            text(f"NEC {line.section}"),
        )


def _unstated(survey: Survey, at: Pointer) -> str:
    """A fact that is missing, in words, and the part that would state it."""
    map_name, *rest = at.members
    part = getattr(survey.plan, map_name).get(rest[0]) if len(rest) > 1 else None
    if part is None:
        return str(at)
    fact = ", ".join(words_of(each) for each in rest[1:] if not each.isdecimal())
    return f"{fact} of {short_name(part)}"


def _counts(line: FillLine) -> str:
    """What a line counts; one of a canopy's few wires says why it counts for nothing."""
    canopy = line.what.startswith("fixture wires") and not line.how_many
    return f"{line.what}: four or fewer under a domed canopy do not count" if canopy else line.what


def _alone(survey: Survey, device: Device) -> tuple[Cell, ...]:
    high = height_of(survey, device)
    tag = circuit_tag(survey, survey.plan.circuits[device.circuit]) if device.knows("circuit") else stated(device, "circuit")
    return (
        said(lambda name: f"{name(device)}: {kind_of_device(survey, device)}", device.pointer),
        Cell(inches(high) if high is not None else None, device.pointer),
        place_told(survey, device),
        text(tag, device.pointer),
    )
