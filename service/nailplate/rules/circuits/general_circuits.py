"""General circuits by the rooms whose outlets they feed, for proposing where an outlet could go."""

from collections.abc import Mapping

from nailplate.plan import Circuit, Device, Room, UnknownFact
from nailplate.plan.words import DeviceKind, Purpose
from nailplate.survey.index import Survey
from nailplate.survey.loads import circuits_for
from nailplate.survey.places import standing
from nailplate.units import reaches


def general_circuit_for(survey: Survey, device: Device) -> Circuit | None:
    """A general circuit that feeds an outlet of the same room and is rated for this one; None where none is known."""
    room = _room(survey, device)
    found = survey.once(_by_room).get(room.id, ()) if room is not None else ()
    return next((each for each in found if _suits(each, device)), None)


def _suits(circuit: Circuit, device: Device) -> bool:
    if device.kind is not DeviceKind.RECEPTACLE:
        return True
    known = circuit.knows("breaker") and circuit.breaker.knows("rating") and device.knows("rating")
    return known and reaches(circuit.breaker.rating, device.rating)


def _by_room(survey: Survey) -> Mapping[str, tuple[Circuit, ...]]:
    found: dict[str, dict[Circuit, None]] = {}
    for circuit in circuits_for(survey, Purpose.GENERAL):
        for device in survey.devices_on_circuit.get(circuit.id, []):
            room = _room(survey, device)
            if room is not None:
                found.setdefault(room.id, {})[circuit] = None
    return {room_id: tuple(circuits) for room_id, circuits in found.items()}


def _room(survey: Survey, device: Device) -> Room | None:
    try:
        return standing(survey, device).room
    except UnknownFact:  # unknown: no circuit is offered in a remedy for what does not say where it is
        return None
