"""Cable in a foamed wall is fastened before the foam, and PVC sheath is kept off polystyrene.

Why: rising foam pushes loose cable out to the face of the studs, where drywall screws find it. Polystyrene draws the plasticizer out of a
PVC sheath, which turns brittle.

Fix: fasten every cable before the foam comes, and photograph the wall. Run cable through polystyrene in a sleeve or in the panel's own chase.

Trap: foam hides cable permanently: nothing is pulled or added later. Have it sprayed in thin passes, each left to cool: foam is hot as it sets.

Does not judge: ampacity in foam (`bundled-in-insulation`), boxes that foam fills, ceilings, floors and roofs, and the heat and
chemistry of one foam: ask the manufacturers of foam and cable. Whether rigid foam is polystyrene is taken as possible, and is
for a look on site.
"""

from collections.abc import Iterator

from nailplate.plan import Cable, UnknownFact
from nailplate.plan.words import Cavity, FramingMaterial, How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import SHEATHED, Run, framing_of, spacing_of
from nailplate.units import inches


@rule(
    id="foam-and-cable",
    over=Cable,
    severity=Severity.ADVICE,
    subjects=(Subject.BUNDLES,),
    cites={
        "nec-2017": Cite(
            "110.3(B), 334.30; common practice",
            note="www.ecmweb.com/national-electrical-code/thermal-effects-residential-installed-type-nm-b-cable-encased-spray-foam",
        )
    },
    hazards=(Hazard.BURIED, Hazard.PIERCED_CABLE),
)
def foam_and_cable(cable: Cable, job: Job) -> Iterator[Outcome]:
    """Common practice: each run in a wall that is filled with foam."""
    return each_run(cable, job, _judge, _is_sheathed)


def _is_sheathed(cable: Cable) -> bool:
    return not cable.knows("type") or cable.type in SHEATHED


def _judge(run: Run, _: Job) -> Outcome:
    if run.wall is None or run.segment.how is How.RACEWAY or run.segment.knows("raceway"):
        return NotConcerned()
    if _is_polystyrene(run):
        return _on_polystyrene(run)
    if not run.wall.is_(cavity=Cavity.SPRAY_FOAM):
        return NotConcerned()
    try:
        return Pass(inches(spacing_of(run)))
    except UnknownFact as unknown:
        return Undetermined((unknown.pointer,))


def _is_polystyrene(run: Run) -> bool:
    rigid = run.wall is not None and run.wall.is_(cavity=Cavity.RIGID)
    framing = framing_of(run)
    return rigid or (framing is not None and framing.is_(material=FramingMaterial.SIP))


def _on_polystyrene(run: Run) -> Outcome:
    if not run.segment.insulation_contact:
        return Pass()
    return Violation(
        message=f"{run_words(run)}: its PVC sheath lies on rigid foam; where that is polystyrene the sheath turns brittle over the years.",
        remedies=(
            Remedy(
                "Run it in a sleeve or in the panel's own chase, or put a tape barrier between, as the cable's manufacturer says."
            ),
        ),
    )
