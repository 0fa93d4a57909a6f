"""Exposed cable follows the building, and is guarded where it crosses open joists, rafters or studs.

Why: cable that hangs across joists is used as a clothes rail, stepped on in the attic and torn by what is stored.

Fix: run it along the sides of the members, bore through them, or lay it on running boards; in an attic between guard strips that are
as high as the cable.

Trap: an attic that is reached by a scuttle or portable ladder needs guard strips only within 6 ft of the opening; one with a stair or
permanent ladder everywhere. A loft that people live in is no attic. In a basement or crawl space only cables of two 6 AWG or three 8 AWG
conductors and larger may be fastened straight to the bottoms of the joists. Through a floor a sleeve reaches 6 in up.

Does not judge: whether a run that follows a surface lies where it is damaged.
"""

from collections.abc import Iterator

from nailplate.plan import Cable, UnknownFact
from nailplate.plan.words import AtticAccess, Guard, How, LevelKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run
from nailplate.survey.wiring import is_power_cable
from nailplate.units import inches, reaches, shown, written


@rule(
    id="exposed-run",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.CABLE_PLACES,),
    cites={
        "nec-2017": Cite(
            "334.15, 334.23, 320.23",
            note="ecmweb.com/national-electrical-code/violations/article/21252058/illustrated-catastrophes-installed-in-harms-way",
        ),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK),
)
def exposed_run(cable: Cable, job: Job) -> Iterator[Outcome]:
    """334.15 and 334.23: each run on a surface, or in an attic."""
    return each_run(cable, job, _judge, is_power_cable)


def _judge(run: Run, job: Job) -> Outcome:
    segment = run.segment
    if segment.knows("raceway") or segment.how not in (How.SURFACE, How.ATTIC):
        return NotConcerned()
    if segment.knows("sleeve_above_floor") and not reaches(segment.sleeve_above_floor, job.inches("sleeve_above_floor")):
        return _short_sleeve(run, job)
    return _in_attic(run, job) if segment.how is How.ATTIC else _on_surface(run, job)


def _in_attic(run: Run, job: Job) -> Outcome:
    segment = run.segment
    if segment.is_among(guard=(Guard.GUARD_STRIPS, Guard.RUNNING_BOARD, Guard.SLEEVE)):
        return Pass()
    if segment.knows("above_attic_floor") and reaches(segment.above_attic_floor, job.inches("guard_above_joists")):
        return Pass(inches(segment.above_attic_floor), job.measure("guard_above_joists"))
    if not segment.across:
        return Pass()
    level = job.plan.levels.get(run.level) if run.level is not None else None
    if level is None:
        raise UnknownFact(segment.where("level"))
    if level.attic_access is AtticAccess.NONE:
        return Pass()
    if level.attic_access is AtticAccess.SCUTTLE and reaches(segment.from_access, job.inches("guard_near_scuttle")):
        return Pass(inches(segment.from_access), job.measure("guard_near_scuttle"))
    bare = segment.guard in (Guard.NONE, Guard.SURFACE)
    return _unguarded(run, "it crosses open framing in the attic where people move") if bare else Pass()


def _on_surface(run: Run, job: Job) -> Outcome:
    segment = run.segment
    if segment.guard is Guard.NONE:
        return _unguarded(run, "it hangs free of the surface")
    level = job.plan.levels.get(run.level) if run.level is not None else None
    low = level is not None and level.kind in (LevelKind.BASEMENT, LevelKind.CRAWL_SPACE)
    if not low or segment.guard in (Guard.RUNNING_BOARD, Guard.SLEEVE) or not segment.across or _is_large(run.cable, job):
        return Pass()
    return _unguarded(run, "it crosses the bottoms of the joists")


def _is_large(cable: Cable, job: Job) -> bool:
    """334.15(C): large enough to cross the bottoms of joists."""
    area, least = job.edition.conductors.area, {2: job.size("large_cable_of_two"), 3: job.size("large_cable_of_three")}
    if cable.size not in area:
        return False
    return any(area[cable.size] >= area[size] and cable.insulated >= number for number, size in least.items())


def _unguarded(run: Run, what: str) -> Violation:
    attic = run.segment.how is How.ATTIC
    guard = Guard.GUARD_STRIPS if attic else Guard.RUNNING_BOARD
    words = "Nail guard strips as high as the cable beside it" if attic else "Lay it on running boards"
    return Violation(
        message=f"{run_words(run)}: {what}, without guard strips or running board.",
        remedies=(Remedy(f"{words}, or bore through the members.", (state(run.segment, "guard", guard.value),)),),
    )


def _short_sleeve(run: Run, job: Job) -> Violation:
    found, limit = inches(run.segment.sleeve_above_floor), job.measure("sleeve_above_floor")
    return Violation(
        message=f"{run_words(run)}: its sleeve covers {shown(found)} above the floor that it comes through; {shown(limit)} is required.",
        measured=found,
        limit=limit,
        remedies=(
            Remedy(
                f"Install a sleeve that reaches {shown(limit)} up.", (state(run.segment, "sleeve_above_floor", written(limit)),)
            ),
        ),
    )
