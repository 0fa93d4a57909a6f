"""Circuits that meet on one yoke are opened together where they start.

Why: whoever changes the receptacle turns one breaker off, tests one half, and takes hold of the other, which is live.

Fix: feed both halves from a two-pole breaker, or join the two breakers' handles with an identified handle tie.

Trap: a receptacle with one half switched and one half always hot is usually on one circuit, and needs nothing of the kind. Two circuits
with separate neutrals on one yoke need the tie all the same; it is not a matter of multiwire circuits alone.

Does not judge: a yoke of which the plan names one circuit only, and whether the tab between the halves is taken out, which is
for a look on site. A neutral that two circuits share is judged by `multiwire-legs`, the breakers of a multiwire circuit by
`multiwire-disconnect`.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device, Pointer
from nailplate.plan.wiring import Multiwire, Tied
from nailplate.plan.words import Tie
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of


@rule(
    id="split-receptacle",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.RECEPTACLE_TYPES,),
    cites={
        "nec-2017": Cite(
            "210.7",
            note="https://www.mikeholt.com/mojonewsarchive/NEC-HTML/HTML/Article-210-Video-009~20031115.htm (an older edition); "
            "http://ecmweb.com/qampa/code-qa-disconnect-requirements-ungrounded-conductors (210.4(B))",
        )
    },
    hazards=(Hazard.SHOCK,),
    changes={"nec-2017": "No change of this requirement in any of the four editions was found in print."},
)
def split_receptacle(device: Device, job: Job) -> Outcome:
    """Judges one device that two circuits feed."""
    if not device.knows("second_circuit"):
        return NotConcerned()
    first, second = job.plan.circuits[device.circuit], job.plan.circuits[device.second_circuit]
    if first is second:
        return NotConcerned()
    if first.knows("panel") and second.knows("panel") and first.panel != second.panel:
        return _two_panels(device, first, second)
    ties = list(_ties(first, second))
    if any(tie.tie is not Tie.NONE for tie in ties if tie.knows("tie")):
        return Pass()
    open_facts = tuple(tie.where("tie") for tie in ties if not tie.knows("tie"))
    if not ties:  # where one circuit states its ties, to others, the other one's may name it
        open_facts = _unstated(first) or _unstated(second)
    if open_facts:
        said = f"{_meet(device, first, second)}; what opens both together, if anything, is not stated."
        return Undetermined(open_facts, said)
    return _apart(device, first, second, ties)


def _ties(first: Circuit, second: Circuit) -> Iterator[Multiwire | Tied]:
    """What each of the two circuits says of the other."""
    for circuit, other in ((first, second), (second, first)):
        if circuit.knows("multiwire") and circuit.multiwire.partner == other.id:
            yield circuit.multiwire
        if circuit.knows("tied") and circuit.tied.circuit == other.id:
            yield circuit.tied


def _unstated(circuit: Circuit) -> tuple[Pointer, ...]:
    return tuple(circuit.where(name) for name in ("tied", "multiwire") if not circuit.knows(name))


def _meet(device: Device, first: Circuit, second: Circuit) -> str:
    return f"Circuits {name_of(first)} and {name_of(second)} meet on the yoke of {name_of(device)}"


def _apart(device: Device, first: Circuit, second: Circuit, ties: list[Multiwire | Tied]) -> Violation:
    patch = tuple(state(tie, "tie", Tie.HANDLE_TIE.value) for tie in ties)
    return Violation(
        f"{_meet(device, first, second)}, and nothing opens both together at the panel.",
        remedies=(
            Remedy("Use a two-pole breaker, or breakers side by side with an identified handle tie.", patch),
            Remedy("Feed the whole device from one circuit."),
        ),
        related=(first.pointer, second.pointer),
    )


def _two_panels(device: Device, first: Circuit, second: Circuit) -> Violation:
    words = "Feed the whole device from one circuit, or both halves from one panel and breakers that disconnect simultaneously."
    return Violation(
        f"{_meet(device, first, second)} and start at two panels; they cannot be opened together.",
        remedies=(Remedy(words),),
        related=(first.pointer, second.pointer),
    )
