"""A box in a ceiling under a roof deck keeps 1-1/2 in below its lowest surface.

Why: roofing nails and screws come through the deck into whatever is right under it, boxes and drivers of luminaires too.

Fix: use a shallower box or luminaire, or fur the ceiling down.

Trap: until 2023 this was about corrugated metal decking alone. Conduit that is exempt does not exempt its boxes. A 2x4 rafter leaves 2 in
above the ceiling's face for a box or a thin luminaire's driver.

Does not judge: boxes that are not in a ceiling, and how far the fasteners of the next roof will reach. Cable under the deck is
judged by `roof-deck-clearance`, which also asks about decking that is not stated.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Box, Room, UnknownFact
from nailplate.plan.words import Decking
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.rules.rough_in.told_once import once_told
from nailplate.survey import standing
from nailplate.survey.boxes import Spot, spot_of
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown, written


@rule(
    id="box-under-roof-deck",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite(
            "300.4(E)",
            seen=(2020,),
            note="ecmweb.com/national-electrical-code/violations/article/21252058/illustrated-catastrophes-installed-in-harms-way",
        ),
        "nec-2026": Cite("300.6(E)", seen=(2026,), note="ieci.org/national-electrical-code-2026-changes-to-chapter-three/"),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.FIRE),
)
def box_under_roof_deck(box: Box, job: Job) -> Iterator[Outcome]:
    """300.4(E), 300.6(E): each box in a ceiling that the plan puts under a roof deck."""
    return once_told(box, job, _judge)


def _judge(box: Box, job: Job) -> Iterator[Outcome]:
    decking = _decking_over(box, job)
    counts = job.holds("every_roof_deck") or decking in (Decking.CORRUGATED_METAL, Decking.METAL_ON_PURLINS)
    if decking in (None, Decking.NONE) or not counts:
        yield NotConcerned()
        return
    clear, limit = inches(box.roof_deck_clearance), job.measure("roof_deck_distance")
    if reaches(clear.value, limit.value):
        yield Pass(clear, limit)
        return
    said = f"{name_of(box)}: it comes within {shown(clear)} of the roof deck; {shown(limit)} is required."
    remedies = (Remedy("Use a shallower box, or fur the ceiling down.", (state(box, "roof_deck_clearance", written(limit)),)),)
    if decking is Decking.METAL_ON_PURLINS:
        yield Judgement(said, _PURLINS, clear, limit, remedies)
    else:
        yield Violation(said, clear, limit, remedies)


def _decking_over(box: Box, job: Job) -> Decking | None:
    """The decking over a box in a ceiling, where its room or level states one; ``roof-deck-clearance`` asks for what is not stated."""
    if not box.knows("at") or spot_of(job.survey, box) is not Spot.CEILING:
        return None
    room = standing(job.survey, box).room
    if not isinstance(room, Room):
        raise UnknownFact(box.where("at"))
    for part in (room, job.plan.levels[room.level]):
        if part.knows("ceiling") and part.ceiling.knows("decking"):
            return part.ceiling.decking
    return None


_PURLINS: Final = (
    Reading("The decking is the metal sheet alone; the distance is measured from it and not from the purlins.", "pass"),
    Reading("Purlins belong to the decking, and their screws reach as far; the distance is measured from them.", "violation"),
)
