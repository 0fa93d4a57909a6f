"""Lighting outlets and the switches that control them, and smoke and carbon monoxide alarms."""

from nailplate.survey.lights.alarms import (
    VICINITY,
    Outside,
    Placed,
    co_alarms,
    halls_outside,
    is_lived_in,
    is_loft,
    outside,
    sleeping_rooms,
    smoke_alarms,
    walk,
    ways_out,
)
from nailplate.survey.lights.room_lights import RoomLight, nearest_to_entrance, open_to, room_light, walk_in, without_light
from nailplate.survey.lights.switch_points import ControlPoint, controlled, controls_over, controls_told, lights
from nailplate.survey.lights.switching_words import carried_words, needed_nets, would_do

__all__ = [
    "VICINITY",
    "ControlPoint",
    "Outside",
    "Placed",
    "RoomLight",
    "carried_words",
    "co_alarms",
    "controlled",
    "controls_over",
    "controls_told",
    "halls_outside",
    "is_lived_in",
    "is_loft",
    "lights",
    "nearest_to_entrance",
    "needed_nets",
    "open_to",
    "outside",
    "room_light",
    "sleeping_rooms",
    "smoke_alarms",
    "walk",
    "walk_in",
    "ways_out",
    "without_light",
    "would_do",
]
