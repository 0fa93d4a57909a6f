"""A foyer of more than 60 square feet has a receptacle in each wall space of 3 ft or more.

Why: a large entrance is furnished and cleaned like a room; without receptacles its lamps hang on cords across doorways.

Fix: add a receptacle in each wall space of 3 ft or more that has none.

Trap: exactly 60 ft² is exempt. Glass beside the door that comes down to the floor breaks a wall space here, though fixed glass
does not in a living room. The code does not say where a foyer ends and a hallway begins.

Does not judge: where a foyer ends and a hallway begins: beside a hallway both readings are given. Foyers that are part of a
room for living are judged by `wall-space`, and hallways by `hall-receptacle`.
"""

from dataclasses import replace

from nailplate.calc import geometry
from nailplate.codes.tables import RunLimits
from nailplate.plan import Room
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import Use
from nailplate.remedies.added_receptacles import USUAL_HEIGHT, fewest
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.foyers import beside_hall, foyer_walls
from nailplate.rules.placement.wall_outcomes import tops_break_in
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import Judged, passed_over_along, pointers, told
from nailplate.units import Inches, Measure, Unit, inches, shown, within

_SQUARE_FOOT = 144.0
ANYWHERE = Inches(12_000.0)
"""One serves the whole of its wall space, however long that is."""


@rule(
    id="foyer-receptacles",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.WALL_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(I)", note="https://forums.mikeholt.com/goto/post?id=1930867 ; https://forums.mikeholt.com/threads/2574848"
        ),
    },
    needs=("outline",),
    hazards=(Hazard.CORDS, Hazard.TRIP),
    dwelling_only=True,
)
def foyer_receptacles(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(I), one outcome for each wall space; contested where the foyer may be part of a hallway."""
    if Use.FOYER not in room.uses or HABITABLE.intersection(room.uses):
        return NotConcerned()
    size = Measure(geometry.area(room.outline) / _SQUARE_FOOT, Unit.SQUARE_FOOT)
    small = job.square_inches("foyer_area") / _SQUARE_FOOT
    if within(size.value, small):
        return Pass(size, Measure(small, Unit.SQUARE_FOOT))
    found = foyer_walls(job.survey, room, tops_break_in(job), _limits(job))
    if found.needs:
        return Undetermined(found.needs)
    contested = beside_hall(job.survey, room)
    answers = [_judgement(room, each, job) if contested else _violation(room, each, job) for each in found.short]
    return [
        *answers,
        *(Pass(inches(each.space.length), job.measure("foyer_wall_width"), facet=_facet(each)) for each in found.served),
    ] or Pass()


def _limits(job: Job) -> RunLimits:
    return replace(job.edition.spacing.wall, reach=ANYWHERE, minimum=job.inches("foyer_wall_width"))


def _violation(room: Room, judged: Judged, job: Job) -> Violation:
    return Violation(
        message=_message(room, judged, job),
        measured=inches(judged.space.length),
        limit=job.measure("foyer_wall_width"),
        remedies=(_remedy(judged, job),),
        facet=_facet(judged),
        related=(
            *dict.fromkeys(each.wall.pointer for each in judged.space.stretches if each.wall),
            *pointers(passed_over_along(job.survey, room, judged.space)),
        ),
    )


def _judgement(room: Room, judged: Judged, job: Job) -> Judgement:
    return Judgement(
        message=f"{_message(room, judged, job)} It may be part of a hallway; ask the authority having jurisdiction.",
        readings=(
            Reading("The entrance is a foyer of its own, and each of its wall spaces needs a receptacle.", "violation"),
            Reading("The entrance is part of a hallway, and one receptacle for the whole hallway is enough.", "pass"),
        ),
        measured=inches(judged.space.length),
        limit=job.measure("foyer_wall_width"),
        remedies=(_remedy(judged, job),),
        facet=_facet(judged),
    )


def _message(room: Room, judged: Judged, job: Job) -> str:
    length, wide = shown(inches(judged.space.length)), shown(job.measure("foyer_wall_width"))
    first, last = judged.space.place(0.0), judged.space.place(judged.space.length)
    where = " to ".join(
        f"{shown(inches(stretch.along_wall(along)))} along wall {name_of(stretch.wall)}"
        for stretch, along in (first, last)
        if stretch.wall
    )
    beside = told(passed_over_along(job.survey, room, judged.space))
    return f"In {name_of(room)} the wall space from {where}, {length} long, has no receptacle; one of {wide} or more needs one.{beside}"


def _facet(judged: Judged) -> str:
    first = judged.space.stretches[0]
    wall = first.wall.id if first.wall else f"edge {first.edge}"
    return f"{wall} {first.side}@{round(first.along_wall(first.start))}"


def _remedy(judged: Judged, job: Job) -> Remedy:
    places = fewest(job.survey, judged, _limits(job), USUAL_HEIGHT)
    if not places:
        return Remedy("Add a receptacle in this wall space, or a listed floor receptacle within 18 in of it.")
    (place,) = places
    new = {f"foyer-{place.wall.id[:36]}-{place.side[0]}{round(place.along)}": new_receptacle(place)}
    return Remedy(
        f"Add a receptacle {shown(inches(place.along))} along wall {name_of(place.wall)}.", added_devices(job.plan, new)
    )
