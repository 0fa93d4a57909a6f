"""Cable in the framing: the runs of each route, the members they cross or follow, their holes, notches and supports."""

from nailplate.survey.rough_in.accessible_ceilings import length_above_ceiling
from nailplate.survey.rough_in.bundles import DrawnBundle, drawn_bundle, drawn_bundles, in_one_hole, runs_along
from nailplate.survey.rough_in.cuts import end_notch, joist_hole, joist_notch, stud_hole, stud_notch
from nailplate.survey.rough_in.decks import may_be_under_deck, stated_decking
from nailplate.survey.rough_in.framed_openings import BESIDE, FLAT, Crossing, Framed, Zone, framed, lines_on, may_cut_header
from nailplate.survey.rough_in.holes import (
    FACES,
    SHEATHED,
    Edges,
    cable_distances,
    hole_distances,
    misstated_edge,
    needs_no_steel,
    plated_faces,
    sheath_of,
)
from nailplate.survey.rough_in.insulation import FILLED, drawn_insulation, lies_in_insulation
from nailplate.survey.rough_in.low_voltage import low_voltage_gap
from nailplate.survey.rough_in.members import (
    Disagreement,
    depth_of,
    disagreements,
    framing_of,
    is_bearing,
    is_wood,
    material_of,
    member_of,
    role_of,
)
from nailplate.survey.rough_in.runs import Run, course_of, derived_runs, elevated, run_at, runs, runs_in_wall, runs_of
from nailplate.survey.rough_in.stacks import DrillLine, Stack, drill_lines, stacks_in
from nailplate.survey.rough_in.stud_places import (
    STUDLESS,
    has_studs,
    stated_near,
    states_studs,
    stud_centers,
)
from nailplate.survey.rough_in.supports import (
    end_runs,
    is_clampless,
    spacing_allowed,
    spacing_of,
)

__all__ = [
    "BESIDE",
    "FACES",
    "FILLED",
    "FLAT",
    "SHEATHED",
    "STUDLESS",
    "Crossing",
    "Disagreement",
    "DrawnBundle",
    "DrillLine",
    "Edges",
    "Framed",
    "Run",
    "Stack",
    "Zone",
    "cable_distances",
    "course_of",
    "depth_of",
    "derived_runs",
    "disagreements",
    "drawn_bundle",
    "drawn_bundles",
    "drawn_insulation",
    "drill_lines",
    "elevated",
    "end_notch",
    "end_runs",
    "framed",
    "framing_of",
    "has_studs",
    "hole_distances",
    "in_one_hole",
    "is_bearing",
    "is_clampless",
    "is_wood",
    "joist_hole",
    "joist_notch",
    "length_above_ceiling",
    "lies_in_insulation",
    "lines_on",
    "low_voltage_gap",
    "material_of",
    "may_be_under_deck",
    "may_cut_header",
    "member_of",
    "misstated_edge",
    "needs_no_steel",
    "plated_faces",
    "role_of",
    "run_at",
    "runs",
    "runs_along",
    "runs_in_wall",
    "runs_of",
    "sheath_of",
    "spacing_allowed",
    "spacing_of",
    "stacks_in",
    "stated_decking",
    "stated_near",
    "states_studs",
    "stud_centers",
    "stud_hole",
    "stud_notch",
]
