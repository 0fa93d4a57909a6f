"""Which rules a house is built under is said, not guessed.

Why: a house on wheels may be a dwelling, a recreational vehicle, a park trailer or a manufactured home; each has its own article, and
what passes under one is missing under another.

Fix: ask the authority having jurisdiction before wiring, and state the regime, the permanent provisions and whether it stands on
wheels.

Trap: a bunkhouse without a kitchen or a toilet is no dwelling unit, unless it is let as a guest room, where much of the same holds.
Views in print on wheels differ: some put every such house under the article for vehicles, many ordinances do not. A park trailer covers
400 square feet at most and is for seasonal use. Calling a house with all four provisions no dwelling does not make it one.

Does not judge: which article holds for this house: that is for the authority having jurisdiction, with zoning and whether
people may live in it. A park trailer whose size is not known is not held to its area here.
"""

from nailplate.plan import Plan, UnknownFact
from nailplate.plan.words import Provision, Regime
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Violation
from nailplate.survey.space import ground_area
from nailplate.units import Measure, Unit, shown, within

_SQUARE_FOOT = 144.0
_ON_WHEELS = {Regime.RECREATIONAL_VEHICLE: "a recreational vehicle", Regime.PARK_TRAILER: "a park trailer"}


@rule(
    id="dwelling-class",
    over=Plan,
    severity=Severity.ADVICE,
    subjects=(Subject.BUILDING_CLASS,),
    cites={
        "nec-2017": Cite(
            "Article 100 (dwelling unit), 550, 551, 552",
            note="views on wheels differ in print; https://thenecwiki.com/2021/02/article-552 (park trailers up to 400 ft2)",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
)
def dwelling_class(plan: Plan, job: Job) -> Outcome:
    """Judges the plan as a whole."""
    regime = plan.basis.regime
    if regime is Regime.UNDECIDED:
        return _open(plan)
    if regime is Regime.DWELLING:
        return _dwelling(plan)
    if regime is Regime.NOT_A_DWELLING:
        return _no_dwelling(plan)
    return _movable(plan, job)


def _open(plan: Plan) -> Judgement:
    return Judgement(
        "Which rules this house is built under is not decided; it was checked as a dwelling unit.",
        (
            Reading("A house with all four permanent provisions is a dwelling unit, and Chapters 1 to 4 hold in full.", "pass"),
            Reading(
                "On wheels it is a vehicle or park trailer under Article 551 or 552, whose own rules were not applied.",
                "violation",
            ),
        ),
        at=plan.basis.where("regime"),
    )


def _dwelling(plan: Plan) -> Outcome:
    missing = [each for each in Provision if each not in plan.basis.provisions]
    if missing:
        return _lacking(plan, missing)
    if plan.basis.on_wheels and not plan.basis.knows("jurisdiction"):
        return Judgement(
            "The house stands on wheels and is taken for a dwelling unit; no jurisdiction is named that does so.",
            (
                Reading("A local ordinance takes a movable house with all four provisions as a dwelling unit.", "pass"),
                Reading("Whatever stands on wheels is a recreational vehicle or park trailer.", "violation"),
            ),
            at=plan.basis.where("jurisdiction"),
        )
    return Pass()


def _no_dwelling(plan: Plan) -> Outcome:
    if not plan.basis.knows("provisions") or not all(each in plan.basis.provisions for each in Provision):
        return Pass()
    return Violation(
        "The plan calls this no dwelling unit, and gives it permanent provisions for living, sleeping, cooking and sanitation, which "
        "make one: the rules for dwelling units were not run.",
        remedies=(Remedy("State it as a dwelling, or take the provision away that it does not have."),),
        at=plan.basis.where("regime"),
    )


def _movable(plan: Plan, job: Job) -> Outcome:
    """A vehicle or park trailer stands on wheels, and a park trailer covers 400 square feet at most."""
    name = _ON_WHEELS.get(plan.basis.regime)
    if name is None:
        return Pass()
    if plan.basis.is_(on_wheels=False):
        return Violation(
            f"The plan calls this {name}, and says that it does not stand on wheels.",
            remedies=(Remedy("State the regime under which it is built, or that it stands on wheels."),),
            at=plan.basis.where("on_wheels"),
        )
    return _covers(job) if plan.basis.regime is Regime.PARK_TRAILER else Pass()


def _covers(job: Job) -> Outcome:
    """Lofts left out; a size that is not known is asked for by the load's own rule."""
    try:
        covered = ground_area(job.survey)
    except UnknownFact:  # unknown: a size that is not stated is asked for by the rule on the park trailer's load
        return Pass()
    if within(covered, job.square_inches("park_trailer_area")):
        return Pass()
    measured, limit = (
        Measure(round(each / _SQUARE_FOOT, 1), Unit.SQUARE_FOOT) for each in (covered, job.square_inches("park_trailer_area"))
    )
    return Violation(
        f"The plan calls this a park trailer; it covers {shown(measured)}, and a park trailer {shown(limit)} at most when set up.",
        measured,
        limit,
        (Remedy("Ask the authority having jurisdiction which article holds, and state that regime."),),
        at=job.plan.basis.where("regime"),
    )


def _lacking(plan: Plan, missing: list[Provision]) -> Violation:
    names = " and ".join(each.value for each in missing)
    return Violation(
        f"A dwelling unit has permanent provisions for living, sleeping, cooking and sanitation; this plan names none for {names}.",
        remedies=(Remedy("State the provisions that it has, or the regime under which it is built."),),
        at=plan.basis.where("provisions"),
    )
