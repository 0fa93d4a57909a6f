"""Cable is secured at the intervals of its kind.

Why: a cable that sags is caught by insulation crews and drywall, and its weight pulls at the splices.

Fix: staple NM cable at least every 4-1/2 ft. Holes through studs and joists support it where they are no farther apart.

Trap: studs at 16 or 24 in always support a level run, so no staples are needed there, but one is still needed near each box.
Flat cable is never stapled on edge.

Does not judge: the first support at each box (`first-support`), cable that is fished or in a raceway, kinds without an interval
of their own, and whether a staple is driven too tight or listed for several cables.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import CableType, How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Operation, Outcome, Pass, Remedy, Violation, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, spacing_allowed, spacing_of
from nailplate.survey.wiring import is_power_cable
from nailplate.units import inches, shown, within, written


@rule(
    id="support-interval",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("334.30; AC 320.30, MC 330.30", note="https://forums.mikeholt.com/threads/334-30-requirements.132696"),
    },
    limits=("support_spacing", "support_spacing_of_mc"),
    hazards=(Hazard.PINCHED_INSULATION,),
)
def support_interval(cable: Cable, job: Job) -> Iterator[Outcome]:
    """334.30: each run's supports, by holes or staples."""
    return each_run(cable, job, _judge, _is_cable)


def _is_cable(cable: Cable) -> bool:
    return is_power_cable(cable) and not cable.is_(type=CableType.RACEWAY)


def _judge(run: Run, job: Job) -> Outcome:
    segment = run.segment
    if segment.how is How.RACEWAY or segment.is_(fished=True):
        return NotConcerned()
    allowed = spacing_allowed(job.survey, run.cable)
    if allowed is None:
        return NotConcerned()
    limit, spacing = inches(allowed), inches(spacing_of(run))
    if within(spacing.value, limit.value):
        return Pass(spacing, limit)
    return Violation(
        message=f"{run_words(run)}: its supports are {shown(spacing)} apart; {run.cable.type} cable is secured every {shown(limit)}.",
        measured=spacing,
        limit=limit,
        remedies=(Remedy(f"Staple it at least every {shown(limit)}.", _closer(run, written(limit))),),
    )


def _closer(run: Run, limit: str) -> tuple[Operation, ...]:
    stated = run.segment.knows("supports")
    return (state(run.segment.supports, "spacing", limit),) if stated else (state(run.segment, "supports", {"spacing": limit}),)
