"""Cable and framing: what a member of actual size leaves for holes, notches and cables, and how cables bend and fit in holes.

All lengths are inches. The figures of the codes are those of the edition in force and come as arguments.
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


# Studs, joists and rafters


def largest_hole(depth: Inches, share: float, left: Inches) -> Inches:
    """The largest hole in a member: by its share of the depth, and with so much wood left at both edges; 0 where there is none."""
    return Inches(max(0.0, min(share * depth, depth - 2 * left)))


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
