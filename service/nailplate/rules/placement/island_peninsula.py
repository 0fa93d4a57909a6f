"""An island or peninsula has the receptacles that its edition requires, or the provisions for a later one.

Why: a cord that hangs from an island's edge is pulled by children and caught by passers-by, and what it feeds comes down hot.

Fix: 2017 and 2020: add receptacles on or in the top, or below it as far as the edition allows. From 2023: leave a box with
a cable or a raceway for one where none is set.

Trap: a two-gang or duplex outlet is one outlet; what counts in 2020 is the area of the whole top, its overhang for seats included,
and not its length, and a peninsula is measured from the wall. From 2023 a receptacle in the cabinet's side does not serve the top.

Does not judge: the wall line of counters (`wall-counter`), what may be in or under a top (`counter-receptacle-place`), and GFCI
protection (`gfci-locations`). Whether a top is an island, a peninsula or a work surface is taken as the plan states it.
"""

from collections.abc import Sequence

from nailplate.calc import geometry
from nailplate.plan import Counter, Pointer
from nailplate.plan.trade import FOOD_ROOMS
from nailplate.plan.words import CounterKind
from nailplate.remedies.added_in_tops import spots_in_top
from nailplate.remedies.new_devices import added_devices
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.placement.later_receptacles import optional
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    Top,
    TopReceptacle,
    large_enough,
    lies_in,
    parts_of,
    passed_over_at_top,
    pointers,
    receptacles_in,
    required_by_area,
    serving_top,
    told,
    top_of,
    within_outer_end,
)
from nailplate.units import Measure, Unit, count, inches, shown, written

SQUARE_FOOT = 144.0


@rule(
    id="island-peninsula",
    over=Counter,
    severity=Severity.CODE,
    subjects=(Subject.COUNTER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(C)(2), (3), (4) and (5)",
            seen=(2017,),
            note="https://gardencourte.com/kitchen-outlet-code ; https://www.ecmag.com/section/your-business/article-210-branch-circuits",
        ),
        "nec-2020": Cite(
            "210.52(C)(2) and (3)",
            seen=(2020,),
            note="https://forums.mikeholt.com/threads/2539378 ; https://www.electricallicenserenewal.com/"
            "Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=823",
        ),
        "nec-2023": Cite("210.52(C)(2) and (3)", seen=(2023,), note="https://forums.mikeholt.com/threads/2580461"),
        "nec-2026": Cite(
            "210.52(C)(2) and (3)",
            seen=(2026,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1860",
        ),
    },
    hazards=(Hazard.CORDS, Hazard.TRIP),
    dwelling_only=True,
    limits=("receptacle_highest", "counter_behind_unit", "top_area_for_first", "top_area_for_further"),
    changes={
        "nec-2017": "One for each island or peninsula of 24 by 12 in or more; a peninsula is measured from the wall it is joined to.",
    },
)
def island_peninsula(counter: Counter, job: Job) -> Outcome | list[Outcome]:
    """210.52(C)(2) and what belongs to it, in the four editions."""
    room = job.plan.rooms[counter.room]
    if counter.kind not in (CounterKind.ISLAND, CounterKind.PENINSULA) or not FOOD_ROOMS.intersection(room.uses):
        return NotConcerned()
    if counter.is_(has_top=False):
        return NotConcerned()
    if job.holds("island_receptacle_optional"):
        return optional(counter, job)
    top = top_of(job.survey, counter)
    found = serving_top(job.survey, top, below_serves=True, only_flat=not job.holds("island_count_by_area"))
    return _by_area(top, found, job) if job.holds("island_count_by_area") else _one_each(top, found, job)


# From 2023


# 2020: by area


def _by_area(top: Top, found: Sequence[TopReceptacle], job: Job) -> Outcome:
    required, found = required_by_area(job.survey, top), _outlets(found)
    sure = [each for each in found if not each.needs]
    measured, limit = count(len(sure)), count(required)
    if len(sure) >= required and any(within_outer_end(job.survey, top, each) for each in sure):
        return Pass(measured, limit)
    open_facts = _open(top, found, job)
    perhaps = len(found) >= required and any(within_outer_end(job.survey, top, each) for each in found)
    if perhaps or _unplaced(top, job):
        return Undetermined(open_facts)
    beside = list(passed_over_at_top(job.survey, top, tuple(found)))
    size = shown(Measure(top.area / SQUARE_FOOT, Unit.SQUARE_FOOT))
    if len(sure) >= required:
        return Violation(
            message=f"{name_of(top.counter)} has no receptacle within {shown(job.measure('peninsula_outer_end'))} of its outer end.",
            measured=inches(min(_to_outer_end(top, each) for each in sure)),
            limit=job.measure("peninsula_outer_end"),
            remedies=(_remedy(top, spots_in_top(job.survey, top, sure, len(sure) + 1), job),),
        )
    return Violation(
        message=f"{name_of(top.counter)} has a top of {size} and {_receptacles(len(sure))} that serve{'' if len(sure) > 1 else 's'} "
        f"it; that size needs {required}.{told(beside)}",
        measured=measured,
        limit=limit,
        related=pointers(beside),
        remedies=(_remedy(top, spots_in_top(job.survey, top, sure, required), job),),
    )


def _outlets(found: Sequence[TopReceptacle]) -> list[TopReceptacle]:
    """One of each box: two duplex receptacles in one box, or a quad, are one outlet."""
    return list({each.device.box if each.device.knows("box") else each.device.id: each for each in reversed(found)}.values())[
        ::-1
    ]


def _to_outer_end(top: Top, each: TopReceptacle) -> float:
    return geometry.length_of(top.outer) - geometry.project(each.point, top.outer).along if top.outer else 0.0


def _receptacles(number: int) -> str:
    return {0: "no receptacle", 1: "one receptacle"}.get(number, f"{number} receptacles")


# 2017: one for each space


def _one_each(top: Top, found: Sequence[TopReceptacle], job: Job) -> Outcome | list[Outcome]:
    parts = [part for part in parts_of(job.survey, top) if large_enough(job.survey, top, part)]
    return [_one(top, part, number, found, job) for number, part in enumerate(parts)] or Pass(
        inches(top.extent.long), job.measure("top_space_long")
    )


def _one(top: Top, part: geometry.Interval, number: int, found: Sequence[TopReceptacle], job: Job) -> Outcome:
    here = [each for each in found if lies_in(top, part, each)]
    sure, facet = [each for each in here if not each.needs], f"space {number}" if number else ""
    if sure:
        return Pass(count(len(sure)), count(1), facet=facet)
    if here or _unplaced(top, job):
        return Undetermined(_open(top, here, job), facet=facet)
    beside = list(passed_over_at_top(job.survey, top, tuple(found)))
    long, short = shown(inches(part[1] - part[0])), shown(inches(top.extent.short))
    return Violation(
        message=f"{name_of(top.counter)} has a counter space of {long} by {short} without a receptacle that serves it; one of "
        f"{shown(job.measure('top_space_long'))} by {shown(job.measure('top_space_short'))} or more needs one.{told(beside)}",
        measured=count(0),
        limit=count(1),
        related=pointers(beside),
        remedies=(_remedy(top, spots_in_top(job.survey, top, (), 1, part), job),),
        facet=facet,
    )


def _unplaced(top: Top, job: Job) -> tuple[Pointer, ...]:
    return receptacles_in(job.survey, job.plan.rooms[top.counter.room]).unplaced


def _open(top: Top, found: Sequence[TopReceptacle], job: Job) -> tuple[Pointer, ...]:
    return tuple(dict.fromkeys((*(need for each in found for need in each.needs), *_unplaced(top, job))))


# Remedies


def _remedy(top: Top, spots: Sequence[geometry.Point], job: Job) -> Remedy:
    if not spots:
        return Remedy("Set a receptacle listed for countertops in the top, or one above it, clear of sink and burners.")
    new = {f"{top.counter.id[:40]}-top-{number + 1}": _assembly(top, spot) for number, spot in enumerate(spots)}
    words = f"Set {_receptacles(len(spots))} listed for countertops in the top, clear of its edge and of sink and burners."
    return Remedy(words, added_devices(job.plan, new))


def _assembly(top: Top, spot: geometry.Point) -> dict[str, object]:
    """A countertop assembly with ground-fault protection of its own, as a plan writes it."""
    place: dict[str, object] = {"room": top.counter.room, "point": [written(inches(value)) for value in spot]}
    if top.counter.knows("height"):
        place["height"] = written(inches(top.counter.height))
    return {
        "kind": "receptacle",
        "mount": "countertop",
        "listing": "countertop",
        "at": place,
        "rating": "20 A",
        "voltage": "125 V",
        "contacts": 2,
        "switched_half": "none",
        "tamper_resistant": True,
        "gfci": True,
    }
