"""Pieces of a circuit whose cables, and outlets without a cable, nothing joins to its panel."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Cable, Circuit, Device, Pointer
from nailplate.rulekit import Job, Outcome, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    CarriedBy,
    CircuitTree,
    Island,
    Node,
    NodeKind,
    cables_at,
    carried,
    changing_cables,
    circuit_tree,
    ends_of,
    is_power_cable,
    may_carry_too,
)

SEVERAL: Final = 4
"""Names of outlets that a message gives."""


def unfed_pieces(tree: CircuitTree, devices: list[Device], job: Job) -> Iterator[Outcome]:
    """One outcome for each piece with outlets that the circuit feeds, by the plan, and no cable does."""
    mine = set(devices)
    undrawn = []
    for island in tree.islands:
        outlets = [each for each in island.devices if each in mine]
        if not outlets:
            continue
        bridges = _bridges(tree, island, job)
        if not bridges and not tree.cables:
            undrawn += outlets
        else:
            yield _unfed(tree, island, outlets, bridges, job)
    if undrawn:
        said = f"No cable of circuit {name_of(tree.circuit)} is drawn."
        yield Undetermined((job.plan.where("cables"),), said)


def _bridges(tree: CircuitTree, island: Island, job: Job) -> list[Cable]:
    """Cables of other circuits that end here among nothing of their own."""
    found = [cable for node in island.nodes for cable in changing_cables(job.survey, node, tree.circuit.id)]
    return list(dict.fromkeys(found))


def _unfed(tree: CircuitTree, island: Island, outlets: list[Device], bridges: list[Cable], job: Job) -> Outcome:
    first = outlets[0]
    needs = () if bridges else _missing(tree, island, outlets, job)
    if needs:
        return Undetermined(needs, facet=first.id, at=first.pointer)
    if not bridges and (passing := _passing_of(tree, island, job)):
        said = f"{name_of(passing[0])} passes the box of {name_of(first)} unbroken; whether it is tapped there is not told by the drawing."
        return Undetermined((), said, facet=first.id, at=first.pointer)
    verb = "is" if len(outlets) == 1 else "are"
    said = f"{_names(outlets)} {verb} on circuit {name_of(tree.circuit)}, and no cable of it leads there from its panel"
    if bridges:
        said += f"; {name_of(bridges[0])}, which ends there, is of circuit {_named(carried(job.survey, bridges[0]).known, job)}"
    elif there := _circuits_there(island, job):
        said += f"; the cables there are of circuit {_named(there, job)}"
    return Violation(
        f"{said}.",
        remedies=_remedies(tree, island, outlets, bridges, job),
        facet=first.id,
        at=first.pointer,
        related=(*(each.pointer for each in outlets[1:]), *(each.pointer for each in bridges)),
    )


def _missing(tree: CircuitTree, island: Island, outlets: list[Device], job: Job) -> tuple[Pointer, ...]:
    """The facts that could join a piece to the panel after all: a box, a cable's circuit."""
    loose = tuple(each.where("box") for each in outlets if not each.knows("box") and not island.cables)
    return (*loose, *unsaid_at(job, island.nodes, tree.circuit))


def _passing_of(tree: CircuitTree, island: Island, job: Job) -> list[Cable]:
    """Cables of the circuit whose conductors pass the piece's boxes unbroken: they may be tapped there."""
    passing = (cable for node in island.nodes for cable in _passing(node, job))
    return [each for each in passing if tree.circuit.id in carried(job.survey, each).circuits]


def unsaid_at(job: Job, nodes: tuple[Node, ...], circuit: Circuit) -> tuple[Pointer, ...]:
    """Circuits of cables at these nodes that neither the cable nor what is around it tells, where they may be this one."""
    found = dict.fromkeys(cable for node in nodes for cable in cables_at(job.survey, node))
    unsaid = (each.where("circuit") for each in found if carried(job.survey, each).by is CarriedBy.OPEN)
    halves = (may_carry_too(each, circuit) for each in found if circuit.id not in carried(job.survey, each).known)
    return (*unsaid, *filter(None, halves))


def _passing(node: Node, job: Job) -> list[Cable]:
    found = job.survey.cables_through_box.get(node.id, []) if node.kind is NodeKind.BOX else []
    return [cable for cable in found if is_power_cable(cable)]


def _names(outlets: list[Device]) -> str:
    names = [name_of(each) for each in outlets]
    shown = names if len(names) <= SEVERAL else [*names[: SEVERAL - 1], f"{len(names) - SEVERAL + 1} more"]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def _circuits_there(island: Island, job: Job) -> tuple[str, ...]:
    """The other circuits whose cables end at a piece of this one."""
    cables = (cable for node in island.nodes for cable in cables_at(job.survey, node) if cable not in island.cables)
    return tuple(dict.fromkeys(circuit for cable in cables for circuit in carried(job.survey, cable).known))


def _named(circuits: tuple[str, ...], job: Job) -> str:
    return " and ".join(name_of(job.plan.circuits[each]) for each in circuits)


# What to do


def _remedies(tree: CircuitTree, island: Island, outlets: list[Device], bridges: list[Cable], job: Job) -> tuple[Remedy, ...]:
    pull = Remedy(f"Pull a cable of circuit {name_of(tree.circuit)} to it from the nearest outlet that the circuit feeds.")
    other = _cable_listed_anew(tree, bridges, job) or _outlet_listed_anew(outlets, island, job)
    return (pull, other) if other else (pull,)


def _cable_listed_anew(tree: CircuitTree, bridges: list[Cable], job: Job) -> Remedy | None:
    """For a single cable between the piece and what the circuit feeds."""
    if len(bridges) != 1 or bridges[0].knows("second_circuit"):
        return None
    if not any(tree.feeds(end) for end in ends_of(job.survey, bridges[0])):
        return None
    words = f"Or, if the cable was only listed wrong, list it on circuit {name_of(tree.circuit)}."
    return Remedy(words, (state(bridges[0], "circuit", tree.circuit.id),))


def _outlet_listed_anew(outlets: list[Device], island: Island, job: Job) -> Remedy | None:
    """For a lone outlet that another circuit's cable feeds."""
    there = [job.plan.circuits[each] for each in _circuits_there(island, job)]
    if len(outlets) != 1 or island.cables or len(there) != 1 or outlets[0].knows("second_circuit"):
        return None
    if not any(circuit_tree(job.survey, there[0]).feeds(node) for node in island.nodes):
        return None
    words = f"Or list it on circuit {name_of(there[0])}, if it may be on that one."
    return Remedy(words, (state(outlets[0], "circuit", there[0].id),))
