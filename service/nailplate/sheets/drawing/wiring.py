"""Boxes, devices and panels on a level's sheet: each at its place, its symbol beside it in the room, its tag where there is room."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Box, Device, Level, Supply
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, place
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.spots import Spot, of_standing, standing_at, standing_of
from nailplate.sheets.drawing.svg import Markup, circle, group, line, rectangle, title
from nailplate.sheets.drawing.symbol_places import OFF_WALL, symbol_center
from nailplate.sheets.drawing.symbols import SYMBOLS
from nailplate.sheets.drawing.tags import circuit_tag, control_letters
from nailplate.sheets.drawing.which_symbol import notes_of, symbol_of
from nailplate.sheets.inert import cut, inert
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing

TAG: Final = 6.4
"""Points; the size of a tag's letters."""
_UP: Final = (0.0, -1.0)
_BOX: Final = 2.2


@dataclass(frozen=True, slots=True)
class Drawn:
    """A part that stands on the level, and what is to be written beside it."""

    pointer: str
    symbol: str
    spot: Spot
    words: str
    tag: str


def draw_symbols(draft: Draft, survey: Survey, level: Level) -> list[Drawn]:
    """Every box, device and panel of a level, each with its symbol."""
    found = [*_panels(survey, level), *_inlets(survey, level), *_devices(draft, survey, level), *_boxes(draft, survey, level)]
    for each in found:
        _draw(draft, each)
    return found


def letter_tags(draft: Draft, found: list[Drawn]) -> None:
    """The tags beside the symbols, when all symbols have their places."""
    for each in found:
        if each.tag:
            place(draft, Label((each.tag,), TAG, draft.centers[each.pointer], SYMBOLS[each.symbol].half, "np-tag"))


def _panels(survey: Survey, level: Level) -> Iterator[Drawn]:
    for panel in survey.plan.panels.values():
        at = standing_of(survey, panel)
        if at is not None and at.level == level.id:
            name = name_of(panel)
            yield Drawn(panel.pointer, "panel", of_standing(at), f"Panel: {name}", cut(inert(name), _LONGEST))


_LONGEST: Final = 28


def _inlets(survey: Survey, level: Level) -> Iterator[Drawn]:
    for supply in survey.plan.supplies.values():
        spot = _inlet_spot(survey, supply)
        if spot is not None and spot.level == level.id:
            name = name_of(supply)
            yield Drawn(supply.pointer / "inlet", "inlet", spot, f"Cord inlet: {name}", "")


def _inlet_spot(survey: Survey, supply: Supply) -> Spot | None:
    at = standing_at(survey, supply.inlet) if supply.knows("inlet") else None
    return of_standing(at) if at is not None else None


def _devices(draft: Draft, survey: Survey, level: Level) -> Iterator[Drawn]:
    for device in survey.plan.devices.values():
        at = standing_of(survey, device)
        if at is None:
            draft.unplaced.append(name_of(device))
        elif at.level == level.id:
            yield _device(draft, survey, device, at)


def _device(draft: Draft, survey: Survey, device: Device, at: Standing) -> Drawn:
    letters, notes = control_letters(survey, device), list(notes_of(device))
    draft.beside.update(dict.fromkeys(notes))
    circuits = [survey.plan.circuits[getattr(device, name)] for name in ("circuit", "second_circuit") if device.knows(name)]
    draft.circuits.update(dict.fromkeys(each.id for each in circuits))
    tag = " ".join([*(circuit_tag(survey, each) for each in circuits), *([letters] if letters else []), *notes])
    return Drawn(device.pointer, symbol_of(survey, device, at), of_standing(at), device_words(survey, device, at), tag)


def device_words(survey: Survey, device: Device, at: Standing) -> str:
    """A device in words, for pointing at it: its kind, name, circuit and height."""
    name = name_of(device)
    found = [f"{device.kind.replace('_', ' ').capitalize()} {name}"]
    found += [f"circuit {circuit_tag(survey, survey.plan.circuits[device.circuit])}"] if device.knows("circuit") else []
    found += (
        [f"{dimension(at.place.height, unit_of(survey.plan), BY_TAPE)} above the floor"] if at.place.knows("height") else []
    )
    return ", ".join(found)


def _boxes(draft: Draft, survey: Survey, level: Level) -> Iterator[Drawn]:
    """A mark for every box, and a symbol of its own for one without a device."""
    for box in survey.plan.boxes.values():
        at = standing_of(survey, box)
        if at is None:
            draft.unplaced.append(f"box {name_of(box)}")
        elif at.level == level.id:
            yield from _box(draft, survey, box, of_standing(at))


def _box(draft: Draft, survey: Survey, box: Box, spot: Spot) -> Iterator[Drawn]:
    x, y = draft.view(spot.point)
    name = name_of(box)
    mark = rectangle(x - _BOX / 2, y - _BOX / 2, _BOX, _BOX, "np-box")
    draft.draw("devices", group(title(f"Box {name}"), mark, data_part=box.pointer))
    if not survey.devices_in_box.get(box.id):
        yield Drawn(f"{box.pointer}", "junction-box", spot, f"Junction box {name}", "")


def _draw(draft: Draft, part: Drawn) -> None:
    at = draft.view(part.spot.point)
    into = (part.spot.into[0], -part.spot.into[1]) if part.spot.into else _UP
    center = symbol_center(draft, at, part.spot.into and into, SYMBOLS[part.symbol].half)
    draft.centers[part.pointer] = center
    draft.used[part.symbol] = None
    far = abs(center[0] - at[0]) + abs(center[1] - at[1]) > SYMBOLS[part.symbol].half + 2 * OFF_WALL
    stem = line(at, center, "np-stem") if far else Markup("")
    body = SYMBOLS[part.symbol].draw(center, into)
    anchor = circle(at, 0.9, "np-box np-anchor")
    draft.draw(
        "devices",
        group(title(part.words), anchor, stem, body, data_part=part.pointer, data_symbol=part.symbol, class_="np-device"),
    )
