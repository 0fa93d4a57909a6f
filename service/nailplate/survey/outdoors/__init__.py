"""The outside of the house: its faces, outdoor places, and how wet a place gets."""

from nailplate.survey.outdoors.exposures import exposure_of, exposure_of_room, room_or_place
from nailplate.survey.outdoors.house_faces import (
    Outside,
    entrances_to,
    height_over_grade,
    is_other_building,
    is_outdoor,
    off_wall,
    outdoor_place,
    outdoor_place_at,
    outer_walls,
    outside_near,
    outside_receptacles,
    reached_from_grade,
    too_high_over_grade,
    walls_of_face,
)

__all__ = [
    "Outside",
    "entrances_to",
    "exposure_of",
    "exposure_of_room",
    "height_over_grade",
    "is_other_building",
    "is_outdoor",
    "off_wall",
    "outdoor_place",
    "outdoor_place_at",
    "outer_walls",
    "outside_near",
    "outside_receptacles",
    "reached_from_grade",
    "room_or_place",
    "too_high_over_grade",
    "walls_of_face",
]
