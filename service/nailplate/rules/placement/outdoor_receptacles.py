"""A dwelling has a receptacle outdoors at its front and one at its back, within reach from grade.

Why: hedge trimmers, heaters and lights are used all around a house; where there is no receptacle outdoors, a cord is pinched
in a door or window.

Fix: put a receptacle on the face that has none, not more than 6 ft 6 in above grade, weather-resistant, protected from
ground faults and under a cover that closes on a plug.

Trap: a receptacle on the side of the house is neither front nor back. One on a porch or deck serves as the front or back one
only if one gets to it from grade and it is not more than 6 ft 6 in above grade. A dwelling in a building of many has one
outdoors, if it is at grade with an entrance of its own.

Does not judge: its GFCI protection, listing and cover: `gfci-locations`, `weather-resistant` and `cover-wet` do. Balconies,
decks and porches are judged by `deck-receptacle`. Which face is the front is taken as the plan states it, and dwellings above
grade in a building of several are left out.
"""

from collections.abc import Callable

from nailplate.plan import Plan, Pointer, Stage, UnknownFact, due
from nailplate.plan.words import BuildingKind, Face, Provision
from nailplate.remedies.added_outdoors import place_on_face
from nailplate.remedies.new_devices import FOR_OUTDOORS, added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import (
    Outside,
    height_over_grade,
    is_outdoor,
    outer_walls,
    outside_receptacles,
    reached_from_grade,
    too_high_over_grade,
    walls_of_face,
)
from nailplate.units import inches, shown, within

_UNITS = (BuildingKind.TWO_FAMILY, BuildingKind.MULTIFAMILY)


@rule(
    id="outdoor-receptacles",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={"nec-2017": Cite("210.52(E)(1), (2)", note="https://www.howtowireahouse.com/outside-codes/")},
    hazards=(Hazard.CORDS, Hazard.WATER, Hazard.TRIP),
    dwelling_only=True,
)
def outdoor_receptacles(plan: Plan, job: Job) -> Outcome | list[Outcome]:
    """210.52(E)(1) and (2), one outcome for each face of the house."""
    if plan.basis.is_(at_grade=False):
        return NotConcerned()
    if not (job.survey.once(outer_walls) or any(is_outdoor(room) for room in plan.rooms.values())):
        whole = plan.basis.knows("provisions") and set(Provision) <= set(plan.basis.provisions)
        return Undetermined((plan.where("walls"),), "No exterior wall is drawn.") if whole else NotConcerned()
    if plan.basis.is_(building=BuildingKind.MULTIFAMILY):
        return _at_any_face(plan, job)
    return [_at_face(face, plan, job) for face in (Face.FRONT, Face.BACK)]


def _at_face(face: Face, plan: Plan, job: Job) -> Outcome:
    answered = _answered(face, job)
    if answered is not None:
        return answered
    yards = any(room.is_(face=face) for room in plan.rooms.values())
    if not (yards or walls_of_face(job.survey, face)):
        return _no_such_face(face, plan, job)
    return _asked_of_a_unit(plan, face.value) or _missing(face, job)


def _at_any_face(plan: Plan, job: Job) -> Outcome:
    words = "No receptacle outdoors can be reached from grade; a dwelling at grade with an entrance of its own has one."
    remedy = Remedy("Put a receptacle outdoors, near the dwelling's entrance and within reach from grade.")
    missing = Violation(words, limit=job.measure("reach_over_grade"), remedies=(remedy,), at=plan.where("devices"))
    return _answered(None, job) or _asked_of_a_unit(plan, "") or missing


def _answered(face: Face | None, job: Job) -> Outcome | None:
    """Pass, or what is left out; None where surely none counts."""
    found = outside_receptacles(job.survey)
    asked = [(one, needs) for one in found.found if (needs := left_out_of(one, face, job)) is not None]
    facet = face.value if face else ""
    sure = next((one for one, needs in asked if not needs), None)
    if sure is not None:
        return Pass(inches(height_over_grade(sure)), job.measure("reach_over_grade"), facet=facet)
    unknown = min((needs for _, needs in asked), key=_trouble, default=found.unplaced)
    return Undetermined(unknown, facet=facet) if unknown else None


def _trouble(needs: tuple[Pointer, ...]) -> tuple[int, int]:
    """One receptacle is enough: asked is of the one whose facts come with the circuits, or of which the fewest are left out."""
    return sum(due(need) is Stage.LAYOUT for need in needs), len(needs)


def left_out_of(one: Outside, face: Face | None, job: Job) -> tuple[Pointer, ...] | None:
    """The facts left out without which it is not known to be the one at that face; None if it surely is not."""
    questions: tuple[Callable[[], bool], ...] = (
        lambda: face is None or one.face is face,
        lambda: not too_high_over_grade(job.survey, one),
        lambda: within(height_over_grade(one), job.inches("reach_over_grade")),
        lambda: reached_from_grade(one),
    )
    needs = list(one.needs)
    for question in questions:
        try:
            if not question():
                return None
        except UnknownFact as unknown:
            needs.append(unknown.pointer)
    return tuple(needs)


def _no_such_face(face: Face, plan: Plan, job: Job) -> Outcome:
    walls = job.survey.once(outer_walls)
    unknown = tuple(wall.where("face") for wall in walls if not wall.knows("face")) or tuple(
        wall.where("face") for wall in walls
    )
    words = f"The plan does not say which exterior wall is the {face} of the house."
    return Undetermined(unknown[:20] or (plan.where("walls"),), words, facet=face.value)


def _asked_of_a_unit(plan: Plan, facet: str) -> Outcome | None:
    """Of several dwellings in a building only those at grade are meant."""
    several = plan.basis.is_among(building=_UNITS)
    if several and not plan.basis.knows("at_grade"):
        return Undetermined((plan.basis.where("at_grade"),), facet=facet)
    return None


def _missing(face: Face, job: Job) -> Violation:
    there = [one for one in outside_receptacles(job.survey).found if _stands_at(one, face)]
    high = [(height, one) for one in there if not within(height := _height(one), job.inches("reach_over_grade"))]
    return Violation(
        message=f"At the {face} of the house no receptacle outdoors can be reached from grade{_why_not(there, high)}; one not more "
        f"than {shown(job.measure('reach_over_grade'))} above grade is required at the front and one at the back.",
        measured=inches(min(height for height, _ in high)) if high else None,
        limit=job.measure("reach_over_grade"),
        remedies=(_remedy(face, job),),
        facet=face.value,
        at=job.plan.where("devices"),
        related=tuple(one.device.pointer for one in there),
    )


def _stands_at(one: Outside, face: Face) -> bool:
    try:
        return one.face is face
    except UnknownFact:  # unknown: the face is asked for before; here only the message is made
        return False


def _height(one: Outside) -> float:
    try:
        return height_over_grade(one)
    except UnknownFact:  # unknown: the height is asked for before; here only the message is made
        return 0.0


def _why_not(there: list[Outside], high: list[tuple[float, Outside]]) -> str:
    if high:
        height, one = min(high, key=lambda each: each[0])
        return f": {name_of(one.device)} is {shown(inches(height))} above grade"
    return f": {name_of(there[0].device)} is not reached without climbing or moving something" if there else ""


def _remedy(face: Face, job: Job) -> Remedy:
    place = place_on_face(job.survey, face)
    words = "weather-resistant, protected from ground faults and under an in-use cover"
    if place is None:
        return Remedy(f"Put a receptacle on the {face} of the house, within reach from grade, {words}.")
    where = f"{shown(inches(place.along))} along wall {name_of(place.wall)}, {shown(inches(place.height))} above grade"
    new = {f"receptacle-out-{face}": {**new_receptacle(place), **FOR_OUTDOORS}}
    return Remedy(f"Put a receptacle at {where}, {words}.", added_devices(job.plan, new))
