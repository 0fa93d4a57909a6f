"""Nonmetallic-sheathed cable through metal framing passes listed bushings or grommets.

Why: the edge of a punched or cut hole in steel cuts the sheath while it is pulled, and later as things move.

Fix: snap a listed bushing or grommet into every hole before the cable is pulled.

Trap: steel cross-members of a trailer count as much as studs. A 2-1/2 in steel stud leaves no place that is 1-1/4 in from both
faces: where screws could reach the cable, it needs a steel sleeve, plate or clip besides.

Does not judge: a cable's distance from nails and screws in metal framing, with the steel sleeve, plate or clip that it then
needs; AC and MC cable; and whether a bushing is listed and seated, which is for a look on site.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import FramingMaterial, How
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import SHEATHED, Run, material_of


@rule(
    id="metal-framing-bushing",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite(
            "300.4(B)(1), 334.17", note="forum.nachi.org/t/new-construction-electrical-inspection-hint-by-joe-tedesco/995"
        ),
        "nec-2026": Cite(
            "300.6(B)(1), 334.17", note="300.6 seen for (D) and (E): forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"
        ),
    },
    hazards=(Hazard.PINCHED_INSULATION, Hazard.SHOCK),
    changes={"nec-2026": "300.4 became 300.6."},
)
def metal_framing_bushing(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(B)(1): each run through holes in steel."""
    return each_run(cable, job, _judge, _is_sheathed)


def _is_sheathed(cable: Cable) -> bool:
    return not cable.knows("type") or cable.type in SHEATHED


def _judge(run: Run, _: Job) -> Outcome:
    if run.segment.how is not How.BORED or material_of(run) is not FramingMaterial.STEEL:
        return NotConcerned()
    if run.segment.bushing:
        return Pass()
    return Violation(
        message=f"{run_words(run)}: it passes holes in steel framing without bushings or grommets.",
        remedies=(
            Remedy(
                "Install a listed bushing or grommet in every hole, before the cable.",
                (state(run.segment, "bushing", value=True),),
            ),
        ),
    )
