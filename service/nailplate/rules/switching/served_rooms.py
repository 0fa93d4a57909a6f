"""Whether a circuit serves bathrooms, halls, stairs or rooms that people live in, as 404.2(C) asks."""

from dataclasses import dataclass
from typing import Final

from nailplate.plan import Circuit, Pointer, Room
from nailplate.plan.words import Use
from nailplate.survey.index import Survey
from nailplate.survey.protection import supplied

LIVED_IN: Final = frozenset(
    {
        Use.KITCHEN,
        Use.LIVING,
        Use.FAMILY,
        Use.DINING,
        Use.BREAKFAST,
        Use.BEDROOM,
        Use.LOFT_SLEEPING,
        Use.DEN,
        Use.LIBRARY,
        Use.OFFICE,
        Use.SUNROOM,
        Use.RECREATION,
        Use.BATHROOM,
        Use.TOILET,
        Use.HALLWAY,
        Use.FOYER,
        Use.STAIRWAY,
    }
)
"""Bathrooms, halls, stairs and habitable rooms; a loft that is slept in is one."""
WORKED_IN: Final = frozenset({Use.LAUNDRY, Use.UTILITY, Use.GARAGE, Use.BASEMENT, Use.ACCESSORY})
"""Places where people are at times; whether they are occupiable is for the building code in force."""


@dataclass(frozen=True, slots=True)
class Served:
    """The rooms that a circuit serves, of those lived in and of those worked in; and what is missing to know of others."""

    lived_in: tuple[Room, ...]
    worked_in: tuple[Room, ...]
    unknown: tuple[Pointer, ...]


def served_rooms(survey: Survey, circuit: Circuit) -> Served:
    """What a circuit serves."""
    return survey.once(_served, circuit.id)


def _served(survey: Survey, circuit_id: str) -> Served:
    found = supplied(survey, survey.plan.circuits[circuit_id])
    rooms = tuple({room.id: room for _, room in found.places if room is not None}.values())
    return Served(
        tuple(room for room in rooms if not LIVED_IN.isdisjoint(room.uses)),
        tuple(room for room in rooms if not WORKED_IN.isdisjoint(room.uses)),
        found.unknown,
    )
