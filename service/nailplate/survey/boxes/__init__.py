"""Boxes: where they are set, how large and how deep they are inside, and what enters them."""

from nailplate.survey.boxes.box_contents import Found, contents_of, sizes_in
from nailplate.survey.boxes.box_depths import DepthFor, depth_for, depth_of, surely_deep, trade_size_depth
from nailplate.survey.boxes.box_faces import (
    Front,
    Spot3,
    front_at,
    front_of,
    fronts_near,
    fronts_on,
    height_in_wall,
    in_space,
    least_front,
    most_front,
    most_width,
)
from nailplate.survey.boxes.box_inside import GROUNDED, NO_GROUND, Inside, inside, largest_on, may_be_wide
from nailplate.survey.boxes.box_spots import Spot, exposure_of_box, spot_of
from nailplate.survey.boxes.box_volumes import gangs_of, is_ganged, ring_volume, shape_of, volume_of
from nailplate.survey.boxes.contents_open import open_facts

__all__ = [
    "GROUNDED",
    "NO_GROUND",
    "DepthFor",
    "Found",
    "Front",
    "Inside",
    "Spot",
    "Spot3",
    "contents_of",
    "depth_for",
    "depth_of",
    "exposure_of_box",
    "front_at",
    "front_of",
    "fronts_near",
    "fronts_on",
    "gangs_of",
    "height_in_wall",
    "in_space",
    "inside",
    "is_ganged",
    "largest_on",
    "least_front",
    "may_be_wide",
    "most_front",
    "most_width",
    "open_facts",
    "ring_volume",
    "shape_of",
    "sizes_in",
    "spot_of",
    "surely_deep",
    "trade_size_depth",
    "volume_of",
]
