"""Cable is clamped to its box, and 1/4 in of its sheath comes in.

Why: the sheath takes the pull and the rub at the box's edge; bare conductors there are cut.

Fix: push the sheath in before stapling, and use a box with clamps, or a connector, wherever more than one gang or a round box takes cable.

Trap: only a nonmetallic one-gang box may do without clamps, and then the cable is stapled within 8 in. A clamp takes one cable unless its
manufacturer says more.

Does not judge: how many cables are in one clamp.
"""

from collections.abc import Iterator

from nailplate.plan import Box, Panel
from nailplate.plan.words import BoxMaterial, BoxShape, Clamps
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.rough_in.told_once import once_told
from nailplate.survey.boxes import inside
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import SHEATHED
from nailplate.units import inches, reaches, shown, written


@rule(
    id="sheath-into-box",
    over=(Box, Panel),
    severity=Severity.CODE,
    subjects=(Subject.FREE_CONDUCTORS,),
    cites={
        "nec-2017": Cite(
            "314.17(B), (C)",
            seen=(2017,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=284",
        ),
        "nec-2020": Cite(
            "314.17(B)",
            seen=(2020,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=885",
        ),
        "nec-2023": Cite(
            "314.17(B), 334.19",
            seen=(2023,),
            note="https://electricallicenserenewal.com/Electrical-Continuing-Education-Courses/Course-GetQuestion.php?QID=1480.0",
        ),
    },
    hazards=(Hazard.PINCHED_INSULATION, Hazard.SHOCK),
    changes={
        "nec-2017": "The 1/4 in of sheath is required in metal boxes too.",
    },
)
def sheath_into_box(part: Box | Panel, job: Job) -> Iterator[Outcome]:
    """314.17 and 334.19: each box, and from 2023 on each panel, in which nonmetallic-sheathed cable ends."""
    return once_told(part, job, _judge)


def _judge(part: Box | Panel, job: Job) -> Iterator[Outcome]:
    at_panel = isinstance(part, Panel)
    cables = job.survey.cables_at_panel.get(part.id, ()) if isinstance(part, Panel) else inside(job.survey, part).cables
    sheathed = any(not cable.knows("type") or cable.is_among(type=SHEATHED) for cable in cables)
    if not sheathed or (at_panel and not job.holds("sheath_in_every_enclosure")):
        yield NotConcerned()
        return
    if isinstance(part, Box):
        yield _clamped(part)
    yield _sheath(part, job)


def _clamped(box: Box) -> Outcome:
    if not box.knows("clamps"):
        return Undetermined((box.where("clamps"),), facet="clamps")
    if box.clamps is not Clamps.NONE:
        return Pass(facet="clamps")
    needed = [name for name in ("material", "gangs") if not box.knows(name)]
    if _needs_clamps(box):
        return Violation(
            message=f"{name_of(box)}: it has no clamps; only a nonmetallic one-gang box does without.",
            remedies=(
                Remedy("Use a box with clamps, or a listed connector for each cable.", (state(box, "clamps", "connector"),)),
            ),
            facet="clamps",
        )
    if needed:
        return Undetermined(tuple(box.where(name) for name in needed), facet="clamps")
    return Pass(facet="clamps")


def _needs_clamps(box: Box) -> bool:
    metal = box.is_(material=BoxMaterial.METAL)
    round_or_square = box.isnt(shape=BoxShape.DEVICE)
    return metal or round_or_square or (box.knows("gangs") and box.gangs > 1)


def _sheath(box: Box | Panel, job: Job) -> Outcome:
    if not box.knows("sheath_inside"):
        return Undetermined((box.where("sheath_inside"),), facet="sheath")
    found, limit = inches(box.sheath_inside), job.measure("sheath_inside_box")
    if reaches(found.value, limit.value):
        return Pass(found, limit, facet="sheath")
    return Violation(
        message=f"{name_of(box)}: {shown(found)} of sheath comes into it; {shown(limit)} is required.",
        measured=found,
        limit=limit,
        remedies=(Remedy(f"Push {shown(limit)} or more of the sheath in.", (state(box, "sheath_inside", written(limit)),)),),
        facet="sheath",
    )
