"""A wall switch is where the hand finds it on coming in, and not behind the door that stands open.

Why: a switch is looked for in the dark, by hand, beside the door on the side that opens; one behind the leaf is found after the
room has been crossed.

Fix: set the switch on the latch side of the door, or let the door swing the other way.

Trap: a door that is hung on its other side on the day of fitting leaves the switch, long since in the wall, behind it.

Does not judge: doors in other walls, sliding and folding doors, and cabinets or furniture in front of a switch. Heights are
judged by `handle-height` and `usual-heights`, a switch near the entrance by `light-habitable`.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Device, Opening, Wall
from nailplate.plan.trade import HAND_SWITCHES
from nailplate.plan.words import Hinge, OpeningKind, Side
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey import Standing, standing
from nailplate.survey.names import name_of
from nailplate.survey.space import rooms_beside
from nailplate.units import inches, reaches


@rule(
    id="switch-reach",
    over=Device,
    severity=Severity.ADVICE,
    subjects=(Subject.LIGHTS,),
    cites={"nec-2017": Cite("404.8(A)", note="the code requires ready access alone; the latch side is common practice")},
    hazards=(Hazard.DARKNESS,),
)
def switch_reach(device: Device, job: Job) -> Outcome | list[Outcome]:
    """Whether a door that stands open hides a switch. Heights are another rule's."""
    if device.kind not in HAND_SWITCHES or device.is_(in_cabinet=True):
        return NotConcerned()
    where = standing(job.survey, device)
    if where.wall is None:
        return NotConcerned()
    return list(_at_doors(device, job, where, where.wall)) or [Pass()]


def _at_doors(device: Device, job: Job, where: Standing, wall: Wall) -> Iterator[Outcome]:
    """One outcome for each door of its wall that could stand open over it."""
    along = geometry.project(where.point, (wall.start, wall.end)).along
    for door in job.survey.openings_in_wall.get(wall.id, []):
        edge, off = _nearer_edge(door, along)
        if door.kind is OpeningKind.DOOR and not reaches(off, door.width) and _opens_from_its_room(door, job, where):
            yield _judged(device, door, edge, where, off)


def _nearer_edge(door: Opening, along: float) -> tuple[Hinge, float]:
    """The edge of the door that the switch is at, and how far from it; over a door's width where it is in the opening."""
    if along < door.along:
        return Hinge.FROM, door.along - along
    return Hinge.TO, along - (door.along + door.width) if along > door.along + door.width else door.width


def _opens_from_its_room(door: Opening, job: Job, where: Standing) -> bool:
    """A wall that meets this one may part the switch from the room that the door belongs to."""
    left, right = rooms_beside(job.survey, door)
    return (left if where.side is Side.LEFT else right) is where.room


def _judged(device: Device, door: Opening, edge: Hinge, where: Standing, off: float) -> Outcome:
    facet = f"door {door.id}"
    if door.isnt(hinge=edge) or door.isnt(swing=where.side):
        return Pass(facet=facet)
    unknown = tuple(door.where(name) for name in ("hinge", "swing") if not door.knows(name))
    return Undetermined(unknown, facet=facet) if unknown else _hidden(device, door, edge, off, facet)


def _hidden(device: Device, door: Opening, edge: Hinge, off: float, facet: str) -> Violation:
    other = Hinge.TO if edge is Hinge.FROM else Hinge.FROM
    return Violation(
        f"{name_of(device)} is on the hinge side of {name_of(door)}, behind the door when it is open.",
        inches(off),
        inches(door.width),
        (
            Remedy("Put the switch on the latch side of the door."),
            Remedy("Hang the door on its other side.", (state(door, "hinge", other.value),)),
        ),
        facet=facet,
        related=(door.pointer,),
    )
