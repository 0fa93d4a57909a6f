"""A box is at least as large as what it holds counts for.

Why: a crowded box traps heat, and folding the wires in can cut their insulation.

Put it right: use a deeper box, add an extension ring, or splice somewhere else.
"""

import math

from nailplate.calc.box_fill import CountedVolume, counted_volume, smallest_by_shape, trade_size_volume
from nailplate.codes import BoxShape, Edition
from nailplate.plan import ROOT, Box, Cable
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Line,
    NotConcerned,
    Outcome,
    Pass,
    Remedy,
    Severity,
    Undetermined,
    Violation,
    rule,
    state,
)
from nailplate.survey.contents import contents_of
from nailplate.survey.names import name_of
from nailplate.units import CubicInches, cubic_inches, reaches, shown, written

USUAL_VOLUMES = {1: (18.0, 20.0, 22.5), 2: (25.0, 32.0, 35.0), 3: (44.0, 54.0), 4: (60.0, 68.0, 75.0)}
"""Marked volumes that nonmetallic boxes usually come in, by gangs (common practice); the marked figure governs."""
GANGED = (BoxShape.DEVICE, BoxShape.MASONRY, BoxShape.CAST)
"""Metal boxes whose volume is that of one gang; a square or round box has its whole volume, whatever cover is on it."""


@rule(
    id="box-volume",
    over=Box,
    severity=Severity.CODE,
    cites={"nec-2017": Cite("314.16", seen=(2017, 2020, 2023), note="trade press and a public copy of the 2023 code text")},
    hazards=(Hazard.OVERHEATING, Hazard.PINCHED_INSULATION),
)
def box_volume(box: Box, job: Job) -> Outcome:
    """314.16: volume against contents, each counted by its own line; what is not said is taken at its least and at its most."""
    cables = _cables(box, job)
    if not cables:
        if job.survey.devices_in_box.get(box.id):
            return Undetermined((ROOT / "cables",), "No cable is drawn to this box, so what it holds is not known.")
        return NotConcerned()
    if any(cable.size not in job.edition.box_fill.per_conductor for cable in cables):
        return NotConcerned()  # 4 AWG and larger is 314.28's
    volume = _volume(box, job)
    found = contents_of(job.survey, box, job.edition)
    least, most = (counted_volume(each, job.edition.box_fill) for each in (found.least, found.most))
    if reaches(volume, most.total):
        return Pass(cubic_inches(volume), cubic_inches(most.total))
    if reaches(volume, least.total):
        return Undetermined(found.open, _open_words(box, volume, least, most))
    return _too_small(box, volume, least, most, job)


def _cables(box: Box, job: Job) -> list[Cable]:
    return [*job.survey.cables_at_box.get(box.id, []), *job.survey.cables_through_box.get(box.id, [])]


def _open_words(box: Box, volume: float, least: CountedVolume, most: CountedVolume) -> str:
    return (
        f"{name_of(box)}: the box has {shown(cubic_inches(volume))}; by what is not said, its contents count for "
        f"{shown(cubic_inches(least.total))} to {shown(cubic_inches(most.total))}."
    )


# The box's volume


def _volume(box: Box, job: Job) -> CubicInches:
    own = box.volume if box.knows("volume") or not box.knows("trade_size") else _standard(box, job)
    return CubicInches(own + _ring_volume(box, job.edition))


def _standard(box: Box, job: Job) -> CubicInches:
    one = trade_size_volume(box.trade_size, job.edition.box_volumes)
    return CubicInches(one * _gangs(box, job)) if _ganged(box, job.edition) else one


def _gangs(box: Box, job: Job) -> int:
    """The gangs of a box; one where it is not said and no more than one device is in it."""
    lone = len(job.survey.devices_in_box.get(box.id, [])) <= 1
    return 1 if lone and not box.knows("gangs") else box.gangs


def _ganged(box: Box, edition: Edition) -> bool:
    return any(box.trade_size in edition.box_volumes.volumes.get(shape, {}) for shape in GANGED)


def _ring_volume(box: Box, edition: Edition) -> CubicInches:
    if not box.knows("extension"):
        return CubicInches(0.0)
    ring = box.extension
    if ring.knows("trade_size") and not ring.knows("volume"):
        return trade_size_volume(ring.trade_size, edition.box_volumes)
    return ring.volume


# What to do about it


def _too_small(box: Box, volume: float, least: CountedVolume, most: CountedVolume, job: Job) -> Violation:
    return Violation(
        message=f"{name_of(box)}: the box has {shown(cubic_inches(volume))}; its contents count for {shown(cubic_inches(least.total))}.",
        measured=cubic_inches(volume),
        limit=cubic_inches(least.total),
        lines=tuple(
            Line(line.what, line.how_many, cubic_inches(line.each), cubic_inches(line.subtotal), line.section)
            for line in least.lines
        ),
        remedies=_remedies(box, most.total, job),
    )


def _remedies(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    """A larger box of the same sort; one that holds the most that the plan can mean."""
    wanted = CubicInches(counted - _ring_volume(box, job.edition))
    larger = _marked_larger(box, wanted) if box.knows("volume") else _standard_larger(box, wanted, job)
    return (*larger, *_otherwise(box, counted))


def _marked_larger(box: Box, wanted: CubicInches) -> tuple[Remedy, ...]:
    usual = USUAL_VOLUMES.get(box.gangs, ()) if box.knows("gangs") else sum(USUAL_VOLUMES.values(), ())
    bigger = cubic_inches(next((volume for volume in sorted(usual) if reaches(volume, wanted)), _rounded(wanted)))
    return (Remedy(f"Use a box marked {shown(bigger)} or more.", (state(box, "volume", written(bigger)),)),)


def _rounded(volume: CubicInches) -> float:
    """Up to a half cubic inch, so that the figure shown is never short of the one meant."""
    return math.ceil(volume * 2) / 2


def _standard_larger(box: Box, wanted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    volumes = job.edition.box_volumes
    one = CubicInches(wanted / _gangs(box, job)) if _ganged(box, job.edition) else wanted
    shape = next(shape for shape, boxes in volumes.volumes.items() if box.trade_size in boxes)
    size = smallest_by_shape(one, volumes).get(shape)
    return (Remedy(f"Use a {size} box.", (state(box, "trade_size", size),)),) if size else ()


def _otherwise(box: Box, counted: CubicInches) -> tuple[Remedy, ...]:
    ring = "a larger ring" if box.knows("extension") else "an extension ring"
    return (
        Remedy(
            f"Bring box and ring to at least {shown(cubic_inches(_rounded(counted)))} with {ring}, or splice somewhere else."
        ),
    )
