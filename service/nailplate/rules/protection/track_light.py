"""Lighting track hangs in a dry place, out of reach, and passes through no wall.

Why: the contacts of a track are open along its whole length; water, a blow or a curious hand reaches them.

Fix: mount it at least 5 ft above every floor that it passes over, in a dry place, and end it at a wall instead of going
through.

Trap: a track on the high ceiling of a living room may pass over a loft, where it hangs at hand height. The zone around tub and
shower, which bars track too, is judged with the other luminaires there.

Does not judge: What a plan does not show is not judged: physical damage, corrosive vapors, storage batteries, concealment.
"""

from collections.abc import Iterator

from nailplate.calc.geometry import Point, Segment, contains, meeting_place
from nailplate.plan import Device, Room
from nailplate.plan.trade import FULL_WALLS
from nailplate.plan.words import DeviceKind, Exposure, LuminaireMount
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, at_place
from nailplate.survey import Standing, standing
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import exposure_of
from nailplate.survey.space import wall_grid
from nailplate.units import inches, reaches, shown


@rule(
    id="track-light",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.CLOSETS_AND_TRACK,),
    cites={
        "nec-2017": Cite(
            "410.151(C)",
            note="http://www.lightingservicesinc.com/about-us/news-events/news/2005-nec-code (2005 text, then 410.101(C))",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
    changes={"nec-2017": "No change of this requirement in any of the four editions was found in print."},
)
def track_light(device: Device, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one lighting track."""
    if device.kind is not DeviceKind.TRACK:
        return NotConcerned()
    return _judged(device, job)


def _judged(device: Device, job: Job) -> Iterator[Outcome]:
    for facet, look in (("place", _place), ("height", _height), ("walls", _walls)):
        yield from at_place(facet, None, look, device, job)


def _place(device: Device, job: Job) -> Outcome:
    exposure = exposure_of(job.survey, device)
    if exposure is Exposure.DRY:
        return Pass()
    return Violation(
        f"Track {name_of(device)} is in a {exposure} place; track is for dry places only.",
        remedies=(Remedy(f"Use luminaires that are listed for {exposure} places instead of track."),),
    )


# Height


def _height(device: Device, job: Job) -> Outcome:
    if device.knows("voltage") and not reaches(device.voltage, job.volts("track_low_voltage")):
        return NotConcerned()
    where = standing(job.survey, device)
    height = where.height - _drop(device)
    if not reaches(height, job.inches("track_lowest")):
        return _too_low(device, job, height)
    loft = _loft_below(device, job, where, height)
    return _over_loft(device, job, *loft) if loft else Pass(inches(height), job.measure("track_lowest"))


def _drop(device: Device) -> float:
    """How far it hangs below the ceiling; nothing where it is mounted on the surface."""
    on_surface = device.is_(luminaire_mount=LuminaireMount.SURFACE)
    return 0.0 if on_surface and not device.knows("suspended_length") else device.suspended_length


def _too_low(device: Device, job: Job, height: float) -> Violation:
    least = job.measure("track_lowest")
    return Violation(
        f"Track {name_of(device)} hangs {shown(inches(height))} above the floor; {shown(least)} is the least.",
        inches(height),
        least,
        (Remedy(f"Mount it at least {shown(least)} above the floor, or use luminaires without open contacts."),),
    )


def _loft_below(device: Device, job: Job, where: Standing, height: float) -> tuple[Room, float] | None:
    """A room of a higher level that the track passes over so low that a hand reaches it, and how high it is there."""
    levels = job.plan.levels
    for level in levels.values():
        if level.id == where.level or not (level.knows("elevation") and levels[where.level].knows("elevation")):
            continue
        above = levels[where.level].elevation + height - level.elevation
        if above > 0 and not reaches(above, job.inches("track_lowest")):
            rooms = job.survey.rooms_on_level.get(level.id, [])
            room = next((each for each in rooms if each.knows("outline") and _passes_over(device, where, each)), None)
            if room:
                return room, above
    return None


def _passes_over(device: Device, where: Standing, room: Room) -> bool:
    edges = list(zip(room.outline, (*room.outline[1:], room.outline[0]), strict=True))
    return any(contains(room.outline, point) for point in _points(device, where)) or any(
        meeting_place(piece, edge) is not None for piece in _pieces(device) for edge in edges
    )


def _points(device: Device, where: Standing) -> tuple[Point, ...]:
    return device.track if device.knows("track") else (where.point,)


def _pieces(device: Device) -> list[Segment]:
    return list(zip(device.track, device.track[1:], strict=False)) if device.knows("track") else []


def _over_loft(device: Device, job: Job, room: Room, above: float) -> Judgement:
    least = job.measure("track_lowest")
    return Judgement(
        f"Track {name_of(device)} passes {shown(inches(above))} over the floor of {name_of(room)}; "
        f"{shown(least)} above the finished floor is the least.",
        readings=(
            Reading("Every finished floor that it passes over counts, the loft's too.", "violation"),
            Reading("Only the floor of the room that it lights counts.", "pass"),
        ),
        measured=inches(above),
        limit=least,
        remedies=(Remedy("End the track before the loft's edge, or raise it."),),
        related=(room.pointer,),
    )


# Walls


def _walls(device: Device, job: Job) -> Outcome:
    where = standing(job.survey, device)
    pieces = list(zip(device.track, device.track[1:], strict=False))
    grid = job.survey.once(wall_grid, where.level)
    for (ax, ay), (bx, by) in pieces:
        for wall in grid.near((min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))):
            if wall.kind in FULL_WALLS and meeting_place(((ax, ay), (bx, by)), (wall.start, wall.end)) is not None:
                return Violation(
                    f"Track {name_of(device)} runs through the wall {name_of(wall)}.",
                    remedies=(Remedy("End the track at the wall and feed another length on its other side."),),
                    related=(wall.pointer,),
                )
    return Pass()
