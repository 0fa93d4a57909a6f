"""Low-voltage cable keeps 2 in from power cable; on recreational vehicles and park trailers 1/2 in is required.

Why: it picks up noise, and an inspector may require a separate hole. A nail through both puts line voltage on the telephone.

Fix: bore separate holes 2 in apart, keep long parallel runs 6 in to 12 in apart, and cross at right angles.

Trap: the 2 in of the code end where the power conductors are in a cable such as NM, so between buildings' cables they are advice.
Low-voltage cable still needs its nail plates, and is never tied to a power cable.

Does not judge: cable more than a foot away, crossings, raceways and barriers between the two, and both in one box or enclosure.
Nail plates over low-voltage cable are judged by `bored-hole-edge` and `parallel-run-edge`, ties to a power cable by
`cable-as-support`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, low_voltage_gap
from nailplate.units import inches, reaches, shown, written


@rule(
    id="low-voltage-apart",
    over=Cable,
    severity=Severity.ADVICE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite(
            "725.136, 800.133(A)(2); park trailers 552.10(C)(3)",
            note="forums.mikeholt.com/threads/low-voltage-in-same-hole.119135",
        ),
        "nec-2026": Cite(
            "722, 800.133; park trailers 552.10(C)(3)",
            note="725.136 is gone: www.lowvoltagenation.com/posts/nec-2026-articles-721-723-class-2-class-3-circuits-guide",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.PIERCED_CABLE),
)
def low_voltage_apart(cable: Cable, job: Job) -> Iterator[Outcome]:
    """Common practice and 552.10(C)(3): each run of low-voltage cable, from power cable beside it."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    low_voltage = run.cable.is_(low_voltage=True)
    if not low_voltage and not run.segment.knows("low_voltage_distance"):
        return NotConcerned()
    gap = low_voltage_gap(job.survey, run)
    if gap is None:
        return Pass()
    limit = job.measure("low_voltage_distance_on_wheels" if _on_wheels(job) else "low_voltage_distance")
    if reaches(gap, limit.value):
        return Pass(inches(gap), limit)
    required = "is required" if _on_wheels(job) else "is good practice"
    return Violation(
        message=f"{run_words(run)}: low-voltage and power cable come within {shown(inches(gap))}; {shown(limit)} {required}.",
        measured=inches(gap),
        limit=limit,
        remedies=(_apart(run, written(limit)),),
    )


def _on_wheels(job: Job) -> bool:
    vehicles = (Regime.RECREATIONAL_VEHICLE, Regime.PARK_TRAILER)
    return job.plan.basis.is_among(regime=vehicles)


def _apart(run: Run, value: str) -> Remedy:
    stated = run.segment.knows("low_voltage_distance")
    return Remedy(
        "Bore a separate hole, or move one of them.", (state(run.segment, "low_voltage_distance", value),) if stated else ()
    )
