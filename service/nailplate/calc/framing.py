"""Cable and framing: what a member of actual size leaves for holes, notches and cables, and how cables bend and fit in holes.

All lengths are inches. What the IRC allows to be cut stands here as named constants with their sections; the NEC's figures are those of
the edition in force and come as arguments.
"""

import math
from dataclasses import dataclass
from typing import Final

from nailplate.plan.words import Member
from nailplate.units import Inches

DEPTHS: Final = {
    Member.M2X2: Inches(1.5),
    Member.M2X3: Inches(2.5),
    Member.M2X4: Inches(3.5),
    Member.M2X6: Inches(5.5),
    Member.M2X8: Inches(7.25),
    Member.M2X10: Inches(9.25),
    Member.M2X12: Inches(11.25),
}
"""Actual depth by nominal size (https://www.engineeringtoolbox.com/softwood-lumber-dimensions-d_1452.html); thickness 1-1/2 in."""

BEARING_HOLE: Final = 0.40
PARTITION_HOLE: Final = 0.60
"""IRC R602.6: a hole's share of a stud's depth, in an exterior or bearing wall and in another; the larger where studs are doubled."""
BEARING_NOTCH: Final = 0.25
PARTITION_NOTCH: Final = 0.40
"""IRC R602.6: a notch's share of a stud's depth."""
STUD_EDGE: Final = Inches(0.625)
"""IRC R602.6: from a hole's edge to the stud's edge."""
TOP_PLATE: Final = 0.50
"""IRC R602.6.1: the share of a top plate that may be cut without a metal tie."""
JOIST_HOLE: Final = 1 / 3
JOIST_EDGE: Final = Inches(2.0)
JOIST_NOTCH: Final = 1 / 6
JOIST_NOTCH_LENGTH: Final = 1 / 3
JOIST_END_NOTCH: Final = 1 / 4
"""IRC R502.8.1 and R802.7.1: shares of a joist's or rafter's depth; inches from a hole to its top and bottom."""


# Studs, joists and rafters


def stud_hole(depth: Inches, *, bearing: bool, doubled: bool) -> Inches:
    """The largest hole in a stud of that depth, structure alone: by its share, and with both edges left standing."""
    share = BEARING_HOLE if bearing and not doubled else PARTITION_HOLE
    return Inches(max(0.0, min(share * depth, depth - 2 * STUD_EDGE)))


def stud_notch(depth: Inches, *, bearing: bool) -> Inches:
    """The deepest notch in a stud."""
    return Inches((BEARING_NOTCH if bearing else PARTITION_NOTCH) * depth)


def joist_hole(depth: Inches) -> Inches:
    """The largest hole in a joist or rafter; 0 where none leaves 2 in above and below."""
    return Inches(max(0.0, min(JOIST_HOLE * depth, depth - 2 * JOIST_EDGE)))


def joist_notch(depth: Inches) -> Inches:
    """The deepest notch in the outer thirds of a joist's or rafter's span."""
    return Inches(JOIST_NOTCH * depth)


def end_notch(depth: Inches) -> Inches:
    """The deepest notch at a joist's end."""
    return Inches(JOIST_END_NOTCH * depth)


def band(depth: Inches, edge: Inches) -> Inches:
    """The width on a member's side that is ``edge`` from both its edges: of a cable, or of a hole bored in the center."""
    return Inches(max(0.0, depth - 2 * edge))


def hole_edges(depth: Inches, diameter: Inches, offset: Inches) -> tuple[Inches, Inches]:
    """From a hole's edge to the nearer and the farther edge of its member; negative where it breaks out."""
    return Inches(depth / 2 - offset - diameter / 2), Inches(depth / 2 + offset - diameter / 2)


# Cables


@dataclass(frozen=True, slots=True)
class Sheath:
    """Outside dimensions of a cable; equal for a round one."""

    width: Inches
    thickness: Inches


NM_SHEATHS: Final = {
    ("14 AWG", 2): Sheath(Inches(0.372), Inches(0.176)),
    ("14 AWG", 3): Sheath(Inches(0.478), Inches(0.176)),
    ("14 AWG", 4): Sheath(Inches(0.350), Inches(0.350)),
    ("12 AWG", 2): Sheath(Inches(0.422), Inches(0.190)),
    ("12 AWG", 3): Sheath(Inches(0.524), Inches(0.190)),
    ("12 AWG", 4): Sheath(Inches(0.395), Inches(0.395)),
    ("10 AWG", 2): Sheath(Inches(0.505), Inches(0.218)),
    ("10 AWG", 3): Sheath(Inches(0.479), Inches(0.479)),
    ("8 AWG", 2): Sheath(Inches(0.694), Inches(0.316)),
    ("8 AWG", 3): Sheath(Inches(0.635), Inches(0.635)),
    ("6 AWG", 2): Sheath(Inches(0.75), Inches(0.38)),
    ("6 AWG", 3): Sheath(Inches(0.72), Inches(0.72)),
    ("4 AWG", 3): Sheath(Inches(0.843), Inches(0.843)),
}
"""NM-B by size and insulated conductors: a maker's sheet (cabletechsupport.southwire.com/en/tile/30/spec/10028/); 10-3 and 8 AWG from
its Canadian twin with thicker insulation (spec/SPEC22050), an upper bound; 6 AWG from memory, 10 % either way. Makers differ."""
UF_SHEATHS: Final = {("14 AWG", 2): Sheath(Inches(0.423), Inches(0.168))}
"""UF-B, the same maker's sheet (spec/10036)."""


def stacked_in_hole(diameter: Inches, sheath: Sheath) -> int:
    """How many equal flat cables, lying face to face, a round hole can take by geometry alone; pulling needs more room."""
    free = diameter**2 - sheath.width**2
    return int(math.sqrt(free) / sheath.thickness + 1e-9) if free > 0 else 0


def beside_on_face(depth: Inches, edge: Inches, sheath: Sheath) -> int:
    """How many equal cables lie side by side on a member's side, each ``edge`` from both its edges."""
    return int(band(depth, edge) / sheath.width + 1e-9)


def spaces_in(length: Inches, interval: Inches) -> int:
    """How many equal spaces of at most ``interval`` a run is divided into: one support more than that at its ends."""
    return max(1, math.ceil(length / interval - 1e-9))
