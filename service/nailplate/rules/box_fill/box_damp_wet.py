"""A box in a wet place is listed for it, and one in a damp place keeps water out.

Why: water in a box corrodes splices and makes its metal, the wall and the plate live.

Fix: use a box listed for wet locations with its gasketed cover and fittings.

Trap: a weatherproof cover does not make the box behind it weatherproof; box, cover and the connectors in its sides are each listed.
Drain holes are made only in boxes that are listed for them, 1/8 to 1/4 in wide.

Does not judge: connectors, plugs and drain holes of a box, boxes in floors, 314.27(B), and places with corrosive vapors.
"""

from nailplate.plan import Box
from nailplate.plan.trade import FROM_DRY_TO_WET
from nailplate.plan.words import Exposure
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.survey.boxes import exposure_of_box
from nailplate.survey.names import name_of


@rule(
    id="box-damp-wet",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite(
            "314.15",
            note="https://www.engproducts.com/product-resources/nec-references/landscape-lighting",
        )
    },
    hazards=(Hazard.WATER, Hazard.SHOCK),
)
def box_damp_wet(box: Box, job: Job) -> Outcome:
    """314.15: listed for wet in a wet place. In a damp place the words require only that water be kept out."""
    place = exposure_of_box(job.survey, box)
    if place is Exposure.DRY:
        return NotConcerned()
    if FROM_DRY_TO_WET.index(box.location_rating) >= FROM_DRY_TO_WET.index(place):
        return Pass()
    if place is Exposure.WET:
        return _not_for_wet(box)
    return Judgement(
        message=f"{name_of(box)}: the place is damp and the box is for dry places only.",
        readings=(
            Reading(
                "What covers the box keeps moisture out of it, which is all that the code requires in a damp place.", "pass"
            ),
            Reading("A box that is rated dry only is not identified for a damp place, 110.11.", "violation"),
        ),
        remedies=_remedies(box, Exposure.DAMP),
    )


def _not_for_wet(box: Box) -> Violation:
    return Violation(
        message=f"{name_of(box)}: the place is wet and the box is for {box.location_rating} places only.",
        remedies=_remedies(box, Exposure.WET),
    )


def _remedies(box: Box, place: Exposure) -> tuple[Remedy, ...]:
    words = f"Install a box listed for {place} places, with its gasketed cover and fittings."
    return (Remedy(words, (state(box, "location_rating", place.value),)),)
