"""Every outlet of a circuit is joined to its panel by cables of that circuit.

Why: an outlet that no cable reaches is found when the walls are closed, and one that is spliced into another circuit stays alive
when its own breaker is off.

Fix: draw and pull the cable that is missing, or list the outlet on the circuit that feeds it.

Trap: a box with two circuits in it passes power on only within each; that a cable ends in the box is not enough.

Does not judge: This rule speaks of outlets that stand unfed, ``cable-matches-circuit`` of cables that are wrong while every
outlet is fed.
"""

from collections.abc import Iterator

from nailplate.plan import Cable, Circuit, Device, Pointer
from nailplate.plan.trade import ON_ONE_CIRCUIT
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Connection
from nailplate.rulekit import Cite, Hazard, Job, Operation, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, remove, state
from nailplate.rules.circuits.unfed_pieces import unfed_pieces, unsaid_at
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    CircuitTree,
    Node,
    NodeKind,
    cables_at,
    carried,
    changes_of,
    circuit_tree,
    circuits_of,
    ends_of,
    node_of_device,
    part_at,
)

HOME_RUN = "home run"


@rule(
    id="circuit-fed",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.FED,),
    cites={"nec-2017": Cite("300.10, 300.3(B)", note="from memory: a circuit's conductors are continuous and run together")},
    hazards=(Hazard.SHOCK, Hazard.BURIED),
)
def circuit_fed(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each outlet that is fed, and one for each piece of the circuit that is not joined to the panel."""
    tree = circuit_tree(job.survey, circuit)
    devices = [each for each in job.survey.devices_on_circuit.get(circuit.id, []) if not each.knows("part_of")]
    yield from _on_two(circuit, devices, job)
    yield from _wired_in(circuit, job)
    if not devices:
        yield NotConcerned()
    elif tree.cables and not tree.home_runs:
        yield _without_home_run(tree, job)
    else:
        yield from (_fed(each) for each in dict.fromkeys(devices) if tree.feeds(node_of_device(each)))
        yield from unfed_pieces(tree, devices, job)


def _fed(device: Device) -> Outcome:
    return Pass(facet=device.id)


# Two circuits on what takes one, and appliances


def _on_two(circuit: Circuit, devices: list[Device], job: Job) -> Iterator[Outcome]:
    """Told by the first circuit of a light, fan or alarm that is listed on two."""
    for device in dict.fromkeys(devices):
        both = circuits_of(device)
        if device.kind in ON_ONE_CIRCUIT and both[0] == circuit.id and both[1:]:
            yield Violation(
                f"{name_of(device)} is listed on two circuits and has supply wires for one.",
                remedies=(Remedy("Feed it from one circuit only.", _off_the_second(device, job)),),
                facet=f"{device.id} on two circuits",
                at=device.pointer,
                related=(circuit.pointer, Pointer("/circuits") / both[1]),
            )


def _off_the_second(device: Device, job: Job) -> tuple[Operation, ...]:
    """Where a cable of the second circuit is drawn to it, which of the two is taken out is not for a patch to say."""
    drawn = cables_at(job.survey, node_of_device(device))
    pulled = any(circuits_of(device)[1] in carried(job.survey, each).known for each in drawn)
    return () if pulled else (remove(device.where("second_circuit")),)


def _wired_in(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """A cable ends at a device; an appliance that is wired in without one can't be followed."""
    for each in job.survey.appliances_on_circuit.get(circuit.id, []):
        if _wired(each) and not each.knows("outlet"):
            yield Undetermined((each.where("outlet"),), facet=each.id, at=each.pointer)


def _wired(appliance: Appliance) -> bool:
    return appliance.is_(connection=Connection.HARD_WIRED)


# The home run


def _without_home_run(tree: CircuitTree, job: Job) -> Outcome:
    circuit = tree.circuit
    if tree.panel is None:
        return Undetermined((circuit.where("panel"),), facet=HOME_RUN)
    panel = name_of(part_at(job.survey, tree.panel))
    unsaid = unsaid_at(job, (tree.panel,), circuit)
    if unsaid:
        said = f"No cable from {panel} says that it is of circuit {name_of(circuit)}, and some say no circuit at all."
        return Undetermined(unsaid, said, facet=HOME_RUN)
    astray = [(each, end) for each in tree.cables for end in ends_of(job.survey, each) if end.kind is NodeKind.PANEL]
    said = f"No cable of circuit {name_of(circuit)} comes from its panel, {panel}"
    if not astray:
        tapped = _tapped(tree, job)
        return Violation(
            f"{said}{_tap_words(tapped, job)}.",
            remedies=(Remedy("Draw and pull its home run."),),
            facet=HOME_RUN,
            related=tuple(cable.pointer for cable, _ in tapped),
        )
    cable, end = astray[0]
    return Violation(
        f"{said}; {name_of(cable)} comes from {name_of(part_at(job.survey, end))} instead.",
        remedies=(
            Remedy("Pull its home run from its own panel."),
            Remedy(
                "Or list the circuit in the panel that its cable comes from, and set its breaker there.",
                (state(circuit, "panel", end.id),),
            ),
        ),
        facet=HOME_RUN,
        related=(cable.pointer,),
    )


def _tapped(tree: CircuitTree, job: Job) -> list[tuple[Cable, Node]]:
    """The first of its cables that ends where all else is of other circuits: a feed that was taken there."""
    changes = (change for cable in tree.cables for change in changes_of(job.survey, cable))
    return [(change.cable, change.node) for change in changes if change.node.kind is not NodeKind.PANEL][:1]


def _tap_words(tapped: list[tuple[Cable, Node]], job: Job) -> str:
    return "".join(f"; {name_of(cable)} is taken from {name_of(part_at(job.survey, end))} instead" for cable, end in tapped)
