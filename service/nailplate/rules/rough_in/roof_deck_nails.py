"""Before 2026 too, cable keeps out of reach of the nails of a wood roof deck.

Why: roofing nails come 3/4 in or more through a wood deck, and the next roof brings new ones. From 2026 on the code requires 1-1/2 in.

Fix: hold the cable 1-1/2 in below the deck while the rafters are open; it costs nothing now.

Trap: a cathedral ceiling of 2x4 or 2x6 rafters is where it happens: the cable is stapled high to make room for insulation.

Does not judge: metal decks, which `roof-deck-clearance` judges in every edition, boxes (`box-under-roof-deck`), and how long
the nails of this roof really are.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import Decking
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, may_be_under_deck, stated_decking
from nailplate.units import inches, reaches, shown, written


@rule(
    id="roof-deck-nails",
    over=Cable,
    severity=Severity.ADVICE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite(
            "300.6(E) of the 2026 edition; before it common practice",
            note="ieci.org/national-electrical-code-2026-changes-to-chapter-three/",
        ),
        "nec-2026": None,
    },
    hazards=(Hazard.PIERCED_CABLE,),
)
def roof_deck_nails(cable: Cable, job: Job) -> Iterator[Outcome]:
    """What 2026 requires, as advice for a wood deck under an earlier edition."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    stated, limit = run.segment.knows("roof_deck_clearance"), job.measure("roof_deck_distance")
    if not stated and not may_be_under_deck(job.survey, run):
        return NotConcerned()
    if (
        not (stated and reaches(run.segment.roof_deck_clearance, limit.value))
        and stated_decking(job.survey, run) is not Decking.WOOD
    ):
        return NotConcerned()
    clear = inches(run.segment.roof_deck_clearance)
    if reaches(clear.value, limit.value):
        return Pass(clear, limit)
    return Violation(
        message=f"{run_words(run)}: it lies {shown(clear)} below a wood roof deck, within reach of roofing nails; the 2026 code requires {shown(limit)}.",
        measured=clear,
        limit=limit,
        remedies=(
            Remedy(f"Fasten it {shown(limit)} below the deck.", (state(run.segment, "roof_deck_clearance", written(limit)),)),
        ),
    )
