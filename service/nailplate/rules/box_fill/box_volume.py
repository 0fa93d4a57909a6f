"""A box is at least as large as what it holds counts for.

Why: a crowded box traps heat, and folding the wires in can cut their insulation.

Fix: use a deeper box, add an extension ring, or splice somewhere else.

Trap: many tables still count all grounding conductors as one; from 2020 each past the fourth adds a quarter. A smart switch, a
dimmer and a GFCI count no more than a plain switch but fill far more, so leave room beyond the count.

A cable whose number of conductors is not said counts for the fewest that what it serves can do with: that may show that a box is
too small, and never that it is large enough.

Does not judge: boxes with conductors of 4 AWG and larger, 314.28, and conduit bodies, 314.16(C).
"""

from nailplate.calc.box_fill import CountedVolume, counted_volume
from nailplate.plan import ROOT, Box
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Line, NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.box_fill.larger_box import larger_box
from nailplate.survey.boxes import Found, contents_of, inside, sizes_in, volume_of
from nailplate.survey.names import name_of
from nailplate.units import cubic_inches, reaches, shown


@rule(
    id="box-volume",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOX_FILL,),
    cites={"nec-2017": Cite("314.16", seen=(2017, 2020, 2023), note="trade press and a public copy of the 2023 code text")},
    hazards=(Hazard.OVERHEATING, Hazard.PINCHED_INSULATION),
    changes={
        "nec-2020": "Each grounding conductor past the fourth counts for a quarter more; before, all counted as one.",
        "nec-2023": "Each terminal block counts for one conductor of the largest size on it.",
    },
)
def box_volume(box: Box, job: Job) -> Outcome:
    """314.16: volume against contents, each counted by its own line; what is not said is taken at its least and at its most."""
    within = inside(job.survey, box)
    cables = within.every_cable
    if not cables:
        if within.devices and not job.survey.cables_at_box.get(box.id):
            return Undetermined((ROOT / "cables",), "No cable is drawn to this box, so what it holds is not known.")
        return NotConcerned()
    if not job.edition.box_fill.per_conductor.keys() >= set(sizes_in(within)):
        return NotConcerned()  # 4 AWG and larger is 314.28's
    volume = volume_of(job.survey, box, job.edition)
    found = contents_of(job.survey, box, job.edition)
    least = counted_volume(found.least, job.edition.box_fill)
    most = least if found.most == found.least else counted_volume(found.most, job.edition.box_fill)
    if not reaches(volume, least.total):
        return _too_small(box, volume, least, most, found, job)
    if found.unbounded or not reaches(volume, most.total):
        return Undetermined((*found.unbounded, *found.open), _open_words(box, volume, least, most, found), lines=_lines(least))
    return Pass(cubic_inches(volume), cubic_inches(most.total))


def _open_words(box: Box, volume: float, least: CountedVolume, most: CountedVolume, found: Found) -> str:
    if found.unbounded:
        counts = f"at least {shown(cubic_inches(least.total))}, and more if a cable has more conductors than it needs"
    else:
        counts = f"{shown(cubic_inches(least.total))} to {shown(cubic_inches(most.total))}"
    return f"{name_of(box)}: the box has {shown(cubic_inches(volume))}; by what is not said, its contents count for {counts}."


def _lines(counted: CountedVolume) -> tuple[Line, ...]:
    return tuple(
        Line(line.what, line.how_many, cubic_inches(line.each), cubic_inches(line.subtotal), line.section)
        for line in counted.lines
    )


# What to do about it


def _too_small(box: Box, volume: float, least: CountedVolume, most: CountedVolume, found: Found, job: Job) -> Violation:
    at_least = "at least " if found.unbounded or not reaches(least.total, most.total) else ""
    return Violation(
        message=(
            f"{name_of(box)}: the box has {shown(cubic_inches(volume))}; its contents count for {at_least}"
            f"{shown(cubic_inches(least.total))}."
        ),
        measured=cubic_inches(volume),
        limit=cubic_inches(least.total),
        lines=_lines(least),
        remedies=larger_box(box, most.total, job),
    )
