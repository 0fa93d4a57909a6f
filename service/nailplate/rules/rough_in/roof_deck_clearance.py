"""Wiring under a roof deck keeps 1-1/2 in below its lowest surface.

Why: roofing nails and screws come through the deck, again with each new roof, long after anybody knows what is under it.

Fix: hold the cable to the lower part of the rafter, or run it in rigid or intermediate metal conduit.

Trap: until 2023 this was about corrugated metal decking alone; 2026 names every deck, all wiring, and boxes on conduit too. A 2x4
rafter bay leaves a band of 3/4 in between the deck's 1-1/2 in and the ceiling's 1-1/4 in. Measure square to the deck.

Does not judge: runs in walls that state no clearance, and wiring in rigid or intermediate metal conduit. Boxes are judged by
`box-under-roof-deck`, wood decks before 2026 by `roof-deck-nails`. Whether purlins belong to the deck is left to the authority
having jurisdiction.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Cable
from nailplate.plan.words import Decking, RacewayKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, may_be_under_deck, stated_decking
from nailplate.units import Measure, inches, reaches, shown, written

EXEMPT: Final = (RacewayKind.RMC, RacewayKind.IMC)


@rule(
    id="roof-deck-clearance",
    over=Cable,
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
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK, Hazard.FIRE),
)
def roof_deck_clearance(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(E), 300.6(E): each run that may lie under a roof deck."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    segment, limit = run.segment, job.measure("roof_deck_distance")
    if segment.is_among(raceway=EXEMPT):
        return NotConcerned()
    if segment.knows("roof_deck_clearance") and reaches(segment.roof_deck_clearance, limit.value):
        return Pass(inches(segment.roof_deck_clearance), limit)
    if not segment.knows("roof_deck_clearance") and not may_be_under_deck(job.survey, run):
        return NotConcerned()
    decking = stated_decking(job.survey, run)
    if not job.holds("every_roof_deck") and decking not in (Decking.CORRUGATED_METAL, Decking.METAL_ON_PURLINS):
        return NotConcerned()
    if decking is Decking.NONE:
        return NotConcerned()
    return _too_near(run, decking, limit)


def _too_near(run: Run, decking: Decking, limit: Measure) -> Outcome:
    clear = inches(run.segment.roof_deck_clearance)
    said = f"{run_words(run)}: it lies {shown(clear)} below the roof deck; {shown(limit)} is required."
    remedies = (
        Remedy(
            f"Fasten it at least {shown(limit)} below the lowest surface of the decking.",
            (state(run.segment, "roof_deck_clearance", written(limit)),),
        ),
    )
    if decking is Decking.METAL_ON_PURLINS:
        return Judgement(said, _PURLINS, clear, limit, remedies)
    return Violation(said, clear, limit, remedies)


_PURLINS: Final = (
    Reading("The decking is the metal sheet alone; the distance is measured from it and not from the purlins.", "pass"),
    Reading("Purlins belong to the decking, and their screws reach as far; the distance is measured from them.", "violation"),
)
