"""A cable that runs in an insulated wall, floor or ceiling is not said to be clear of the insulation.

Why: foam and batts hold the heat of a cable in. Wire sized as if it lay in open air runs too hot where it does not.

Fix: correct `insulation_contact`, or move the cable out of the filled cavity; then look at what its ampacity is there.

Trap: one or two NM cables in foam keep their ampacity; more than two without spacing do not (334.80). SE cable has a limit of its own.
Rules on ampacity go by the cavity as drawn, whatever is typed.

Does not judge: A run on a surface, in a raceway, over the joists of an attic or under a sloped ceiling.
"""

from nailplate.plan import Cable, Pointer, Segment
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, replace
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import FILLED, drawn_insulation, run_at


@rule(
    id="insulation-as-drawn",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.BUNDLES,),
    cites={
        "nec-2017": Cite(
            "334.80",
            seen=(2017, 2020, 2023),
            note="https://thebuildingcodeforum.com (334.80 quoted) and public copies of the code text",
        )
    },
    hazards=(Hazard.OVERHEATING, Hazard.BURIED),
)
def insulation_as_drawn(cable: Cable, job: Job) -> Outcome:
    """Told once for a cable, at the first stretch that denies the insulation it is drawn in."""
    denying = [each for each in (cable.route if cable.knows("route") else ()) if _denies(each)]
    if not denying:
        return NotConcerned()
    filled = [each for each in denying if drawn_insulation(job.survey, each) in FILLED]
    if filled:
        return _contradicted(filled, job)
    unsaid = [need for each in denying if (need := _cavity_wanted(each, job)) is not None]
    return Undetermined(tuple(dict.fromkeys(unsaid))) if unsaid else Pass()


def _denies(segment: Segment) -> bool:
    return segment.is_(insulation_contact=False)


def _cavity_wanted(segment: Segment, job: Job) -> Pointer | None:
    run = run_at(job.survey, segment)
    return run.wall.where("cavity") if run.wall is not None and not run.wall.knows("cavity") else None


def _contradicted(filled: list[Segment], job: Job) -> Violation:
    first = filled[0]
    cable = job.plan.cables[first.pointer.members[1]]
    wall, what = run_at(job.survey, first).wall, drawn_insulation(job.survey, first)
    where = f"wall {name_of(wall)}" if wall is not None else "a floor or ceiling"
    more = f", and {len(filled) - 1} further stretches say the same" if len(filled) > 1 else ""
    return Violation(
        f"{name_of(cable)} runs inside {where}, filled with {_WORDS[str(what)]}, but is stated to touch no insulation{more}.",
        remedies=(
            Remedy(
                "State that the cable lies in insulation.",
                tuple(replace(each.where("insulation_contact"), value=True) for each in filled),
            ),
        ),
        at=first.where("insulation_contact"),
        related=(wall.where("cavity"),) if wall is not None else (),
    )


_WORDS = {"batt": "batts", "spray_foam": "spray foam", "rigid": "rigid foam"}
