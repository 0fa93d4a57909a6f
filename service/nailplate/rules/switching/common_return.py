"""All conductors of a circuit run together, so that every current comes back beside the conductor it went out by.

Why: where a hot runs in one cable and its neutral in another, their fields no longer cancel: metal around them heats, and a neutral
that serves two circuits can be opened while it carries the other's current.

Fix: bring the hot and the neutral of each outlet in the same cable; of a multiwire circuit, both hots and the neutral.

Trap: a light that takes its hot from one circuit's switch and its neutral from whatever is in the ceiling box; the second hot of a
multiwire circuit pulled later, in a cable of its own.

In a tree of cables this holds of itself.

Does not judge: Rings within one circuit, and cables with one conductor, are ``cable-matches-circuit``'s.
"""

from collections.abc import Iterator

from nailplate.plan import ROOT, Cable, Circuit, Control
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.wiring import Together, circuit_tree, closing_cables, control_parts, controls_on, wired_together


@rule(
    id="common-return",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.SWITCHING,),
    cites={
        "nec-2017": Cite(
            "300.3(B)",
            note="paraphrased in public at http://tonetastic.info/read/how-to-wire-way-switch-with-2-wire-electrical-wiring-"
            "existing-3-switch-in-basement-stairs-that-how-to-wire-a-light-diagram-93",
        )
    },
    hazards=(Hazard.LOST_NEUTRAL, Hazard.SHOCK, Hazard.OVERHEATING),
)
def common_return(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """In a tree of cables every current returns by the cable that it left by; two circuits sharing a neutral can break that."""
    together = wired_together(job.survey, circuit)
    found = [_borrowed(each, job) for each in controls_on(job.survey, together) if _first_of(each, job) is circuit]
    if circuit is together.circuits[0]:
        found += [_apart(cable, together) for cable in _closing(together, job)]
    yield from found
    if found:
        return
    if circuit is not together.circuits[0] or not _serves_anything(circuit, job) or _has_ring(together, job):
        yield NotConcerned()  # of a multiwire pair the first tells of the cables; of rings, cable-matches-circuit
    elif not together.cables:
        yield Undetermined((ROOT / "cables",), f"No cable is drawn for circuit {name_of(circuit)}.")
    else:
        yield Pass()


def _serves_anything(circuit: Circuit, job: Job) -> bool:
    return bool(job.survey.devices_on_circuit.get(circuit.id) or job.survey.cables_on_circuit.get(circuit.id))


# Multiwire pairs


def _has_ring(together: Together, job: Job) -> bool:
    return any(circuit_tree(job.survey, each).loops for each in together.circuits)


def _closing(together: Together, job: Job) -> tuple[Cable, ...]:
    """Cables by which two circuits that share a neutral make a ring, each of them being a tree by itself."""
    if len(together.circuits) == 1 or _has_ring(together, job):
        return ()
    return closing_cables(job.survey, together)


def _apart(cable: Cable, together: Together) -> Violation:
    one, other = (name_of(each) for each in together.circuits)
    return Violation(
        f"Circuits {one} and {other} share a neutral, and {name_of(cable)} closes a ring between them: a hot can run in one cable "
        "and the neutral that it comes back by in another.",
        remedies=(Remedy("Bring both hots and their neutral in one cable, and leave this one out."),),
        facet=cable.id,
        at=cable.pointer,
    )


# Controls on two circuits


def _first_of(control: Control, job: Job) -> Circuit | None:
    """Where a control's members are on several circuits, the first of them tells of it."""
    parts = control_parts(job.survey, control)
    return parts.circuits[0] if parts.on_several else None


def _borrowed(control: Control, job: Job) -> Violation:
    circuits = " and ".join(name_of(each) for each in control_parts(job.survey, control).circuits)
    return Violation(
        f"{name_of(control)}: its switches and outlets are on circuits {circuits}; an outlet would take its hot from one circuit "
        "and its neutral from another.",
        remedies=(Remedy("Put the switches and what they control on one circuit, with cables that bring it to all of them."),),
        facet=control.id,
        at=control.pointer,
    )
