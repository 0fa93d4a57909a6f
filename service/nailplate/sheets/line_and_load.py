"""What goes on the LINE and on the LOAD terminals of a device that stands between: a GFCI or AFCI device, a disconnect.

A solved wiring knows one hot and one neutral in a box. Joined all together, what is downstream of a GFCI device would go unprotected,
and a disconnect would disconnect nothing.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.calc.switching import CableEnd, Joint, Role, Terminal
from nailplate.plan import Device
from nailplate.plan.words import DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.protection.ground_faults import load_side_source, stands_upstream
from nailplate.survey.wiring import CircuitTree, circuit_tree
from nailplate.survey.wiring.wiring_nodes import Node, node_of_device

_LINE: Final = "LINE"
_LOAD: Final = "LOAD"
_DIVIDED: Final = (Role.HOT, Role.SECOND_HOT, Role.NEUTRAL)


@dataclass(frozen=True, slots=True)
class _Divider:
    """A device between its LINE and its LOAD: the cables and the devices of its own box that are on its LOAD side."""

    device: Device
    cables: frozenset[str]
    devices: frozenset[str]

    def loads(self, end: CableEnd | Terminal) -> bool:
        """Whether an end of a joint is on the LOAD side."""
        return end.cable in self.cables if isinstance(end, CableEnd) else end.device in self.devices


def by_line_and_load(survey: Survey, joint: Joint) -> Iterator[Joint]:
    """A joint as it is made: in two, where a device in it divides LINE from LOAD."""
    ids = (end.device for end in joint.ends if isinstance(end, Terminal)) if joint.net.role in _DIVIDED else ()
    dividers = survey.once(_dividers)
    divider = next((dividers[each] for each in ids if each in dividers), None)
    if divider is None:
        yield joint
        return
    own = divider.device.id
    line = [_named(end, own, _LINE) for end in joint.ends if not divider.loads(end)]
    load = [end for end in joint.ends if divider.loads(end)]
    yield Joint(joint.box, joint.net, tuple(line))
    if load:
        terminals = [_named(end, own, _LOAD) for end in joint.ends if isinstance(end, Terminal) and end.device == own]
        yield Joint(joint.box, joint.net, (*load, *terminals))


def is_on_load(joint: Joint) -> bool:
    """Whether a joint of ``by_line_and_load`` is the one on the LOAD terminals."""
    return any(isinstance(end, Terminal) and end.name.startswith(_LOAD) for end in joint.ends)


def _named(end: CableEnd | Terminal, own: str, side: str) -> CableEnd | Terminal:
    """The device's own terminal by its side."""
    if isinstance(end, Terminal) and end.device == own:
        return Terminal(end.device, f"{side} {end.name}", end.control)
    return end


def _dividers(survey: Survey) -> Mapping[str, _Divider]:
    fed = survey.once(_fed_by)
    return {
        device.id: _divider(survey, device, fed.get(device.id, []))
        for device in survey.plan.devices.values()
        if device.is_(gfci=True) or device.is_(afci=True) or device.kind is DeviceKind.DISCONNECT
    }


def _fed_by(survey: Survey) -> Mapping[str, list[Device]]:
    """Device id to the devices that its LOAD side feeds, and the switches of those."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        source = load_side_source(survey, device)
        if source is not None and stands_upstream(survey, source, device) is not False:
            found.setdefault(source.id, []).append(device)
    for control in survey.plan.controls.values():
        for fed in found.values():
            if any(each.id in control.outlets for each in fed):
                fed += [survey.plan.devices[each] for each in control.switches]
    return found


def _divider(survey: Survey, device: Device, fed: list[Device]) -> _Divider:
    here = node_of_device(device)
    beside = frozenset(each.id for each in fed if node_of_device(each) == here and each is not device)
    if not device.knows("circuit"):
        return _Divider(device, frozenset(), beside)
    tree = circuit_tree(survey, survey.plan.circuits[device.circuit])
    if device.kind is DeviceKind.DISCONNECT:
        return _Divider(device, frozenset(step.cable.id for step in tree.below.get(here, ()) if step.cable), beside)
    ways = (_cable_out(tree, here, node_of_device(each)) for each in fed)
    return _Divider(device, frozenset(each for each in ways if each is not None), beside)


def _cable_out(tree: CircuitTree, here: Node, there: Node) -> str | None:
    """The cable by which a circuit leaves one node for another."""
    step = next((each for each in tree.path_to(there) if each.upstream == here), None)
    return step.cable.id if step is not None and step.cable is not None else None
