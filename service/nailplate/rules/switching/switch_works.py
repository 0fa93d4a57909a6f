"""Switches work what they are said to control, with the cables as drawn.

Why: a switch that cannot be wired with the cables in the wall is found out when the devices go in, after the walls are closed, and
is then made to work with a neutral or a traveler borrowed from somewhere else.

Fix: pull the cable with the conductors that are needed, or switches that match: a single-pole switch at one point; at
more, two three-way switches with a four-way switch for each further point.

Trap: two three-way switches take three conductors between them and a neutral besides wherever the light lies beyond; a light
between its switches, or at the feed, needs more still.

Does not judge: where the cables drawn do not bring the circuit to a switch or to what it controls, ``circuit-fed`` tells of it,
and nothing is said here.

Where a plan says what switches what, a switched half of a receptacle, or a switch, that stands in no control is asked about; a switch
that is there for an appliance is not.
"""

from collections.abc import Iterator

from nailplate.calc.switching import CableWiring, Wiring
from nailplate.plan import ROOT, Control, Device, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.switching.uncontrolled import halves_without_switch, switches_without_load
from nailplate.survey.lights import carried_words, needed_nets, would_do
from nailplate.survey.names import name_of
from nailplate.survey.wiring import LEAST_IN_CABLE, CircuitWiring, ControlFault, ControlWiring, control_wiring
from nailplate.units import count

_NO_CABLE = Remedy("No usual cable has so many: run conductors in a raceway, or feed switches or lights another way.")


@rule(
    id="switch-works",
    over=Control,
    severity=Severity.DANGER,
    subjects=(Subject.SWITCHING,),
    cites={
        "nec-2017": Cite(
            "404.2(A)",
            seen=(2017,),
            note="http://www.ecmweb.com/national-electrical-code/switch-and-receptacle-installation-basics",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.DARKNESS),
)
def switch_works(control: Control, job: Job) -> Iterator[Outcome]:
    """Judges one control: its parts, then the cables that carry it. The first one tells of what stands in none."""
    if control is next(iter(job.plan.controls.values())):
        yield from _in_no_control(job)
    found = control_wiring(job.survey, control)
    if found.parts.on_several or not found.parts.switches:
        yield NotConcerned()  # what is on two circuits is 300.3(B)'s; what is switched by radio needs no conductor
    elif found.parts.faults:
        yield from (_faulty(control, fault) for fault in found.parts.faults)
    elif found.parts.needs:
        yield Undetermined(found.parts.needs)
    elif found.circuit is not None:
        yield from _in_circuit(control, found, found.circuit, job)


def _in_no_control(job: Job) -> Iterator[Outcome]:
    """Asked only where controls are drawn: until then nothing is said of what switches what."""
    for device in halves_without_switch(job.survey):
        yield _left_out(
            device, "is said to be switched in part, and no control names it: which switch works it is not said.", job
        )
    for device in switches_without_load(job.survey):
        yield _left_out(device, "is in no control: what it switches is not said.", job)


def _left_out(device: Device, said: str, job: Job) -> Undetermined:
    return Undetermined((job.plan.where("controls"),), f"{name_of(device)} {said}", facet=device.id, at=device.pointer)


def _faulty(control: Control, fault: ControlFault) -> Violation:
    about = "" if fault.at == control.pointer else fault.at.members[-1]
    words = f"{name_of(control)}: {fault.words}."
    return Violation(words, remedies=(Remedy(fault.remedy),), facet=about, at=fault.at, related=(control.pointer,))


def _in_circuit(control: Control, found: ControlWiring, circuit: CircuitWiring, job: Job) -> Iterator[Outcome]:
    if circuit.loops or circuit.lone:
        yield NotConcerned()  # 300.3(B)'s as well; until the cables make a tree there is no one wiring to judge
    elif found.cut_off:
        yield NotConcerned()  # circuit-fed tells of the missing feed
    elif circuit.needs:
        yield Undetermined(circuit.needs)
    elif found.unreached:
        names = ", ".join(name_of(each) for each in found.unreached)
        yield Undetermined((ROOT / "cables",), f"{name_of(control)}: no cable is drawn that brings its circuit to {names}.")
    elif circuit.wiring is None:
        yield Undetermined((control.pointer,), f"{name_of(control)}: not worked out: {circuit.reason}.")
    else:
        yield from _by_cables(control, found, circuit.wiring, job)


def _by_cables(control: Control, found: ControlWiring, wiring: Wiring, job: Job) -> Iterator[Outcome]:
    carrying = [each for each in wiring.cables.values() if any(net.of == control.id for net in each.carried)]
    short = [each for each in carrying if each.short]
    if short:
        mine = [each for each in short if _told_by(each, job) == control.id]
        yield from (_short(control, each, job) for each in mine)
        if not mine:
            yield NotConcerned()  # its cable is told of by another control that it carries
        return
    open_facts = [device.where("ways") for device, _ in found.parts.switches if not device.knows("ways")]
    cables = (job.plan.cables[each.cable] for each in carrying if each.has is None and each.needs > LEAST_IN_CABLE)
    open_facts += (cable.where("insulated") for cable in cables)
    yield Undetermined(tuple(open_facts)) if open_facts else Pass()


def _told_by(cable: CableWiring, job: Job) -> str:
    """A short cable is told of once: by the first control in the document that it carries."""
    carried = {net.of for net in cable.carried}
    return next(name for name in job.plan.controls if name in carried)


def _short(control: Control, planned: CableWiring, job: Job) -> Violation:
    cable = job.plan.cables[planned.cable]
    if planned.has is None:
        raise UnknownFact(cable.where("insulated"))
    instead = would_do(cable, planned.needs)
    words = carried_words(job.survey, needed_nets(planned))
    return Violation(
        f"{name_of(control)}: cable {name_of(cable)} has {planned.has} insulated conductors and needs {planned.needs}: {words}.",
        measured=count(planned.has),
        limit=count(planned.needs),
        remedies=(Remedy(f"Pull a {instead}.", (state(cable, "insulated", planned.needs),)) if instead else _NO_CABLE,),
        facet=cable.id,
        at=cable.pointer,
        related=(control.pointer,),
    )
