"""Whether a circuit serves bathrooms, halls, stairs or rooms that people live in, as 404.2(C) asks."""

from dataclasses import dataclass

from nailplate.plan import Circuit, Pointer, Room
from nailplate.plan.trade import AT_TIMES_OCCUPIED, OCCUPIABLE
from nailplate.survey.index import Survey
from nailplate.survey.protection import supplied


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
        tuple(room for room in rooms if not OCCUPIABLE.isdisjoint(room.uses)),
        tuple(room for room in rooms if not AT_TIMES_OCCUPIED.isdisjoint(room.uses)),
        found.unknown,
    )
