"""A balcony, deck or porch at the house has a receptacle that one reaches from it.

Why: heaters, lights and grills are used there; without a receptacle cords run through doors and across steps.

Fix: put a receptacle on the house wall at the deck, not more than 6 ft 6 in above its floor, weather-resistant,
protected from ground faults and under a cover fit for the place.

Trap: no porch is too small to count; the allowance for those under 20 square feet was struck in 2011. A receptacle at the deck
serves the back of the house too only if one gets to it from grade.

Does not judge: its GFCI protection, listing and cover: `gfci-locations`, `weather-resistant` and `cover-wet` do. Receptacles at
the front and back of the house are judged by `outdoor-receptacles`. A receptacle a little beyond the edge, and a small landing
with steps, are left to the authority having jurisdiction.
"""

from nailplate.calc import geometry
from nailplate.plan import Pointer, Room, UnknownFact
from nailplate.plan.trade import RAISED_OUTDOOR
from nailplate.remedies.added_outdoors import place_at
from nailplate.remedies.new_devices import FOR_OUTDOORS, added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.deck_gaps import gap_to_house
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import Outside, entrances_to, is_outdoor, outside_near, outside_receptacles
from nailplate.survey.receptacles import receptacles_in
from nailplate.units import inches, reaches, shown, within

ATTACHED = 0.0
ARM = 24.0
"""Inches beyond a deck's edge within which one can reach from it (our own measure)."""
LANDING = 16 * 144.0
"""Square inches of a place with steps that may be no more than the landing of its door (our own measure)."""


@rule(
    id="deck-receptacle",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(E)(3)",
            seen=(2017, 2020),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=824; "
            "small porches: http://electricalcodeconnection.com/code-change-missed/",
        )
    },
    hazards=(Hazard.CORDS, Hazard.WATER, Hazard.TRIP),
    dwelling_only=True,
)
def deck_receptacle(room: Room, job: Job) -> Outcome:
    """210.52(E)(3), for one balcony, deck or porch."""
    if not RAISED_OUTDOOR.intersection(room.uses):
        return NotConcerned()
    unknown = _whether_meant(room, job)
    if unknown is None:
        return NotConcerned()
    found, needs = _at(room, job)
    sure = next((height for height, missing in found if not missing), None)
    if sure is not None:
        return Pass(inches(sure), job.measure("reach_over_grade"))
    if unknown or needs:
        return Undetermined(tuple(dict.fromkeys((*unknown, *needs))))
    found_short = _beside(room, job) or _missing(room, job)
    return _hardly_apart(found_short, room, job) if isinstance(found_short, Violation) else found_short


def _hardly_apart(short: Violation, room: Room, job: Job) -> Outcome:
    """Before decks were meant by their gap: one with a gap that is hardly any may be attached to the house."""
    gap = gap_to_house(job.survey, room)
    if job.holds("every_deck_by_its_gap") or within(gap, ATTACHED):
        return short
    return Judgement(
        message=f"{short.message} It is {shown(inches(gap))} off the house; whether that is attached to it, ask the authority having "
        "jurisdiction.",
        readings=(
            Reading("A gap for drainage or movement leaves the deck attached to the house.", "violation"),
            Reading("A deck on its own posts with a gap is not attached to the house.", "pass"),
        ),
        limit=short.limit,
        remedies=short.remedies,
    )


def _whether_meant(room: Room, job: Job) -> tuple[Pointer, ...] | None:
    """None if this edition does not mean it, else the facts left out of that."""
    gap = gap_to_house(job.survey, room)
    if not within(gap, job.inches("deck_gap")):
        return None
    if job.holds("every_deck_by_its_gap"):
        return ()
    doors, unknown = entrances_to(job.survey, room)
    if doors:
        return ()
    return unknown or None


def _at(room: Room, job: Job) -> tuple[list[tuple[float, tuple[Pointer, ...]]], tuple[Pointer, ...]]:
    """Heights of the receptacles there that count or may, each with what is left out; and what is left out altogether."""
    found: list[tuple[float, tuple[Pointer, ...]]] = []
    needs: list[Pointer] = []
    if not is_outdoor(room):
        inside = receptacles_in(job.survey, room)
        found += [(0.0, each.needs) for each in inside.found]
        needs += inside.unplaced
    for one in _outside(room, job, 0.0):
        if one.place is room and not _kept_from(one):
            if not one.standing.place.knows("height"):
                needs.append(one.standing.place.where("height"))
            elif within(one.standing.height, job.inches("reach_over_grade")):
                found.append((one.standing.height, one.needs))
    needs += [need for _, missing in found for need in missing]
    return found, (*needs, *outside_receptacles(job.survey).unplaced)


def _outside(room: Room, job: Job, off: float) -> list[Outside]:
    return outside_near(job.survey, geometry.grown(geometry.bounding_box(room.outline), off + _DRAWN_OFF))


_DRAWN_OFF = 12.0  # a deck's outline may lie off the wall by its gap and by what finishes make


def _kept_from(one: Outside) -> bool:
    return one.device.is_(readily_accessible=False)


def _beside(room: Room, job: Job) -> Outcome | None:
    """A receptacle just past the deck's edge, which one may reach over it."""
    unknown: UnknownFact | None = None
    for one in _outside(room, job, ARM):
        distance = geometry.distance_to_outline(one.standing.point, room.outline)
        if one.place is not room and within(distance, ARM) and not _kept_from(one) and not one.needs:
            try:
                if _in_reach(one, room, job):
                    return _contested(room, one, distance, job)
            except UnknownFact as missing:
                unknown = missing
    if unknown is not None:
        raise unknown
    return None


def _in_reach(one: Outside, room: Room, job: Job) -> bool:
    """Whether it is in reach over the deck's edge. Raises UnknownFact."""
    height = one.standing.height + (one.raised.floor_above_grade if one.raised else 0.0) - room.floor_above_grade
    return reaches(height, 0.0) and within(height, job.inches("reach_over_grade"))


def _contested(room: Room, one: Outside, distance: float, job: Job) -> Judgement:
    return Judgement(
        message=f"No receptacle is at {name_of(room)}; {name_of(one.device)} is {shown(inches(distance))} beyond its edge. "
        "Whether it can be reached from there, ask the authority having jurisdiction.",
        readings=(
            Reading("What one can reach over the edge is accessible from the deck.", "pass"),
            Reading("Accessible from the deck is what one reaches standing at it, past no guard and no edge.", "violation"),
        ),
        measured=inches(distance),
        remedies=(_remedy(room, job),),
        related=(one.device.pointer,),
    )


def _missing(room: Room, job: Job) -> Outcome:
    limit = job.measure("reach_over_grade")
    beside = [one for one in _outside(room, job, 0.0) if one.place is room]
    message = (
        f"{name_of(room)} has no receptacle that one reaches from it; one not more than {shown(limit)} above its floor is required."
        + "".join(f" Receptacle {name_of(one.device)} does not count: {_why_not(one)}." for one in beside[:_NAMED])
    )
    related = tuple(one.device.pointer for one in beside[:_NAMED])
    if within(geometry.area(room.outline), LANDING) and room.is_(steps_to_grade=True):
        readings = (
            Reading("A porch is a porch whatever its size.", "violation"),
            Reading("A landing with steps at a door is part of the way in and no porch or deck.", "pass"),
        )
        words = (
            f"{message} It is small enough to be no more than the landing of its door; ask the authority having jurisdiction."
        )
        return Judgement(words, readings, limit=limit, remedies=(_remedy(room, job),), related=related)
    return Violation(message, limit=limit, remedies=(_remedy(room, job),), related=related)


def _why_not(one: Outside) -> str:
    if _kept_from(one) or not one.standing.place.knows("height"):
        return "it is not readily accessible"
    return f"it is {shown(inches(one.standing.height))} above the floor"


_NAMED = 2


def _remedy(room: Room, job: Job) -> Remedy:
    place = place_at(job.survey, room)
    words = "weather-resistant, protected from ground faults and under an in-use cover"
    if place is None:
        return Remedy(f"Put a receptacle within reach from {name_of(room)}, {words}.")
    where = f"{shown(inches(place.along))} along wall {name_of(place.wall)}, {shown(inches(place.height))} above its floor"
    new = {f"receptacle-{room.id[:40]}": {**new_receptacle(place), **FOR_OUTDOORS}}
    return Remedy(f"Put a receptacle at {where}, {words}.", added_devices(job.plan, new))
