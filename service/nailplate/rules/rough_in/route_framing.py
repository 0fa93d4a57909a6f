"""A cable's route and the framing of its wall say the same of the studs.

Why: holes and distances are judged by the member; where the route says 2x6 and the wall 2x4, one of them is wrong, and so is the hole.

Fix: state the framing once, in the wall, and leave it out of the route; state what a header, blocking or furring strip is.

Trap: an edge distance that does not follow from hole and member is such a difference too. Until it is settled the weaker member and
the smaller distance count.

Does not judge: which of two statements is right: until one is corrected the weaker member counts. Strength is judged by
`bore-strength` and `notch-strength`, distance by `bored-hole-edge`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, remove, rule
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, disagreements, framing_of, misstated_edge
from nailplate.units import inches, shown


@rule(
    id="route-framing",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4; the drawing contradicts itself", note="a fault of the drawing; no section speaks of it"),
        "nec-2026": Cite("300.6; the drawing contradicts itself", note="a fault of the drawing; no section speaks of it"),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.WEAKENED_FRAME),
)
def route_framing(cable: Cable, job: Job) -> Iterator[Outcome]:
    """What each run says of the framing against what its wall says, and against its own hole."""
    return each_run(cable, job, _judge)


def _judge(run: Run, _: Job) -> Outcome:
    for each in disagreements(run):
        return Violation(
            message=f"{run_words(run)}: the route says that the framing is {each.on_route}, the wall that it is {each.in_wall}.",
            remedies=(Remedy("Leave it to the wall, if the wall is right.", (remove(each.route),)),),
            related=(each.wall,),
        )
    edge = misstated_edge(run)
    if edge is not None:
        stated = run.segment.edge_distance
        return Violation(
            message=f"{run_words(run)}: hole and member leave {shown(inches(max(0.0, edge)))} to the edge, the route says {shown(inches(stated))}.",
            measured=inches(stated),
            limit=inches(edge),
            remedies=(Remedy("Leave the distance out, if the hole is right.", (remove(run.segment.where("edge_distance")),)),),
        )
    return Pass() if framing_of(run) is not None or run.segment.knows("hole") else NotConcerned()
