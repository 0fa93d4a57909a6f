"""The front of a box comes up to the finished surface: flush where that is combustible, at most 1/4 in behind where it is not.

Why: an arc or hot splice in a box that is set back can reach the wood or paneling around its mouth.

Fix: set the box farther out from the framing by the thickness of everything that will cover it, or order an adjustable box
or a listed box extender.

Trap: the tabs of nail-on boxes are made for 1/2 in drywall. Behind 3/4 in tongue-and-groove, plywood over drywall, or tile on board
they end up too deep. What counts is the face that one sees: tile on plywood is not combustible there, plywood on drywall is.

Does not judge: gaps and broken plaster around a box, 314.21, and plaster rings and covers by themselves.
"""

from nailplate.plan import Box
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, state
from nailplate.rules.box_fill.finishes import finish_over, is_log, is_without_framing
from nailplate.survey.boxes import Spot, spot_of
from nailplate.survey.names import name_of
from nailplate.units import Inches, inches, shown, within, written


@rule(
    id="box-setback",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite(
            "314.20",
            seen=(2017,),
            note=(
                "https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=285.0"
            ),
        )
    },
    hazards=(Hazard.FIRE, Hazard.ARCING),
    changes={"nec-2017": "It speaks of boxes within or behind a surface, and so also of those that the finish covers in part."},
)
def box_setback(box: Box, job: Job) -> Outcome:
    """314.20: the box's front against the layers of finish on its side of the wall, or on the ceiling."""
    if spot_of(job.survey, box) not in (Spot.WALL, Spot.CEILING) or is_without_framing(job.survey, box):
        return NotConcerned()
    layers = finish_over(job.survey, box)
    if not layers:
        return _bare(box, job)
    finish = Inches(sum(layer.thickness for layer in layers))
    back = Inches(max(0.0, finish - box.front_offset))
    flush, noncombustible = job.inches("setback_combustible"), job.inches("setback_noncombustible")
    if within(back, flush):
        return Pass(inches(back), inches(flush))
    surface = layers[-1]
    if not within(back, noncombustible):
        return _too_deep(box, back, finish, flush if surface.is_(combustible=True) else noncombustible, surface.material)
    if surface.combustible:
        return _too_deep(box, back, finish, flush, surface.material)
    return Pass(inches(back), inches(noncombustible))


def _bare(box: Box, job: Job) -> Outcome:
    """Bare framing has no surface; logs are wood, framing and surface at once."""
    if not is_log(job.survey, box):
        return NotConcerned()
    back = Inches(max(0.0, -box.front_offset))
    flush = job.inches("setback_combustible")
    if within(back, flush):
        return Pass(inches(back), inches(flush))
    return _too_deep(box, back, Inches(0.0), flush, "log")


def _too_deep(box: Box, back: Inches, finish: Inches, limit: Inches, material: str) -> Violation:
    allowed = "flush with it or in front of it" if not limit else f"at most {shown(inches(limit))} behind it"
    out = f"{shown(inches(finish))} forward of" if finish else "flush with"
    return Violation(
        message=(
            f"{name_of(box)}: its front is {shown(inches(back))} behind the finished surface of {material}, and must be {allowed}."
        ),
        measured=inches(back),
        limit=inches(limit),
        remedies=(
            Remedy(
                f"Set the front of the box {out} the framing.",
                (state(box, "front_offset", written(inches(finish))),),
            ),
            Remedy(f"Install a listed box extender of {shown(inches(back))} or more."),
        ),
    )
