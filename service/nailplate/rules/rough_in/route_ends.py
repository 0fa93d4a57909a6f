"""A cable's route starts at one of its ends, goes on without a gap, and stops at the other.

Why: a route that misses its box is another cable than the one that will be pulled. Lengths, holes and what lies beside it are all
worked out along it, and a cable that truly ended there would end outside a box.

Fix: draw the route on to the box, or name the box that it really ends at.

Trap: boxes on the outside of a wall have heights over grade or deck, routes over the floor of their level. A route may be drawn from
either end, and may stop anywhere on the face of its box or panel. Where equipment has its own wiring space it may be entered up to 2 ft
from its place.

Does not judge: whether the route can be built: framing and openings are judged by `route-framing` and `route-crosses-opening`.
A cable without a route is not asked about here; its length is judged by `cable-length`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, at_place
from nailplate.rules.rough_in.drawn_ends import WALL, DrawnEnd, Jump, drawn_ends, jumps
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within


@rule(
    id="route-ends",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.CABLE_ROUTES,),
    cites={
        "nec-2017": Cite(
            "300.15, 300.12",
            note="a box at each end of a cable, and cable continuous between boxes; numbers from memory",
        )
    },
    hazards=(Hazard.BURIED, Hazard.FIRE),
)
def route_ends(cable: Cable, job: Job) -> Iterator[Outcome]:
    """One finding for each end that the route misses, and one for each gap in it."""
    if not cable.knows("route") or not cable.route:
        yield NotConcerned()
        return
    found = [*at_place("at_ends", None, _at_ends, cable, job), *at_place("on_the_way", None, _on_the_way, cable, job)]
    yield from found or (Pass(),)


def _at_ends(cable: Cable, job: Job) -> Iterator[Outcome]:
    for place, end in enumerate(drawn_ends(job.survey, cable)):
        if not within(end.gap, end.allowed):
            yield _missed(cable, end, place)


def _on_the_way(cable: Cable, job: Job) -> Iterator[Outcome]:
    for jump in jumps(job.survey, cable):
        yield _broken(cable, jump)


def _missed(cable: Cable, end: DrawnEnd, place: int) -> Violation:
    which = ("first", "second")[place]
    return Violation(
        f"The route of {name_of(cable)} stops {shown(inches(end.gap))} from its {which} end, {name_of(end.part)}.",
        inches(end.gap),
        inches(end.allowed),
        (Remedy(f"Draw the route on to {name_of(end.part)}, or name the part where it really ends."),),
        facet=which,
        related=(end.part.pointer,),
    )


def _broken(cable: Cable, jump: Jump) -> Violation:
    return Violation(
        f"The route of {name_of(cable)} is broken: this run begins {shown(inches(jump.gap))} from where the one before it ends.",
        inches(jump.gap),
        inches(WALL),
        (Remedy("Draw the run that is missing between the two."),),
        facet=f"run {jump.at.members[3]}",
        at=jump.at,
    )
