"""A cable is bent no tighter than five times its size.

Why: a tight bend cracks the sheath and thins the insulation on the outside of the bend, where nobody looks.

Fix: let the cable sweep, bore the hole farther from the corner, and never fold a cable flat behind a box.

Trap: flat cable has two sizes. 2023 takes the larger, whatever the bend; 2026 takes the smaller where it is bent on its flat side;
2017 and 2020 say neither. The tight places are the turn into a hole next to a corner and the fold behind a box.

Does not judge: AC and MC cable, which have limits of their own, and cable in a raceway. Each run is judged by its tightest bend
as stated; how a cable is folded behind a device is for a look on site.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import BendSide, How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import SHEATHED, Run, sheath_of
from nailplate.units import Inches, inches, reaches, shown, shown_beside, written


@rule(
    id="bend-radius",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite(
            "334.24",
            seen=(2023, 2026),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1924",
        )
    },
    hazards=(Hazard.PINCHED_INSULATION, Hazard.ARCING),
)
def bend_radius(cable: Cable, job: Job) -> Iterator[Outcome]:
    """334.24: the tightest bend of each run of nonmetallic-sheathed cable. AC and MC cable have limits of their own."""
    return each_run(cable, job, _judge, _is_sheathed)


def _is_sheathed(cable: Cable) -> bool:
    return not cable.knows("type") or cable.type in SHEATHED


def _judge(run: Run, job: Job) -> Outcome:
    if run.segment.how is How.RACEWAY or run.segment.knows("raceway"):
        return NotConcerned()
    sheath, radius = sheath_of(run.cable), run.segment.bend.radius
    times = job.number("bend_radius_by_cable")
    flat, edge = Inches(times * sheath.thickness), Inches(times * sheath.width)
    if reaches(radius, edge):
        return Pass(inches(radius), inches(edge))
    if job.holds("bend_by_side"):
        limit = flat if run.segment.bend.side is BendSide.FLAT else edge
        return Pass(inches(radius), inches(limit)) if reaches(radius, limit) else _too_tight(run, radius, limit)
    if job.holds("bend_by_width") or not reaches(radius, flat):
        return _too_tight(run, radius, edge)
    return _argued(run, radius, edge)


def _said(run: Run, radius: Inches, limit: Inches) -> str:
    return f"{run_words(run)}: it is bent to {shown_beside(inches(radius), inches(limit))} inside radius; five times its size is {shown(inches(limit))}."


def _too_tight(run: Run, radius: Inches, limit: Inches) -> Violation:
    return Violation(_said(run, radius, limit), inches(radius), inches(limit), (_wider(run, limit),))


def _wider(run: Run, limit: Inches) -> Remedy:
    new = inches(limit)
    return Remedy(f"Bend it to {shown(new)} or more.", (state(run.segment.bend, "radius", written(new)),))


def _argued(run: Run, radius: Inches, limit: Inches) -> Judgement:
    readings = (
        Reading("The diameter of a flat cable is its thickness, where it is bent on its flat side.", "pass"),
        Reading("The diameter of a flat cable is its width, as the 2023 edition says.", "violation"),
    )
    return Judgement(_said(run, radius, limit), readings, inches(radius), inches(limit), (_wider(run, limit),))
