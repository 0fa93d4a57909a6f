"""Cables that are drawn together are not said to run apart.

Why: conductors that lie together heat each other. A plan that denies it is wired as drawn, and overheats as drawn.

Fix: draw the cables an inch or more apart, in holes of their own, or name the bundle and size the wire for it.

Trap: cables stacked flat under one staple, pulled through the same holes, or dropped side by side down one stud to the panel are a
bundle once they go on so for more than 24 in. No figure for a spacing stands in the code: cables drawn on one line touch, and with an
inch from center to center there is air between them; what is drawn between the two is put as a question.

Does not judge: How much ampacity is left: `conductor-protection` and `bundled-in-insulation` count the bundle as drawn.
"""

from collections.abc import Iterator

from nailplate.plan import Cable, Segment
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of, names_of
from nailplate.survey.rough_in import DrawnBundle, drawn_bundles, runs_along
from nailplate.units import inches, shown

NAMED = 4
"""Cables of a bundle that a message names."""
DENIED = "none"


@rule(
    id="bundle-as-drawn",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.BUNDLES,),
    cites={
        "nec-2017": Cite(
            "310.15(B)(3)(a), 334.80",
            seen=(2017,),
            note="http://mikeholt.com/dailycodetipcalendar.php (a 2017 question on 334.80)",
        ),
        "nec-2020": Cite("310.15(C)(1), 334.80", seen=(2020,), note="a public reprint of the 2020 code text"),
        "nec-2023": Cite("310.15(C)(1), 334.80", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "310.15(C)(1), 334.80",
    },
    hazards=(Hazard.OVERHEATING, Hazard.BURIED),
)
def bundle_as_drawn(cable: Cable, job: Job) -> Iterator[Outcome]:
    """Each bundle is told once, at the first of its cables that denies it."""
    denying = [each for each in (cable.route if cable.knows("route") else ()) if each.knows("bundle") and each.bundle == DENIED]
    if not denying:
        yield NotConcerned()
        return
    unseen = [each.where(name) for each in denying for name in ("points", "heights") if not each.knows(name)]
    if unseen:
        yield Undetermined(
            tuple(unseen[:NAMED]), "Whether it lies with other cables cannot be seen where its course is not drawn."
        )
    told = list(_told(cable, job))
    yield from told
    if not told and not unseen:
        yield Pass(limit=job.measure("bundled_cables_apart"))


def _told(cable: Cable, job: Job) -> Iterator[Outcome]:
    literal = {_names(each) for each in drawn_bundles(job.survey, cable, strict=False)}
    for bundle in drawn_bundles(job.survey, cable):
        denied = _first_denial(cable, bundle, job)
        if denied is None or not _is_first(cable, bundle, job):
            continue
        others = [each for each in bundle.cables if each is not cable]
        yield _drawn_together(denied, others, bundle, job) if _names(bundle) in literal else _near(denied, others, bundle, job)


def _names(bundle: DrawnBundle) -> frozenset[str]:
    return frozenset(each.id for each in bundle.cables)


def _first_denial(cable: Cable, bundle: DrawnBundle, job: Job) -> Segment | None:
    """The first stretch of the cable inside the bundle that is said to be in none."""
    held = runs_along(job.survey, cable, bundle.start, bundle.end)
    return next((run.segment for run in held if run.segment.knows("bundle") and run.segment.bundle == DENIED), None)


def _is_first(cable: Cable, bundle: DrawnBundle, job: Job) -> bool:
    """Whether no earlier cable of the same bundle denies it too."""
    for other in bundle.cables:
        if other is cable:
            return True
        own = next((each for each in drawn_bundles(job.survey, other) if _names(each) == _names(bundle)), None)
        if own is not None and _first_denial(other, own, job) is not None:
            return False
    return True


# What is said


def _denied(denied: Segment, job: Job) -> str:
    return name_of(job.plan.cables[denied.pointer.members[1]])


def _facet(bundle: DrawnBundle) -> str:
    return "+".join(each.id for each in bundle.cables[: NAMED + 1])


def _drawn_together(denied: Segment, others: list[Cable], bundle: DrawnBundle, job: Job) -> Violation:
    apart = job.measure("bundled_cables_apart")
    return Violation(
        f"{_denied(denied, job)} is drawn on one line with {names_of(others, NAMED)} for {shown(inches(bundle.length))}, and its 'bundle' says "
        f"'none'; cables that lie together for more than {shown(apart)} are a bundle.",
        inches(bundle.length),
        apart,
        (
            Remedy("Draw the cables an inch or more apart, in holes of their own."),
            Remedy("Name the bundle at each of its cables, and size the wire for it."),
        ),
        facet=_facet(bundle),
        at=denied.where("bundle"),
        related=tuple(each.pointer for each in others[: NAMED + 1]),
    )


def _near(denied: Segment, others: list[Cable], bundle: DrawnBundle, job: Job) -> Judgement:
    return Judgement(
        f"{_denied(denied, job)} is drawn less than an inch from {names_of(others, NAMED)} for {shown(inches(bundle.length))}, and its 'bundle' "
        "says 'none'.",
        (
            Reading("Spacing is maintained wherever cables do not touch.", "pass"),
            Reading("So little space lets no heat out, and the cables are a bundle.", "violation"),
        ),
        inches(bundle.length),
        job.measure("bundled_cables_apart"),
        (Remedy("Draw the cables an inch or more apart from center to center."),),
        facet=_facet(bundle),
        at=denied.where("bundle"),
        related=tuple(each.pointer for each in others[: NAMED + 1]),
    )
