"""The rooms as drawn: which walls bound them, their floor line and wall spaces, ceilings, ways in, bays and area."""

from nailplate.survey.ceiling_heights import ceiling_of, ceiling_over, height_at
from nailplate.survey.space.appliance_places import appliances_in, stays
from nailplate.survey.space.ceilings import highest_ceiling
from nailplate.survey.space.contact import TOUCH, faces_left, footprints, touched, widest_footprints
from nailplate.survey.space.edge_marks import EVERY_VARIANT, JOINT, THRESHOLD, Contest
from nailplate.survey.space.edge_walls import OnWall, walls_on
from nailplate.survey.space.entrances import Entrance, entrances, opening_line, rooms_beside
from nailplate.survey.space.floor_line import Stretch, Surface, floor_line, undrawn
from nailplate.survey.space.framing_shown import Lumber, Why, framing_shown, lumber_near, shown_near
from nailplate.survey.space.garage_bays import Bay, bays, empty_bays, is_in
from nailplate.survey.space.hallways import Hallway, halls_on, hallway_of, open_between
from nailplate.survey.space.joined_walls import SNAP, THICKEST, half_thickness, joined, joined_line, wall_grid
from nailplate.survey.space.load_area import CountedArea, area_needs, counted_area, ground_area
from nailplate.survey.space.wall_spaces import (
    Reading,
    WallSpace,
    floor_lines,
    inner_walls,
    run_of,
    spaces_within,
    untold,
    wall_spaces,
)

__all__ = [
    "EVERY_VARIANT",
    "JOINT",
    "SNAP",
    "THICKEST",
    "THRESHOLD",
    "TOUCH",
    "Bay",
    "Contest",
    "CountedArea",
    "Entrance",
    "Hallway",
    "Lumber",
    "OnWall",
    "Reading",
    "Stretch",
    "Surface",
    "WallSpace",
    "Why",
    "appliances_in",
    "area_needs",
    "bays",
    "ceiling_of",
    "ceiling_over",
    "counted_area",
    "empty_bays",
    "entrances",
    "faces_left",
    "floor_line",
    "floor_lines",
    "footprints",
    "framing_shown",
    "ground_area",
    "half_thickness",
    "halls_on",
    "hallway_of",
    "height_at",
    "highest_ceiling",
    "inner_walls",
    "is_in",
    "joined",
    "joined_line",
    "lumber_near",
    "open_between",
    "opening_line",
    "rooms_beside",
    "run_of",
    "shown_near",
    "spaces_within",
    "stays",
    "touched",
    "undrawn",
    "untold",
    "wall_grid",
    "wall_spaces",
    "walls_on",
    "widest_footprints",
]
