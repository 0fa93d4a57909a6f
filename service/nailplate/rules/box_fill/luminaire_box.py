"""A luminaire is supported by a box that is made for its weight.

Why: a luminaire that tears out of its box falls on whoever is below, and pulls live splices with it.

Fix: use a luminaire box that is fastened to the framing and marked for the weight, or support the luminaire from the
structure itself.

Trap: a device box is no luminaire box, and a cut-in box that clamps to drywall supports about 6 lb. On a wall a luminaire of up to
6 lb may be mounted on any box with two No. 6 screws; on a ceiling the box supports at least 50 lb, however light the luminaire.

Does not judge: how a box is fastened to the framing, 314.23, and what a luminaire's own instructions require.
"""

from typing import Final

from nailplate.plan import Box, Device
from nailplate.plan.words import BoxShape, DeviceKind, LuminaireMount
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.boxes import Spot, spot_of
from nailplate.survey.names import name_of
from nailplate.units import Pounds, pounds, reaches, shown, within, written

LUMINAIRE_SHAPES: Final = frozenset({BoxShape.ROUND, BoxShape.OCTAGON})
FLUSH: Final = frozenset({LuminaireMount.SURFACE, LuminaireMount.LAMPHOLDER})
"""How luminaires are mounted that no dwelling has in a weight of 50 lb (common practice)."""


@rule(
    id="luminaire-box",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.BOX_SUPPORT,),
    cites={
        "nec-2017": Cite(
            "314.27(A)",
            note=(
                "http://www.ecmweb.com/national-electrical-code/weighty-issue and "
                "https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=66"
            ),
        )
    },
    hazards=(Hazard.FALLING_LOAD, Hazard.ARCING),
)
def luminaire_box(luminaire: Device, job: Job) -> Outcome:
    """314.27(A): what the box is marked to carry, against the weight and, on a ceiling, against 50 lb."""
    if luminaire.kind is not DeviceKind.LUMINAIRE or _has_own_wiring_space(luminaire, job):
        return NotConcerned()
    if luminaire.is_(independent_support=True):
        return Pass()
    box = job.plan.boxes[luminaire.box]
    spot = spot_of(job.survey, box)
    if spot is Spot.CEILING:
        return _carried(luminaire, box, job.pounds("ceiling_luminaire_weight"), job)
    if spot is Spot.FLOOR:
        return NotConcerned()
    light = job.pounds("wall_luminaire_on_any_box")
    if luminaire.knows("weight") and within(luminaire.weight, light):
        return Pass(pounds(luminaire.weight), pounds(light))
    return _carried(luminaire, box, Pounds(0.0), job)


def _has_own_wiring_space(luminaire: Device, job: Job) -> bool:
    """Recessed luminaires, and those that a cable ends at, are fastened by themselves."""
    return luminaire.is_(luminaire_mount=LuminaireMount.RECESSED) or (
        not luminaire.knows("box") and luminaire.id in job.survey.cables_at_device
    )


def _carried(luminaire: Device, box: Box, at_least: Pounds, job: Job) -> Outcome:
    unmarked = job.pounds("ceiling_luminaire_weight")
    carries = _carries(box, unmarked)
    if carries is not None and not reaches(carries, at_least):
        return _too_weak(luminaire, box, carries, Pounds(max(at_least, luminaire.weight if luminaire.knows("weight") else 0.0)))
    if (
        carries is not None
        and reaches(carries, unmarked)
        and not luminaire.knows("weight")
        and luminaire.is_among(luminaire_mount=FLUSH)
    ):
        return Pass(pounds(carries), pounds(at_least))
    unweighed = () if luminaire.knows("weight") else (luminaire.where("weight"),)
    if carries is None:
        return Undetermined((*unweighed, box.where("support_rating")))
    if unweighed:
        return Undetermined(unweighed)
    limit = Pounds(max(at_least, luminaire.weight))
    return Pass(pounds(carries), pounds(limit)) if reaches(carries, limit) else _too_weak(luminaire, box, carries, limit)


def _carries(box: Box, unmarked: Pounds) -> Pounds | None:
    """As marked. A box made for luminaires that bears no mark carries 50 lb, in a wall too."""
    if box.knows("support_rating"):
        return box.support_rating
    return unmarked if box.is_among(shape=LUMINAIRE_SHAPES) else None


def _too_weak(luminaire: Device, box: Box, carried: Pounds, limit: Pounds) -> Violation:
    carries, wanted = shown(pounds(carried)), shown(pounds(limit))
    holds = "is marked for" if box.knows("support_rating") else "is not marked and supports"
    why = (
        f"the luminaire weighs {wanted}"
        if luminaire.knows("weight") and limit == luminaire.weight
        else f"a ceiling box supports at least {wanted}"
    )
    return Violation(
        message=f"{name_of(luminaire)}: its box {name_of(box)} {holds} {carries}; {why}.",
        measured=pounds(carried),
        limit=pounds(limit),
        related=(box.pointer,),
        remedies=(
            Remedy(
                f"Install a luminaire box marked for {wanted} or more, fastened to the framing.",
                (state(box, "support_rating", written(pounds(limit))),),
            ),
            Remedy(
                "Support the luminaire from the structure itself.",
                (state(luminaire, "independent_support", value=True),),
            ),
        ),
    )
