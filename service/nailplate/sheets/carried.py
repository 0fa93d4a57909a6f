"""What each conductor of each cable carries, and what joins what in each box, as the solved wiring of each circuit has it."""

from collections.abc import Mapping
from typing import NamedTuple

from nailplate.calc.switching import CableWiring, Conductor, Joint, Net, Role, Wiring
from nailplate.plan import Cable, Circuit
from nailplate.sheets.called import Name
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.sheets.line_and_load import by_line_and_load
from nailplate.survey.index import Survey
from nailplate.survey.wiring import CircuitWiring, roles_in, wiring_of

_HOTS = (Role.HOT, Role.SECOND_HOT)
_OF_CONTROL = (Role.SWITCHED_HOT, Role.TRAVELER)


def wirings(survey: Survey) -> tuple[CircuitWiring, ...]:
    """Every circuit's wiring once, circuits that are wired together once."""
    return survey.once(_wirings)


def _wirings(survey: Survey) -> tuple[CircuitWiring, ...]:
    found: dict[str, CircuitWiring] = {}
    for circuit in survey.plan.circuits.values():
        wiring = wiring_of(survey, circuit)
        found.setdefault(wiring.together.circuits[0].id, wiring)
    return tuple(found.values())


class Made(NamedTuple):
    """A joint as it is made, the wiring that it is of, and the circuits that are wired together in that."""

    solved: Wiring
    joint: Joint
    circuits: tuple[Circuit, ...]


def joints_by_box(survey: Survey) -> Mapping[str, list[Made]]:
    """What is joined in each box, panel or device, by its pointer as text."""
    return survey.once(_joints_by_box)


def _joints_by_box(survey: Survey) -> Mapping[str, list[Made]]:
    found: dict[str, list[Made]] = {}
    for each in wirings(survey):
        for solved in each.wiring.joints if each.wiring is not None else ():
            for joint in by_line_and_load(survey, solved):
                found.setdefault(joint.box, []).append(Made(each.wiring, joint, each.together.circuits))  # type: ignore[arg-type]  # None has no joints
    return found


def conductors_told(survey: Survey, cable: Cable, name: Name) -> str:
    """``black hot, red switched hot of Hall light, white neutral``; why not, where the wiring is not worked out."""
    roles: tuple[CableWiring, ...] = roles_in(survey, cable)
    if not roles:
        return "not worked out: its circuit, ends or conductors are not stated"
    circuits = wiring_of(survey, survey.plan.circuits[cable.circuit]).together.circuits if cable.knows("circuit") else ()
    return ", ".join(_told(survey, each, name, circuits) for role in roles for each in role.conductors)


def _told(survey: Survey, conductor: Conductor, name: Name, circuits: tuple[Circuit, ...]) -> str:
    marked = " (mark it as ungrounded)" if conductor.reidentified else ""
    return f"{conductor.color} {net_told(survey, conductor.net, name, circuits)}{marked}"


def net_told(survey: Survey, net: Net, name: Name, circuits: tuple[Circuit, ...] = ()) -> str:
    """What a conductor carries, in words; of two circuits that share a neutral whose hot it is."""
    number = f" {net.number}" if net.number else ""
    if net.role in _OF_CONTROL and net.of in survey.plan.controls:
        return f"{net.role.value}{number} of {name(survey.plan.controls[net.of])}"
    if len(circuits) > 1 and net.role in _HOTS:
        return f"hot of circuit {circuit_tag(survey, circuits[_HOTS.index(net.role)])}"
    return f"{net.role.value}{number}"
