"""What may be cut out of a stud, joist or rafter of actual size."""

from nailplate.calc.framing import largest_hole
from nailplate.survey.index import Survey
from nailplate.units import Inches


def stud_hole(survey: Survey, depth: Inches, *, bearing: bool, doubled: bool = False) -> Inches:
    """The largest hole in a stud; the larger share where it carries no load or is doubled."""
    share = survey.share("bearing_stud_hole" if bearing and not doubled else "partition_stud_hole")
    return largest_hole(depth, share, survey.inches("stud_wood_left"))


def stud_notch(survey: Survey, depth: Inches, *, bearing: bool) -> Inches:
    """The deepest notch in a stud."""
    return Inches(survey.share("bearing_stud_notch" if bearing else "partition_stud_notch") * depth)


def joist_hole(survey: Survey, depth: Inches) -> Inches:
    """The largest hole in a joist or rafter; 0 where none leaves enough wood above and below."""
    return largest_hole(depth, survey.share("joist_hole"), survey.inches("joist_wood_left"))


def joist_notch(survey: Survey, depth: Inches) -> Inches:
    """The deepest notch in the outer thirds of a joist's or rafter's span."""
    return Inches(survey.share("joist_notch") * depth)


def end_notch(survey: Survey, depth: Inches) -> Inches:
    """The deepest notch at the end of a joist or rafter."""
    return Inches(survey.share("joist_end_notch") * depth)
