"""The load summary of a report as lines of text, written once for every form of page."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from nailplate.plan import Pointer
from nailplate.sheets.loads import LoadArea, Loads, MethodLoad, PanelLegs, SupplyLoad
from nailplate.units import shown

_MOST_NAMED = 10
_HEADS = {"standard": "By the standard method, the default here", "optional": "By the optional method"}


@dataclass(frozen=True, slots=True)
class Passage:
    """A line that leads, and what stands under it."""

    lead: str
    lines: list[str] = field(default_factory=list)


def load_passages(loads: Loads) -> Iterator[Passage]:
    """The summary, passage by passage; words of the plan's author stand in it as they are."""
    if loads.not_worked_out:
        yield Passage(f"The load was not worked out. {loads.not_worked_out}", list(_settled_by(loads.needs)))
    yield from (_of_method(method) for method in loads.methods)
    yield from (_of_supply(supply) for supply in loads.supplies)
    if loads.panels:
        lead = "On the legs of each panel, by nameplates, and by half the rating of circuits whose load is not drawn:"
        yield Passage(lead, [_of_panel(panel) for panel in loads.panels])
    if loads.notes:
        yield Passage("How it was counted:", list(loads.notes))


def _of_method(method: MethodLoad) -> Passage:
    condition = f", {method.condition}" if method.condition else ""
    service = f"next standard service {shown(method.service)}" if method.service else "beyond the standard ratings"
    lead = (
        f"{_HEADS[method.method]}{condition}: {shown(method.total)}, {shown(method.current)} on each leg; neutral "
        f"{shown(method.neutral_load)}, {shown(method.neutral)}; {service}."
    )
    return Passage(lead, [_of_area(method.area), *_of_lines(method)])


def _of_area(area: LoadArea) -> str:
    rooms = ", ".join(f"{room.name} (loft)" if room.loft else room.name for room in area.rooms)
    said = "as the plan states it, for" if area.stated else "taken from the drawing:"
    return f"floor area {shown(area.area)}, {said} {rooms}"


def _of_lines(method: MethodLoad) -> Iterator[str]:
    for kind, lines in (("before demand, ", method.general), ("", method.lines)):
        for line in lines:
            note = f" ({line.note})" if line.note else ""
            yield f"{kind}{line.what}: {shown(line.load)}, {line.section}{note}"
    for reading in method.other_readings:
        yield f"another reading, {reading.what}: {shown(reading.total)}"


def _of_supply(supply: SupplyLoad) -> Passage:
    if supply.not_worked_out:
        lead = f"The load of {supply.name} was not worked out. {supply.not_worked_out}"
        return Passage(lead, list(_settled_by(supply.needs)))
    legs = ", ".join(f"leg {name} {shown(leg)}" for name, leg in zip("AB", supply.legs, strict=False))
    smallest = f"{supply.by} requires {shown(supply.smallest)}" if supply.smallest else f"{supply.by}: no cord is large enough"
    lead = f"{supply.name}: {legs}; {smallest}; the supply drawn {'suffices' if supply.fits else 'does not suffice'}."
    lines = [
        f"{line.what}: {shown(line.load)}, {line.section}{f' ({line.note})' if line.note else ''}" for line in supply.lines
    ]
    return Passage(lead, [*lines, *(f"caution: {each}" for each in supply.cautions)])


def _of_panel(panel: PanelLegs) -> str:
    if panel.leg_a is None or panel.leg_b is None:
        return f"{panel.name}: not worked out; {', '.join(_settled_by(panel.needs))}"
    return f"{panel.name}: leg A {shown(panel.leg_a)}, leg B {shown(panel.leg_b)}"


def _settled_by(needs: tuple[Pointer, ...]) -> Iterator[str]:
    if needs:
        more = f" and {len(needs) - _MOST_NAMED} more" if len(needs) > _MOST_NAMED else ""
        yield f"would be settled by {', '.join(needs[:_MOST_NAMED])}{more}"
