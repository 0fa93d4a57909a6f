"""In front of a panel is clear space to work in: 30 in wide, 36 in deep, 6 ft 6 in high, from the floor up.

Why: whoever opens a panel works near energized parts and must be able to step back from them and out of the place.

Fix: move the panel, or what stands in front of it; nothing is stored or built in that space, not even for a time.

Trap: a counter, a washer or a closet rod under or in front of the panel takes the space, however easily one reaches over it.
Kitchens and baths of small houses may be 6 ft 4 in high; a panel may not hang there. Loose furniture is not drawn in a plan
and must be kept out too. A room's door that swings through the space is not counted.

Does not judge: the lower headroom that an existing dwelling may keep (110.26(A)(3)). In vehicles and manufactured homes 110.26(A) is
not judged beside the articles of their own, and the way past open doors is not.
"""

from nailplate.plan import Panel, Pointer, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.working_places import Found, Size, measured_space, pieces_before, size_of, solid
from nailplate.survey.equipment import (
    DEEPEST_PANEL,
    Front,
    Piece,
    clear_depth,
    front_of,
    lowest_ceiling,
    pieces_in_front,
    undrawn_in,
)
from nailplate.survey.names import name_of
from nailplate.units import Measure, inches, reaches, shown

LOOKED_AT = 72.0


@rule(
    id="working-space",
    over=Panel,
    severity=Severity.DANGER,
    subjects=(Subject.PANEL_PLACES,),
    cites={
        "nec-2017": Cite(
            "110.26(A), (B)",
            seen=(2023,),
            note="IRC E3405: https://www.contractortalk.com/threads/subpanel-working-clearance.250081/?u=720; depths: "
            "https://kyawminthu20.github.io/Control-System-Tools/training/nec-application/working-space-table-navigation; "
            "open doors: https://forums.mikeholt.com/threads/2579804; vehicles (551.45(B)): "
            "https://codebookcity.com/codearticles/nec/necarticle551-1.htm; manufactured homes (550.11(A)), seen in the text of 2008: "
            "http://solar365.com/green-homes/national-electric-code-2008/; park trailers (552.45(B)) from memory",
        ),
        "nec-2026": Cite(
            "110.26(A), (B)",
            note="the way out: https://ieci.org/national-electrical-code-2026-changes-to-chapter-one/; the distances assumed unchanged",
        ),
    },
    needs=("at", "face"),
    hazards=(Hazard.NO_WAY_OUT, Hazard.SHOCK, Hazard.ARCING),
    changes={
        "nec-2026": "That way out is measured with the equipment's doors open at 90 degrees, even if they swing farther.",
    },
)
def working_space(panel: Panel, job: Job) -> Outcome | list[Outcome]:
    """110.26(A) and (B), for one panel: floor, headroom and way out."""
    front = front_of(job.survey, panel)
    if front.stands.room is None and not front.stands.outside:
        return Undetermined((job.plan.where("rooms"),), f"No room is drawn in front of {name_of(panel)}.")
    size = size_of(job, front)
    wide = max(size.width, 2 * front.half_width)
    way_out = _way_out(front, size, job) if job.holds("way_out_past_open_doors") and not size.of_vehicle else None
    found = (_floor(front, size, wide, job), _headroom(front, size, wide, job), way_out)
    return [each for each in found if each is not None]


# The floor


def _floor(front: Front, size: Size, wide: float, job: Job) -> Outcome:
    projection = float(front.panel.projection) if front.panel.knows("projection") else 0.0
    pieces = pieces_before(front, projection, size, wide, job)
    if not measured_space(solid(pieces), projection, size, front).fits(size, wide):
        return _too_small(measured_space(solid(pieces), projection, size, front), front, size, wide)
    unknown = _unknown(front, pieces, size, wide, job)
    if unknown:
        return Undetermined(unknown, facet="floor")
    found = measured_space(pieces, projection, size, front)
    return Pass(inches(found.depth), inches(size.depth), facet="floor") if found.fits(size, wide) else _contested(found, front)


def _unknown(front: Front, pieces: list[Piece], size: Size, wide: float, job: Job) -> tuple[Pointer, ...]:
    """What is left out that could still take the space."""
    needs = [need for each in pieces for need in each.obstacle.needs]
    if not front.panel.knows("projection"):
        farther = solid(pieces_before(front, DEEPEST_PANEL, size, wide, job))
        if not measured_space(farther, DEEPEST_PANEL, size, front).fits(size, wide):
            needs.append(front.panel.where("projection"))
    room = front.stands.room or front.place
    return tuple(dict.fromkeys((*needs, *(undrawn_in(job.survey, room.id) if room else ()))))


def _too_small(found: Found, front: Front, size: Size, wide: float) -> Violation:
    message, measured, limit = _words(found, front, size, wide)
    ends = tuple(dict.fromkeys(each.obstacle.pointer for each in found.ends))
    remedy = Remedy("Move the panel to a wall with clear floor before it, or clear the space permanently.")
    return Violation(message, measured, limit, remedies=(remedy,), facet="floor", related=ends)


def _words(found: Found, front: Front, size: Size, wide: float) -> tuple[str, Measure, Measure]:
    what = " and ".join(dict.fromkeys(each.obstacle.name for each in found.ends))
    if not found.depth:
        said = f"There is no space to work in front of {name_of(front.panel)}: {what} stands in it; {shown(inches(size.depth))} is required."
        return said, inches(0.0), inches(size.depth)
    if not reaches(found.depth, size.depth):
        measured, limit = inches(found.depth), inches(size.depth)
        said = (
            f"In front of {name_of(front.panel)} the space is {shown(measured)} deep, up to {what}; {shown(limit)} is required."
        )
        return said, measured, limit
    measured, limit = inches(found.right - found.left), inches(wide)
    said = f"In front of {name_of(front.panel)} the space is {shown(measured)} wide, beside {what}; {shown(limit)} is required."
    return said, measured, limit


def _contested(found: Found, front: Front) -> Judgement:
    end = next(each for each in found.ends if each.obstacle.contested)
    return Judgement(
        message=f"The working space in front of {name_of(front.panel)} is clear only if {end.obstacle.name} is not counted. Ask "
        "the authority having jurisdiction.",
        readings=(
            Reading("The space is clear as drawn, with everything closed and in its place.", "violation"),
            Reading(f"It is clear when it is worked in: {end.obstacle.contested}.", "pass"),
        ),
        facet="floor",
        related=(end.obstacle.pointer,),
    )


# Headroom


def _headroom(front: Front, size: Size, wide: float, job: Job) -> Outcome:
    needed = size.headroom
    projection = float(front.panel.projection) if front.panel.knows("projection") else 0.0
    pieces = solid(pieces_before(front, projection, size, wide, job))
    try:
        ceiling = lowest_ceiling(job.survey, front, *measured_space(pieces, projection, size, front).window(wide), size.depth)
    except UnknownFact as unknown:
        return Undetermined((unknown.pointer,), facet="headroom")
    if ceiling is None or reaches(ceiling, needed):
        return Pass(inches(ceiling) if ceiling is not None else None, inches(needed), facet="headroom")
    return Violation(
        message=f"Over the working space of {name_of(front.panel)} the ceiling comes down to {shown(inches(ceiling))}; "
        f"{shown(inches(needed))} is required.",
        measured=inches(ceiling),
        limit=inches(needed),
        remedies=(Remedy("Move the panel to where the ceiling is high enough."),),
        facet="headroom",
    )


# The way out


def _way_out(front: Front, size: Size, job: Job) -> Outcome | None:
    """A door as wide as the panel, open at a right angle, and what is beyond its edge; None where the floor is too shallow."""
    projection = float(front.panel.projection) if front.panel.knows("projection") else 0.0
    door = 2 * front.half_width
    least = job.inches("open_door_way_out")
    needed = door + least
    pieces = pieces_in_front(
        job.survey, front, projection, projection + LOOKED_AT, job.inches("working_space_headroom"), 2 * size.width
    )
    ahead = clear_depth(solid(pieces), front.half_width)
    if ahead is not None and not reaches(ahead[0] - projection, size.depth):
        return None
    left = max(0.0, ahead[0] - projection - door) if ahead else LOOKED_AT
    if ahead is None or reaches(ahead[0] - projection, needed):
        return Pass(inches(left), inches(least), facet="way out")
    return Judgement(
        message=f"With the cover of {name_of(front.panel)} open at a right angle, {shown(inches(left))} is left between its edge and "
        f"{ahead[1].obstacle.name}; {shown(inches(least))} is required if that is the way out. Ask the authority having "
        "jurisdiction.",
        readings=(
            Reading("The cover opens toward the way out, and one has to get past its edge.", "violation"),
            Reading("The cover is hinged away from the way out, opens flat, or is taken off.", "pass"),
        ),
        measured=inches(left),
        limit=inches(least),
        facet="way out",
        related=(ahead[1].obstacle.pointer,),
    )
