"""The receptacles that stand over an electric baseboard heater."""

from collections.abc import Mapping

from nailplate.calc import geometry
from nailplate.plan import Appliance, Device, Pointer, UnknownFact
from nailplate.plan.words import DeviceKind, Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.receptacles import ANYWHERE, possible_rooms

NEAR = 6.0
"""Inches off the heater's outline within which a receptacle on the wall is over it (our own measure: the heater's depth)."""
_MOUNTS = (Mount.WALL, Mount.BELOW_COUNTER)
_TOLD = 20


def receptacles_over(survey: Survey, heater: Appliance) -> tuple[tuple[Device, ...], tuple[Pointer, ...]]:
    """The receptacles over a heater, one built into it left out, and what is left out of others in its room."""
    placed, unplaced = survey.once(_by_room)
    footprint = heater.footprint
    over = tuple(
        device
        for device, stands in placed.get(heater.room, ())
        if not _is_elsewhere(device, heater) and geometry.distance_to_outline(stands.point, footprint) <= NEAR
        if _abreast(stands, footprint)
    )
    return over, (*unplaced.get(heater.room, ()), *unplaced.get(ANYWHERE, ()))[:_TOLD]


def _is_elsewhere(device: Device, heater: Appliance) -> bool:
    """Built into the heater itself, or in the floor, the ceiling or a countertop."""
    if device.knows("mount") and device.mount not in _MOUNTS:
        return True
    return device.knows("part_of") and device.part_of == heater.id


def _abreast(stands: Standing, footprint: geometry.Outline) -> bool:
    """Between the heater's ends, as seen along the wall; a receptacle just past its end is not over it."""
    if stands.wall is None:
        return geometry.contains(footprint, stands.point)
    line = (stands.wall.start, stands.wall.end)
    ends = [geometry.project(corner, line).along for corner in footprint]
    along = geometry.project(stands.point, line).along
    return min(ends) + geometry.DUST < along < max(ends) - geometry.DUST


def _by_room(survey: Survey) -> tuple[Mapping[str, list[tuple[Device, Standing]]], Mapping[str, list[Pointer]]]:
    placed: dict[str, list[tuple[Device, Standing]]] = {}
    unplaced: dict[str, list[Pointer]] = {}
    for device in survey.plan.devices.values():
        if device.kind is not DeviceKind.RECEPTACLE:
            continue
        try:
            stands = standing(survey, device)
        except UnknownFact as unknown:
            for room in possible_rooms(survey, device):
                unplaced.setdefault(room, []).append(unknown.pointer)
            continue
        if stands.room is not None:
            placed.setdefault(stands.room.id, []).append((device, stands))
    return placed, unplaced
