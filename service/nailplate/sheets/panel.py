"""The panel sheet: every space with its breaker, wire and leg, the load on each leg, and the directory as it is printed."""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.plan import Circuit, Panel, Supply, UnknownFact
from nailplate.plan.words import Leg, Protects, Tie
from nailplate.rules.circuits.panel_poles import poles_of
from nailplate.sheets.called import NOT_STATED, measured, named, said, stated, text, words_of
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.sheets.orders import Order
from nailplate.sheets.places_told import place_told
from nailplate.sheets.site_items import many
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.loads import circuits_of, feeders_from, has_one_leg, leg_loads, leg_weight
from nailplate.survey.wiring import opens_together, ties_of
from nailplate.survey.wiring.multiwire import pairs_of
from nailplate.units import Unit, amperes, count

PROTECTS: Final = {
    Protects.NONE: "overcurrent only",
    Protects.GFCI: "overcurrent and GFCI",
    Protects.AFCI: "overcurrent and AFCI",
    Protects.DUAL: "overcurrent, GFCI and AFCI",
}
_COLUMNS = (
    Column("Space"),
    Column("Circuit"),
    Column("Directory"),
    Column("Breaker", Unit.AMPERE),
    Column("Poles", Unit.COUNT),
    Column("Protection"),
    Column("Wire"),
    Column("Legs"),
    Column("Load counted on each leg", Unit.AMPERE),
)
_FACTS = (Column("What"), Column("Figure"))
_LEGS = (Column("Leg"), Column("Load", Unit.AMPERE))
_DIRECTORY = (Column("Space"), Column("Left side"), Column("Space, right"), Column("Right side"))
_TIES: Final = {
    Tie.COMMON_TRIP: "common trip: a 2-pole breaker",
    Tie.HANDLE_TIE: "identified handle tie",
    Tie.NONE: "not tied as drawn",
}
Slot = Circuit | Supply


def panel(order: Order) -> Document:
    """The panel sheet, a section a panel."""
    survey = order.survey
    sections = tuple(_section(survey, each) for each in survey.plan.panels.values())
    return Document("panel", "Panels and directories", order.stamp, unit_of(survey.plan), sections, _NOTES)


_NOTES = (
    "A circuit counts on each of its legs for its appliances by their nameplates; without any, for half its breaker's rating (common practice).",
    "The legs are counted to balance them. It is no load calculation: not all of it runs at once, and the sum may pass the main breaker.",
    "Spaces are numbered odd on the left and even on the right (common practice): go by the numbers on the panel itself.",
    "Use breakers that the panel's label lists, and torque every terminal to the manufacturer's value.",
)


def _section(survey: Survey, each: Panel) -> Section:
    rows = list(_rows(survey, each))
    return Section(
        named(each),
        (
            *table("The panel", _FACTS, _facts(survey, each)),
            *table("Spaces", _COLUMNS, rows),
            *table("Load on each leg", _LEGS, _legs(survey, each)),
            *table("Directory to print", _DIRECTORY, _directory(survey, each)),
        ),
    )


def slots(survey: Survey, each: Panel) -> list[tuple[tuple[int, ...], Slot]]:
    """What starts at a panel with its spaces, in their order; circuits without spaces and feeders come last."""
    circuits: list[tuple[tuple[int, ...], Slot]] = [
        (tuple(sorted(circuit.position)) if circuit.knows("position") else (), circuit) for circuit in circuits_of(survey, each)
    ]
    feeders: list[tuple[tuple[int, ...], Slot]] = [((), feeder) for feeder in feeders_from(survey, each)]
    return sorted([*circuits, *feeders], key=lambda slot: (not slot[0], slot[0]))


def breakers_at(survey: Survey, each: Panel) -> list[Slot]:
    """One for each breaker to buy: both halves of a multiwire circuit on one breaker, or on one with common trip, count once."""
    found: list[Slot] = []
    halves: set[str] = set()
    for spaces, slot in slots(survey, each):
        if isinstance(slot, Circuit):
            other = common_trip_with(survey, slot)
            if any(_is_in_its_spaces(survey, slot, spaces, one) for one in found[-2:]) or (other and other.id in halves):
                continue
            halves.add(slot.id)
        found.append(slot)
    return found


def _is_in_its_spaces(survey: Survey, circuit: Circuit, spaces: tuple[int, ...], other: Slot) -> bool:
    if not isinstance(other, Circuit) or not spaces or not other.knows("position"):
        return False
    return circuit.position == other.position and opens_together(survey, (circuit, other))


def common_trip_with(survey: Survey, circuit: Circuit) -> Circuit | None:
    """The circuit that shares a neutral and a common trip with this one; they are one breaker of two poles."""
    pairs = (pair for pair in pairs_of(survey, circuit) if Tie.COMMON_TRIP in ties_of(pair))
    return next((pair.other(circuit) for pair in pairs), None)


def _facts(survey: Survey, each: Panel) -> list[tuple[Cell, ...]]:
    taken = sum(poles_of(circuit) or 1 for circuit in circuits_of(survey, each))
    taken += sum(1 if has_one_leg(feeder) else 2 for feeder in feeders_from(survey, each))
    facts = [("Kind", stated(each, "kind")), ("Bus", _amps(each, "bus_rating")), ("Main breaker", _amps(each, "main_rating"))]
    spaces = f"{each.spaces} spaces" if each.knows("spaces") else "spaces not stated"
    facts += [("Spaces", f"{many(taken, 'pole')} used of {spaces}"), ("Neutral and enclosure", stated(each, "neutral_bond"))]
    rows: list[tuple[Cell, ...]] = [(Cell(head), text(words, each.pointer)) for head, words in facts]
    rows.append((Cell("Place"), place_told(survey, each)))
    if each.knows("supply"):
        rows.append((Cell("Fed by"), named(survey.plan.supplies[each.supply])))
    return rows


def _amps(part: Panel, fact: str) -> str:
    return f"{getattr(part, fact):g} A" if part.knows(fact) else NOT_STATED


def _rows(survey: Survey, each: Panel) -> Iterator[tuple[Cell, ...]]:
    """A row a breaker and a row a free space, by their numbers; what has no space comes last."""
    rows: list[tuple[float, tuple[Cell, ...]]] = []
    placed = slots(survey, each)
    for spaces, slot in placed:
        where = text(", ".join(map(str, spaces)) or "not stated", slot.pointer)
        told = _circuit(survey, slot) if isinstance(slot, Circuit) else _feeder(slot)
        rows.append((spaces[0] if spaces else math.inf, (where, *told)))
    used = {number for spaces, _ in placed for number in spaces}
    free = [number for number in range(1, each.spaces + 1) if number not in used] if each.knows("spaces") else []
    unplaced = any(not spaces for spaces, _ in placed)
    spare = Cell("spare, or taken by what has no space stated" if unplaced else "spare")
    blank = (Cell(),) * (len(_COLUMNS) - 2)
    rows += [(number, (text(number, each.pointer), spare, *blank)) for number in free]
    yield from (row for _, row in sorted(rows, key=lambda row: row[0]))


def _circuit(survey: Survey, circuit: Circuit) -> tuple[Cell, ...]:
    protects = circuit.breaker.protects if circuit.knows("breaker") and circuit.breaker.knows("protects") else None
    poles = poles_of(circuit)
    return (
        named(circuit),
        directory_of(circuit),
        measured(lambda: amperes(circuit.breaker.rating), circuit.pointer),
        Cell(count(poles) if poles else None, circuit.pointer),
        _protection(survey, circuit, PROTECTS[protects] if protects is not None else NOT_STATED),
        text(_wire(circuit), circuit.pointer),
        text(" and ".join(circuit.legs) if circuit.knows("legs") else NOT_STATED, circuit.pointer),
        measured(lambda: amperes(leg_weight(survey, circuit)), circuit.pointer),
    )


def _protection(survey: Survey, circuit: Circuit, told: str) -> Cell:
    """What the breaker protects with, and what it shares its neutral and its handle with."""
    pair = next(iter(pairs_of(survey, circuit)), None)
    if pair is None:
        return text(told, circuit.pointer)
    ties = [_TIES[tie] for tie in dict.fromkeys(ties_of(pair))]
    spaces = circuit_tag(survey, pair.other(circuit))
    return said(
        lambda name: "; ".join((told, f"shares its neutral with {spaces}, {name(pair.other(circuit))}", *ties)), circuit.pointer
    )


def directory_of(circuit: Circuit) -> Cell:
    """The circuit's own text in the directory, else its name."""
    if circuit.knows("directory") and circuit.directory.strip():
        return text(circuit.directory, circuit.where("directory"))
    return said(lambda name: name(circuit), circuit.pointer)


def _wire(circuit: Circuit | Supply) -> str:
    fact = "conductor" if isinstance(circuit, Circuit) else "conductors"
    if not circuit.knows(fact):
        return NOT_STATED
    wire = getattr(circuit, fact)
    known = [words_of(getattr(wire, each)) for each in ("size", "material", "type") if wire.knows(each)]
    ground = f"grounding {wire.grounding}" if wire.knows("grounding") else ""
    return ", ".join(each for each in (" ".join(known), ground) if each) or NOT_STATED


def _feeder(feeder: Supply) -> tuple[Cell, ...]:
    rating = Cell(amperes(feeder.overcurrent) if feeder.knows("overcurrent") else None, feeder.where("overcurrent"))
    legs = "one" if has_one_leg(feeder) else "A and B"
    poles = Cell(count(1 if has_one_leg(feeder) else 2), feeder.pointer)
    wire = text(_wire(feeder), feeder.pointer)
    return (
        named(feeder),
        named(feeder),
        rating,
        poles,
        Cell("overcurrent only"),
        wire,
        Cell(legs),
        Cell(),
    )


def _legs(survey: Survey, each: Panel) -> list[tuple[Cell, ...]]:
    if not circuits_of(survey, each):
        return []
    if each.knows("supply") and has_one_leg(survey.plan.supplies[each.supply]):
        return [(Cell("one leg: nothing to balance"), Cell())]
    try:
        legs = leg_loads(survey, each)
    except UnknownFact as unknown:
        return [(text(f"not worked out: {unknown.pointer} is not stated"), Cell(None, unknown.pointer))]
    apart = abs(legs[Leg.A] - legs[Leg.B])
    rows = [(Cell(f"Leg {leg.value}"), Cell(amperes(legs[leg]), each.pointer)) for leg in Leg]
    return [*rows, (Cell("Apart"), Cell(amperes(apart), each.pointer))]


def _directory(survey: Survey, each: Panel) -> list[tuple[Cell, ...]]:
    """Odd spaces at the left, even at the right; those past the last used one are left off only where spaces are not stated.

    What has no space stated is told below, and then a space that nothing states is left blank to write it in.
    """
    placed = slots(survey, each)
    at: dict[int, Slot] = {}
    for spaces, slot in placed:
        for number in spaces:
            at.setdefault(number, slot)
    unplaced = [slot for spaces, slot in placed if not spaces]
    free = "" if unplaced else "spare"
    last = max((each.spaces if each.knows("spaces") else 0, *at))
    rows = [
        (
            Cell(str(left)),
            _entry(at.get(left), free),
            *((Cell(str(left + 1)), _entry(at.get(left + 1), free)) if left < last else (Cell(), Cell())),
        )
        for left in range(1, last + 1, 2)
    ]
    return [*rows, *((Cell("write in"), _entry(slot, free), Cell(), Cell()) for slot in unplaced)]


def _entry(slot: Slot | None, free: str) -> Cell:
    if slot is None:
        return Cell(free)
    return directory_of(slot) if isinstance(slot, Circuit) else said(lambda name: name(slot), slot.pointer)
