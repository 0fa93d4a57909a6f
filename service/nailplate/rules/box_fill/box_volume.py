"""A box is at least as large as what it holds counts for.

Why: a crowded box traps heat, and folding the wires in can cut their insulation.

Put it right: use a deeper box, add an extension ring, or splice somewhere else.
"""

from collections.abc import Sequence

from nailplate.calc.box_fill import CountedVolume, counted_volume, smallest_by_shape, trade_size_volume
from nailplate.codes import Edition
from nailplate.plan import ROOT, Box
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
from nailplate.units import CubicInches, cubic_inches, reaches, shown, written

USUAL_STEPS = (18.0, 20.0, 22.5, 34.0, 44.0, 54.0, 68.0)
"""Marked volumes that nonmetallic boxes usually come in (common practice); the marked figure governs."""


@rule(
    id="box-volume",
    over=Box,
    severity=Severity.CODE,
    cites={"nec-2017": Cite("314.16", seen=(2017, 2020, 2023), note="trade press and a public copy of the 2023 code text")},
    hazards=(Hazard.OVERHEATING, Hazard.PINCHED_INSULATION),
)
def box_volume(box: Box, job: Job) -> Outcome:
    """314.16: volume against contents, each counted by its own line."""
    survey = job.survey
    if not survey.cables_at_box.get(box.id) and not survey.cables_through_box.get(box.id):
        if survey.devices_in_box.get(box.id):
            return Undetermined((ROOT / "cables",), "No cable is drawn to this box, so what it holds is not known.")
        return NotConcerned()
    if any(size not in job.edition.box_fill.per_conductor for size in _sizes(box, job)):
        return NotConcerned()  # 4 AWG and larger is 314.28's
    volume = _volume(box, job.edition)
    found = contents_of(survey, box, job.edition)
    least, most = (counted_volume(each, job.edition.box_fill) for each in (found.least, found.most))
    if reaches(volume, most.total):
        return Pass(cubic_inches(volume), cubic_inches(most.total))
    if reaches(volume, least.total):
        return Undetermined(found.open)
    return _too_small(box, volume, least, most, job)


def _sizes(box: Box, job: Job) -> Sequence[str]:
    survey = job.survey
    return [cable.size for cable in (*survey.cables_at_box.get(box.id, []), *survey.cables_through_box.get(box.id, []))]


def _volume(box: Box, edition: Edition) -> CubicInches:
    own = box.volume if box.knows("volume") or not box.knows("trade_size") else _standard(box, edition)
    if not box.knows("extension"):
        return own
    ring = box.extension
    more = (
        ring.volume
        if ring.knows("volume") or not ring.knows("trade_size")
        else trade_size_volume(ring.trade_size, edition.box_volumes)
    )
    return CubicInches(own + more)


def _standard(box: Box, edition: Edition) -> CubicInches:
    gangs = box.gangs if box.knows("gangs") else 1
    return CubicInches(trade_size_volume(box.trade_size, edition.box_volumes) * gangs)


def _too_small(box: Box, volume: float, least: CountedVolume, most: CountedVolume, job: Job) -> Violation:
    return Violation(
        message=f"The box has {shown(cubic_inches(volume))}; its contents count for {shown(cubic_inches(least.total))}.",
        measured=cubic_inches(volume),
        limit=cubic_inches(least.total),
        lines=tuple(
            Line(line.what, line.how_many, cubic_inches(line.each), cubic_inches(line.subtotal), line.section)
            for line in least.lines
        ),
        remedies=_remedies(box, most.total, job),
    )


def _remedies(box: Box, wanted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    if box.knows("extension"):
        return (Remedy(f"Use a box and ring of at least {shown(cubic_inches(wanted))} together, or splice somewhere else."),)
    if box.knows("trade_size") and not box.knows("volume"):
        gangs = box.gangs if box.knows("gangs") else 1
        fitting = smallest_by_shape(CubicInches(wanted / gangs), job.edition.box_volumes)
        shape = box.trade_size.rpartition(" ")[2]
        size = next((size for size in fitting.values() if size.endswith(shape)), None)
        return (Remedy(f"Use a {size} box.", (state(box, "trade_size", size),)),) if size else _words(wanted)
    step = next((volume for volume in USUAL_STEPS if reaches(volume, wanted)), None)
    if step is None or not box.knows("volume"):
        return _words(wanted)
    bigger = cubic_inches(step)
    return (Remedy(f"Use a box marked {shown(bigger)} or more.", (state(box, "volume", written(bigger)),)),)


def _words(wanted: float) -> tuple[Remedy, ...]:
    return (Remedy(f"Use a box of at least {shown(cubic_inches(wanted))}, add an extension ring, or splice somewhere else."),)
