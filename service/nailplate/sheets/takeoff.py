"""The take-off: everything the plan holds by kind and size, with its number or length, and the waste that the caller states."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final

from nailplate.calc.cutting import FOOT
from nailplate.plan import Box, Circuit, Device, UnknownFact
from nailplate.plan.trade import YOKED
from nailplate.plan.words import CableType, DeviceKind
from nailplate.sheets.boxes import kind_of_box
from nailplate.sheets.cables import coils_for, kinds, without_length
from nailplate.sheets.called import cable_kind, stated, text, words_of
from nailplate.sheets.devices_told import kind_of_device
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drilling import plates_counted, staples_counted
from nailplate.sheets.orders import Order, OrderError
from nailplate.sheets.panel import PROTECTS, breakers_at, common_trip_with
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.boxes import volume_of
from nailplate.survey.index import Survey
from nailplate.units import Measure, Unit, count, cubic_inches, inches, shown

_COLUMNS = (
    Column("Item"),
    Column("Kind and size"),
    Column("Net quantity", Unit.COUNT),
    Column("Order", Unit.COUNT),
    Column("Unit"),
)
MOST_WASTE: Final = 100.0
_WASTE = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,4})?) ?%?", re.ASCII)
Item = tuple[str, str, float, str, bool]
"""Item, kind and size, quantity, unit, and whether waste is added."""


def takeoff(order: Order) -> Document:
    """The take-off. Raises OrderError for a waste that is no percentage."""
    waste = waste_of(order.parameters.get("waste"))
    survey = order.survey
    rows = [_row(item, waste) for item in items(survey)]
    sections = [Section(Cell("Materials"), table("Take-off", _COLUMNS, rows))]
    unknown = without_length(survey)
    if unknown:
        left = Counter(cable_kind(cable) for cable in unknown)
        told = tuple(text(f"{number} of {kind}: length not known, not in the figures") for kind, number in left.items())
        sections.append(Section(Cell("Left out"), notes=told))
    return Document("take-off", "Take-off", order.stamp, unit_of(survey.plan), tuple(sections), _notes(waste))


def waste_of(stated_waste: str | None) -> float:
    """The waste in percent; none unless it is stated. Raises OrderError."""
    if stated_waste is None:
        return 0.0
    match = _WASTE.fullmatch(stated_waste.strip())
    if match is None or float(match.group(1)) > MOST_WASTE:
        raise OrderError(
            f"The waste is a percentage from 0 to {MOST_WASTE:g}, such as 10%, not {stated_waste[:40]!r}.", "waste"
        )
    return float(match.group(1))


def _notes(waste: float) -> tuple[str, ...]:
    grows = "cable, raceway, supply conductors, staples, nail plates and cover plates"
    return (
        f"{waste:g} % waste is added to {grows}; all else is counted exactly."
        if waste
        else "No waste is stated, and none is added.",
        "10 % on conductors is usual in trade estimating guides, and crews use 10 to 20 % (common practice).",
        "Coils are those of the cutting plan, without waste. Wire connectors, connectors for metal boxes, raceway fittings and straps, screws and "
        "sealant are not counted.",
    )


def _row(item: Item, waste: float) -> tuple[Cell, ...]:
    what, kind, quantity, unit, grows = item
    order = math.ceil(quantity * (1 + waste / 100 if grows else 1) - 1e-9)
    return Cell(what), text(kind), Cell(Measure(round(quantity, 2), Unit.COUNT)), Cell(count(order)), Cell(unit)


def items(survey: Survey) -> list[Item]:
    """Every line of the take-off, before waste."""
    return [
        *_counted("box", (_box_kind(survey, box) for box in survey.plan.boxes.values())),
        *_counted("extension or ring", (_ring(box) for box in survey.plan.boxes.values() if box.knows("extension"))),
        *_counted("device", (kind_of_device(survey, device) for device in survey.plan.devices.values())),
        *_counted("cover plate", _plates(survey), grows=True),
        *_cables(survey),
        *_coils(survey),
        *_counted("breaker", _breakers(survey)),
        *_counted("panel", (_panel_kind(survey, id_) for id_ in survey.plan.panels)),
        *_supplies(survey),
        *_fasteners(survey),
    ]


def _counted(what: str, kinds_: Iterable[str], *, grows: bool = False) -> Iterator[Item]:
    """A line for each kind, the kinds in order."""
    yield from ((what, kind, float(number), "each", grows) for kind, number in sorted(Counter(kinds_).items()))


def _box_kind(survey: Survey, box: Box) -> str:
    try:
        volume = shown(cubic_inches(volume_of(survey, box, survey.edition)))
    except UnknownFact:  # unknown: the line says so
        volume = "volume not stated"
    depth = f", {shown(inches(box.depth))} deep inside" if box.knows("depth") else ""
    damp = f", for {box.location_rating} places" if box.knows("location_rating") and box.location_rating != "dry" else ""
    return f"{kind_of_box(box)}, {volume}{depth}{damp}"


def _ring(box: Box) -> str:
    ring = box.extension
    size = (
        ring.trade_size if ring.knows("trade_size") else f"{ring.volume:g} in³" if ring.knows("volume") else "size not stated"
    )
    return f"extension or plaster ring, {size}"


def _plates(survey: Survey) -> Iterator[str]:
    """A cover for every box that devices sit in behind a plate, and a blank one for a box without any."""
    for box in survey.plan.boxes.values():
        devices = survey.devices_in_box.get(box.id, [])
        gangs = f"{box.gangs}-gang" if box.knows("gangs") else _on_shape(box)
        if not devices:
            yield f"blank cover, {gangs}"
        elif all(device.kind is DeviceKind.CONNECTION for device in devices):
            yield f"cover with a knockout for the equipment's wiring, {gangs}"
        elif any(_behind_plate(device) for device in devices):
            covers = sorted({stated(device, "cover", "") for device in devices} - {"", "none"})
            yield f"{' and '.join(covers) or 'wall plate'}, {gangs}"


def _on_shape(box: Box) -> str:
    return f"on a {words_of(box.shape)} box" if box.knows("shape") else "gangs not stated"


def _behind_plate(device: Device) -> bool:
    return device.kind in YOKED and not device.knows("part_of")


def _cables(survey: Survey) -> Iterator[Item]:
    for kind, pieces in kinds(survey).items():
        raceway = pieces[0].cable.is_(type=CableType.RACEWAY)
        yield "raceway, by the run" if raceway else "cable", kind, sum(each.length for each in pieces) / FOOT, "ft", True


def _coils(survey: Survey) -> Iterator[Item]:
    for kind, plan in coils_for(survey).items():
        sizes = Counter(round(coil.size / FOOT) for coil in plan.coils)
        yield from (("coil", f"{kind}, {size} ft", float(number), "each", False) for size, number in sorted(sizes.items()))
        pieces = kinds(survey)[kind]
        reel = sum(math.ceil(pieces[place].length / FOOT) for place in plan.from_reel)
        if reel:
            yield "from a reel", kind, float(reel), "ft", False


def _breakers(survey: Survey) -> Iterator[str]:
    for panel in survey.plan.panels.values():
        for slot in breakers_at(survey, panel):
            if isinstance(slot, Circuit):
                yield _breaker(survey, slot)
            else:
                yield (
                    f"{slot.overcurrent:g} A feeder breaker"
                    if slot.knows("overcurrent")
                    else "feeder breaker, rating not stated"
                )
    lone = sum(not circuit.knows("panel") for circuit in survey.plan.circuits.values())
    yield from ["breaker of a circuit whose panel is not stated"] * lone


def _breaker(survey: Survey, circuit: Circuit) -> str:
    if not circuit.knows("breaker"):
        return "breaker not stated"
    breaker = circuit.breaker
    rating = f"{breaker.rating:g} A" if breaker.knows("rating") else "rating not stated"
    poles = f"{breaker.poles}-pole" if breaker.knows("poles") else "poles not stated"
    if common_trip_with(survey, circuit) is not None:
        poles = "2-pole with common trip for a shared neutral"
    protects = PROTECTS[breaker.protects] if breaker.knows("protects") else "protection not stated"
    return f"{rating}, {poles}, {protects}"


def _panel_kind(survey: Survey, panel_id: str) -> str:
    panel = survey.plan.panels[panel_id]
    known = [stated(panel, "kind", "panel")]
    known += [f"bus {panel.bus_rating:g} A"] if panel.knows("bus_rating") else []
    known += [f"main {panel.main_rating:g} A"] if panel.knows("main_rating") else []
    return ", ".join([*known, f"{panel.spaces} spaces" if panel.knows("spaces") else "spaces not stated"])


def _supplies(survey: Survey) -> Iterator[Item]:
    """Conductors of services and feeders whose length is stated, by the foot of the run."""
    for supply in survey.plan.supplies.values():
        if supply.knows("length") and supply.knows("conductors"):
            wire = supply.conductors
            known = [stated(wire, fact, "") for fact in ("size", "material", "type")]
            yield (
                "supply conductors",
                f"{words_of(supply.kind)} run of {' '.join(each for each in known if each)}",
                supply.length / FOOT,
                "ft",
                True,
            )


def _fasteners(survey: Survey) -> Iterator[Item]:
    staples = sum(number for number, _ in staples_counted(survey).values())
    if staples:
        yield "staple or support", "for the cables listed, about", float(staples), "each", True
    plates = plates_counted(survey)
    if plates:
        yield "nail plate", "steel, about", float(plates), "each", True
