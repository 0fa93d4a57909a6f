"""What each conductor of each cable carries, by the plan: each circuit as a layout, solved once.

- ``wiring_of(survey, circuit)``: the wiring of a circuit and its multiwire partner, or why it could not be worked out.
- ``roles_in(survey, cable)``: what a cable carries.
- ``needed_conductors(survey, cable)``: how many insulated conductors a cable has to have.
- ``control_wiring(survey, control)``: a control's parts and the wiring that it is in.
"""

from dataclasses import dataclass
from typing import Final

from nailplate.calc import switching
from nailplate.calc.switching import CableWiring, FaultKind, LayoutRefused, NotWorkedOut, Wiring
from nailplate.plan import ROOT, Cable, Circuit, Control, Device, Pointer, UnknownFact
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_circuits import carried
from nailplate.survey.wiring.circuit_layout import DrawnLayout, drawn_layout, in_the_way, unreached
from nailplate.survey.wiring.circuit_trees import is_cut_off
from nailplate.survey.wiring.control_parts import ControlParts, control_parts
from nailplate.survey.wiring.wired_together import Together, wired_together

LEAST_IN_CABLE: Final = 2


@dataclass(frozen=True, slots=True)
class CircuitWiring:
    """A circuit's wiring. Without one, ``loops`` and ``lone`` name the cables that forbid it, or ``needs`` what is not known.

    ``lone`` are cables with one insulated conductor. ``left_out`` are the pointers of what stands in the way of controls and
    devices that the wiring is worked out without; with any of them a cable may need more than is said.
    """

    together: Together
    wiring: Wiring | None
    loops: tuple[Cable, ...] = ()
    lone: tuple[Cable, ...] = ()
    needs: tuple[Pointer, ...] = ()
    reason: str = ""
    left_out: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class ControlWiring:
    """A control's parts, and its circuit's wiring; None where it is on several circuits or on none that is known."""

    parts: ControlParts
    circuit: CircuitWiring | None
    unreached: tuple[Device, ...]
    """Its switches and outlets that no cable of the circuit joins to the panel."""
    wired: bool
    """Whether the circuit's wiring holds it."""
    cut_off: bool = False
    """Whether it can't be wired because cables of its circuit are missing, which ``circuit-fed`` tells once for the circuit."""


@dataclass(frozen=True, slots=True)
class NeededConductors:
    """Insulated conductors that a cable has to have: for everything to work, and with a neutral at every switch box too."""

    least: int
    with_neutrals: int


def wiring_of(survey: Survey, circuit: Circuit) -> CircuitWiring:
    """The wiring of a circuit, worked out once."""
    return survey.once(_wiring, wired_together(survey, circuit).circuits[0].id)


def control_wiring(survey: Survey, control: Control) -> ControlWiring:
    """A control in its wiring."""
    return survey.once(_control_wiring, control.id)


def roles_in(survey: Survey, cable: Cable) -> tuple[CableWiring, ...]:
    """What a cable carries, once for each wiring that it is part of; empty where its circuit or wiring is not known."""
    wirings = (each.wiring for each in _wirings_in(survey, cable))
    return tuple(wiring.cables[cable.id] for wiring in wirings if wiring is not None and cable.id in wiring.cables)


def needed_conductors(survey: Survey, cable: Cable) -> NeededConductors:
    """How many insulated conductors a cable needs. Raises UnknownFact of its number where that cannot be worked out."""
    roles = roles_in(survey, cable)
    if not roles or any(each.wiring is None or each.left_out for each in _wirings_in(survey, cable)):
        raise UnknownFact(cable.where("insulated"))
    least, neutrals = sum(each.needs for each in roles), sum(len(each.carried) for each in roles)
    return NeededConductors(max(least, LEAST_IN_CABLE), max(neutrals, LEAST_IN_CABLE))


def _wirings_in(survey: Survey, cable: Cable) -> tuple[CircuitWiring, ...]:
    """One for each of the cable's circuits, and one alone for two that are wired together."""
    found = {}
    for circuit_id in carried(survey, cable).known:
        wiring = wiring_of(survey, survey.plan.circuits[circuit_id])
        found[wiring.together.circuits[0].id] = wiring
    return tuple(found.values())


def _wiring(survey: Survey, circuit_id: str) -> CircuitWiring:
    together = wired_together(survey, survey.plan.circuits[circuit_id])
    if together.panel is None:
        return CircuitWiring(together, None, needs=(together.circuits[0].where("panel"),))
    if not together.cables:
        return CircuitWiring(together, None, needs=(ROOT / "cables",))
    try:
        return _solved(survey, together, drawn_layout(survey, together, together.panel))
    except UnknownFact as unknown:
        return CircuitWiring(together, None, needs=(unknown.pointer,))


def _solved(survey: Survey, together: Together, drawn: DrawnLayout) -> CircuitWiring:
    try:
        answer = switching.solve(drawn.layout)
    except LayoutRefused as refused:
        loops = _cables_of(survey, refused, FaultKind.LOOP)
        lone = _cables_of(survey, refused, FaultKind.ONE_CONDUCTOR)
        return CircuitWiring(together, None, loops, lone, reason=str(refused), left_out=drawn.left_out)
    if isinstance(answer, NotWorkedOut):
        return CircuitWiring(together, None, reason=answer.reason, left_out=drawn.left_out)
    return CircuitWiring(together, answer, left_out=drawn.left_out)


def _cables_of(survey: Survey, refused: LayoutRefused, kind: FaultKind) -> tuple[Cable, ...]:
    return tuple(survey.plan.cables[fault.part[1]] for fault in refused.faults if fault.kind is kind)


def _control_wiring(survey: Survey, control_id: str) -> ControlWiring:
    parts = control_parts(survey, survey.plan.controls[control_id])
    if len(parts.circuits) != 1:
        return ControlWiring(parts, None, (), wired=False)
    circuit = wiring_of(survey, parts.circuits[0])
    wired = circuit.wiring is not None and not in_the_way(parts, circuit.together) and control_id in circuit.wiring.orders
    members = (*(device for device, _ in parts.switches), *parts.outlets)
    cut_off = not wired and any(is_cut_off(survey, each) for each in members)
    return ControlWiring(parts, circuit, unreached(parts, circuit.together), wired, cut_off)
