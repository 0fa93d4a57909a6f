"""At least 6 in of free conductor is left in each box, 3 in of it outside a small opening.

Why: short wires cannot be spliced or put on a device properly, and a splice that is forced works loose behind the device.

Fix: leave 8 in to 10 in of cable out of every box (common practice); pull a new piece where a wire was cut too short.

Trap: the 6 in begin where the conductor leaves its sheath, not at the clamp. Before 2023 some inspectors did not count a pigtail. A
conductor that passes through the box unbroken is exempt.

Does not judge: conductors that pass through a box unbroken, boxes without cables, and the length in panels. How long a wire is
left has to be stated; no drawing shows it.
"""

from collections.abc import Iterator

from nailplate.plan import Box
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import once_told
from nailplate.survey.boxes import inside
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown, written


@rule(
    id="free-conductor",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.FREE_CONDUCTORS,),
    cites={
        "nec-2017": Cite(
            "300.14",
            seen=(2023,),
            note="ecmweb.com/national-electrical-code/qa/article/21255990/code-qa-free-conductor-length-requirements",
        )
    },
    hazards=(Hazard.ARCING, Hazard.OVERHEATING),
    changes={"nec-2023": "The 6 in may be spliced or unspliced."},
)
def free_conductor(box: Box, job: Job) -> Iterator[Outcome]:
    """300.14: the shortest free conductor of each box in which cables end."""
    return once_told(box, job, _judge)


def _judge(box: Box, job: Job) -> Iterator[Outcome]:
    if not inside(job.survey, box).cables:
        yield NotConcerned()
    elif not reaches(box.free_conductor, job.inches("free_conductor_length")):
        yield _short(
            box, "free_conductor", box.free_conductor, job.inches("free_conductor_length"), "from where it leaves its sheath"
        )
    elif not reaches(box.beyond_opening, job.inches("conductor_out_of_opening")):
        yield _short(
            box, "beyond_opening", box.beyond_opening, job.inches("conductor_out_of_opening"), "out of the box's opening"
        )
    else:
        yield Pass(inches(box.free_conductor), job.measure("free_conductor_length"))


def _short(box: Box, name: str, found: float, limit: float, where: str) -> Violation:
    return Violation(
        message=f"{name_of(box)}: the shortest conductor reaches {shown(inches(found))} {where}; {shown(inches(limit))} is required.",
        measured=inches(found),
        limit=inches(limit),
        remedies=(Remedy(f"Leave {shown(inches(limit))} or more.", (state(box, name, written(inches(limit))),)),),
    )
