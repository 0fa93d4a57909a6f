"""Boxes: where they are set, how large and how deep they are inside, and what enters them."""

from nailplate.survey.boxes.box_depths import DepthFor, depth_for, depth_of, surely_deep, trade_size_depth
from nailplate.survey.boxes.box_inside import GROUNDED, NO_GROUND, Inside, inside, largest_on, may_be_wide
from nailplate.survey.boxes.box_spots import Spot, exposure_of_box, spot_of
from nailplate.survey.boxes.box_volumes import gangs_of, is_ganged, ring_volume, shape_of, volume_of
from nailplate.survey.boxes.contents_open import open_facts

__all__ = [
    "GROUNDED",
    "NO_GROUND",
    "DepthFor",
    "Inside",
    "Spot",
    "depth_for",
    "depth_of",
    "exposure_of_box",
    "gangs_of",
    "inside",
    "is_ganged",
    "largest_on",
    "may_be_wide",
    "open_facts",
    "ring_volume",
    "shape_of",
    "spot_of",
    "surely_deep",
    "trade_size_depth",
    "volume_of",
]
