"""The blades of a ceiling fan turn 7 ft above the floor and 18 in from any wall.

Why: a raised arm, a child on a bed or somebody on a stair reaches lower blades; near a wall a fan moves no air and shakes.

Fix: hang the fan on a shorter rod or close to the ceiling, take a smaller fan, or move its box.

Trap: on a slope the way down is measured from where the fan is mounted, and the blades' tips come nearer the slope. Heights count from
the floor below the fan: a loft's floor, not the main floor.

Does not judge: how near the tips of the blades come to a sloped ceiling, to beams, cabinets, luminaires and doors, and over a
bed or bunk. What the fan's own instructions say comes first. The box that holds it is judged by `fan-box`.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Device, Wall
from nailplate.plan.words import DeviceKind, WallKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, at_place
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.survey.places import Standing
from nailplate.survey.space import wall_grid
from nailplate.units import inches, reaches, shown

BLADES = 84.0
"""7 ft (manufacturers' instructions; common practice)."""
FROM_WALL = 18.0
"""Inches from the tips of the blades (manufacturers' instructions; common practice)."""
LOW = frozenset({WallKind.HALF, WallKind.RAILING})


@rule(
    id="fan-clearance",
    over=Device,
    severity=Severity.ADVICE,
    subjects=(Subject.USUAL_PLACES,),
    cites={"nec-2017": Cite("110.3(B)", note="the distances are those of manufacturers' instructions: common practice")},
    hazards=(Hazard.MOVING_PARTS,),
)
def fan_clearance(fan: Device, job: Job) -> Iterator[Outcome]:
    """Makers' instructions, for one ceiling fan: its height and its distance from walls."""
    if fan.kind is not DeviceKind.FAN:
        yield NotConcerned()
        return
    stands = standing(job.survey, fan)
    yield from at_place("height", None, _height, fan, stands)
    yield from at_place("walls", None, _walls, fan, stands, job)


def _height(fan: Device, stands: Standing) -> Outcome:
    height, limit = inches(stands.height - fan.suspended_length), inches(BLADES)
    if reaches(height.value, BLADES):
        return Pass(height, limit)
    return Violation(
        message=f"The blades of {name_of(fan)} turn {shown(height)} above the floor; the manufacturer's instructions require {shown(limit)} (common practice).",
        measured=height,
        limit=limit,
        remedies=(Remedy("Mount it on a shorter rod or close to the ceiling, or leave the fan out."),),
    )


def _walls(fan: Device, stands: Standing, job: Job) -> Outcome:
    limit, tip = inches(FROM_WALL), fan.blade_span / 2
    near = min(_distances(stands, tip, job), key=lambda each: each[0], default=None)
    if near is None or reaches(near[0] - tip, FROM_WALL):
        return Pass(limit=limit)
    away = inches(max(0.0, near[0] - tip))
    return Violation(
        message=f"The blades of {name_of(fan)} come within {shown(away)} of wall {name_of(near[1])}; the manufacturer's instructions require {shown(limit)} "
        "(common practice).",
        measured=away,
        limit=limit,
        remedies=(Remedy("Move its box toward the middle of the room, or take a smaller fan."),),
        related=(near[1].pointer,),
    )


def _distances(stands: Standing, tip: float, job: Job) -> Iterator[tuple[float, Wall]]:
    """How far the faces of walls are that come up to the blades."""
    around = geometry.grown((*stands.point, *stands.point), tip + FROM_WALL)
    for wall in job.survey.once(wall_grid, stands.level).near(around):
        if wall.kind not in LOW:
            yield geometry.distance_to_segment(stands.point, (wall.start, wall.end)) - wall.thickness / 2, wall
