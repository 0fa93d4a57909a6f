"""The sinks, ranges and cooktops of a room that may stand in its counters, and what the plan leaves out of them."""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Appliance, Fixture, Pointer, Room, UnknownFact
from nailplate.plan.trade import SINKS
from nailplate.plan.words import ApplianceKind
from nailplate.survey.index import Survey

COOKING = (ApplianceKind.RANGE, ApplianceKind.COOKTOP)


@dataclass(frozen=True, slots=True)
class Unit:
    """A sink, range or cooktop: its outside edge, and what is stated of the counter behind it and of its sitting in a corner."""

    part: Fixture | Appliance
    ring: geometry.Outline
    behind: float | None
    in_corner: bool | None


@dataclass(frozen=True, slots=True)
class UnitsAt:
    """The units of a room; ``undrawn`` are the facts left out of others, each with the counter it is set in or None."""

    drawn: tuple[Unit, ...]
    undrawn: tuple[tuple[str | None, Pointer], ...]


def units_at(survey: Survey, room: Room) -> UnitsAt:
    """The sinks, ranges and cooktops of a room."""
    drawn: list[Unit] = []
    undrawn: list[tuple[str | None, Pointer]] = []
    parts: list[Fixture | Appliance] = [each for each in survey.fixtures_in_room.get(room.id, []) if each.kind in SINKS]
    parts += survey.once(_cooking).get(room.id, [])
    for part in parts:
        counter = part.counter if isinstance(part, Fixture) and part.knows("counter") else None
        try:
            drawn.append(_unit(part))
        except UnknownFact as unknown:
            undrawn.append((counter, unknown.pointer))
    return UnitsAt(tuple(drawn), tuple(undrawn))


def sinks_in(survey: Survey, room: Room) -> tuple[tuple[Fixture, geometry.Outline], ...]:
    """The sinks of a room that are drawn, each with its edge."""
    return tuple((unit.part, unit.ring) for unit in units_at(survey, room).drawn if isinstance(unit.part, Fixture))


def _unit(part: Fixture | Appliance) -> Unit:
    behind = part.depth_behind if part.knows("depth_behind") else None
    return Unit(part, _ring(part), behind, part.in_corner if part.knows("in_corner") else None)


def _ring(part: Fixture | Appliance) -> geometry.Outline:
    if isinstance(part, Appliance):
        return part.footprint
    return part.bowl if part.knows("bowl") and not part.knows("outline") else part.outline


def _cooking(survey: Survey) -> dict[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for each in survey.plan.appliances.values():
        if each.kind in COOKING and each.knows("room"):
            found.setdefault(each.room, []).append(each)
    return found
