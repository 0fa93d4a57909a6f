"""Where ground-fault protection comes from: the breaker, the device itself, or a LOAD side upstream; and what it covers.

What a plan states of a feed is held against the cables drawn. A source that the cables leave out protects nothing downstream.
A fact that is not stated is unknown here as everywhere, with one bound: a feed from a LOAD side that the plan does not draw is
asked for only where the circuit holds a GFCI device that could be its source.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.plan import Circuit, Device, Pointer
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import DeviceKind, FedFrom
from nailplate.survey.index import Survey
from nailplate.survey.wiring import CircuitTree, Node, circuit_tree, devices_at, node_of_device


@dataclass(frozen=True, slots=True)
class GroundFaultProtection:
    """What protects a device from ground faults, or the facts that would tell. Neither: it is unprotected as drawn.

    ``also`` are further sources upstream of ``source``; ``bypassed`` is a source that is named and that the cables leave out.
    """

    source: Circuit | Device | None
    unknown: tuple[Pointer, ...]
    circuits: tuple[Circuit, ...]
    also: tuple[Circuit | Device, ...] = ()
    bypassed: Device | None = None


_MAY_BE_GFCI = frozenset({DeviceKind.RECEPTACLE, DeviceKind.SWITCH, DeviceKind.DISCONNECT})


def ground_fault_protection(survey: Survey, device: Device) -> GroundFaultProtection:
    """GFCI protection of a device, traced up through what feeds it to the breaker."""
    return survey.once(_ground_fault_protection, device.id)


def is_gfci(device: Device) -> bool:
    """Whether a device is stated to be a ground-fault circuit interrupter."""
    return device.kind is DeviceKind.BLANK_GFCI or (device.knows("gfci") and device.gfci)


def protects_people(circuit: Circuit) -> bool:
    """Whether a circuit's breaker is stated to be a GFCI."""
    return circuit.knows("breaker") and circuit.breaker.knows("protects") and circuit.breaker.protects.gfci


def appliance_protection(survey: Survey, appliance: Appliance) -> GroundFaultProtection:
    """GFCI protection of what feeds an appliance: of the outlet that it uses, or of its circuit where no outlet is drawn."""
    outlets = outlets_of(survey, appliance)
    if outlets:
        return ground_fault_protection(survey, outlets[0])
    if not appliance.knows("circuit"):
        return GroundFaultProtection(None, (appliance.where("circuit"),), ())
    circuit = survey.plan.circuits[appliance.circuit]
    if protects_people(circuit):
        return GroundFaultProtection(circuit, (), (circuit,))
    on_the_way = (appliance.where("outlet"),) if survey.once(_interrupters).get(circuit.id) else ()
    return GroundFaultProtection(None, (*_unknown_breaker(circuit), *on_the_way), (circuit,))


def outlets_of(survey: Survey, appliance: Appliance) -> tuple[Device, ...]:
    """The devices that feed an appliance, the one that it names first."""
    named = (survey.plan.devices[appliance.outlet],) if appliance.knows("outlet") else ()
    return tuple(dict.fromkeys((*named, *survey.once(_serving).get(appliance.id, ()))))


def _serving(survey: Survey) -> Mapping[str, list[Device]]:
    """Appliance id to the devices that are there for it."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        for appliance in device.serves if device.knows("serves") else ():
            found.setdefault(appliance, []).append(device)
    return found


def unknown_upstream(survey: Survey, device: Device) -> tuple[Pointer, ...]:
    """What is not said about a source upstream of a device that is a GFCI itself."""
    if not device.knows("circuit"):
        return (device.where("circuit"),)
    circuit = survey.plan.circuits[device.circuit]
    chain = list(feed_chain(survey, device))
    return tuple(dict.fromkeys((*_unknown_breaker(circuit), *_unknown_feed(survey, chain, circuit))))


# The feed, from the outlet upstream


def feed_chain(survey: Survey, device: Device) -> Iterator[Device]:
    """The device, what feeds it from its LOAD side, and so on upstream.

    A chain that closes on itself ends there, and so does one whose next source the cables drawn leave out.
    """
    seen: set[str] = set()
    here: Device | None = device
    while here is not None and here.id not in seen:
        seen.add(here.id)
        yield here
        source = load_side_source(survey, here)
        here = None if source is None or stands_upstream(survey, source, here) is False else source


def load_side_source(survey: Survey, device: Device) -> Device | None:
    """The device whose LOAD side feeds this one: as stated, or the only GFCI on its way where it is fed from some LOAD side."""
    if device.knows("feed_through_source"):
        return survey.plan.devices[device.feed_through_source]
    if not (device.knows("fed_from", "circuit") and device.fed_from is FedFrom.LOAD_SIDE):
        return None
    on_circuit = survey.once(_interrupters).get(device.circuit, [])
    upstream = [each for each in on_circuit if each is not device and stands_upstream(survey, each, device)]
    return upstream[0] if len(upstream) == 1 else None


def stands_upstream(survey: Survey, source: Device, device: Device) -> bool | None:
    """Whether the cables from the panel to a device pass another one, or end at its box; None where they do not tell."""
    tree = _tree_of(survey, device if device.knows("circuit") else source)
    if tree is None or tree.loops or not _is_wired(survey, source):
        return None
    path = tree.path_to(node_of_device(device))
    return node_of_device(source) in {step.node for step in path} if path else None


def _is_wired(survey: Survey, device: Device) -> bool:
    """Whether the plan says where the cables could come to a device: its box, or a cable that ends at it."""
    return device.knows("box") or device.id in survey.cables_at_device


def _tree_of(survey: Survey, device: Device) -> CircuitTree | None:
    return circuit_tree(survey, survey.plan.circuits[device.circuit]) if device.knows("circuit") else None


# What an answer is made of


def _ground_fault_protection(survey: Survey, device_id: str) -> GroundFaultProtection:
    device = survey.plan.devices[device_id]
    chain = list(feed_chain(survey, device))
    circuits, interrupters = _circuits(survey, chain), [each for each in chain if is_gfci(each)]
    bypassed = _bypassed(survey, chain[-1])
    # One LOAD side feeds one circuit: the other half of a split receptacle needs a source of its own.
    left = circuits if not interrupters else circuits[1:]
    if device in interrupters or (all(protects_people(each) for each in left) and (interrupters or left)):
        sources: list[Circuit | Device] = [*interrupters, *(each for each in circuits[:1] if protects_people(each))]
        return GroundFaultProtection(sources[0] if sources else left[0], (), circuits, tuple(sources[1:]), bypassed)
    unknown = _unknown(survey, chain, left, reached=bool(interrupters))
    return GroundFaultProtection(None, unknown, circuits, (), bypassed)


def _circuits(survey: Survey, chain: list[Device]) -> tuple[Circuit, ...]:
    """The circuit of a device, or else of what feeds it; and the second one of a split receptacle."""
    first = next((each.circuit for each in chain if each.knows("circuit")), None)
    second = chain[0].second_circuit if chain[0].knows("second_circuit") else None
    return tuple(survey.plan.circuits[each] for each in dict.fromkeys((first, second)) if each is not None)


def _bypassed(survey: Survey, last: Device) -> Device | None:
    source = load_side_source(survey, last)
    return source if source is not None and stands_upstream(survey, source, last) is False else None


def _unknown(survey: Survey, chain: list[Device], left: tuple[Circuit, ...], *, reached: bool) -> tuple[Pointer, ...]:
    device = chain[0]
    unknown = _unknown_kind(device)
    halves = [_unknown_breaker(each) for each in left if not protects_people(each)] or [(device.where("circuit"),)]
    if not reached and left and not protects_people(left[0]):
        halves[0] += _unknown_feed(survey, chain, left[0])
    if all(halves):  # a half about which nothing is unknown is unprotected, whatever the other is
        unknown += tuple(pointer for half in halves for pointer in half)
    return tuple(dict.fromkeys(unknown))


def _unknown_kind(device: Device) -> tuple[Pointer, ...]:
    """Where it would be said whether a device is a GFCI; a luminaire or a bare connection is none."""
    return (device.where("gfci"),) if device.kind in _MAY_BE_GFCI and not device.knows("gfci") else ()


def _unknown_breaker(circuit: Circuit) -> tuple[Pointer, ...]:
    if not circuit.knows("breaker"):
        return (circuit.where("breaker"),)
    return () if circuit.breaker.knows("protects") else (circuit.breaker.where("protects"),)


def _unknown_feed(survey: Survey, chain: list[Device], circuit: Circuit) -> tuple[Pointer, ...]:
    """What is not known about the devices upstream, and where a source that is not drawn would stand."""
    last, upstream = chain[-1], chain[1:]
    unknown = tuple(pointer for each in upstream for pointer in _unknown_kind(each))
    if last.knows("feed_through_source"):
        return unknown
    if last.knows("fed_from"):
        return unknown if last.fed_from is FedFrom.CIRCUIT else (*unknown, last.where("feed_through_source"))
    able = survey.once(_interrupters).get(circuit.id, [])
    may_feed = any(
        chain[0] not in feed_chain(survey, each) and stands_upstream(survey, each, last) is not False for each in able
    )
    return (*unknown, last.where("feed_through_source")) if may_feed else unknown


def _interrupters(survey: Survey) -> Mapping[str, list[Device]]:
    """Circuit id to the GFCI devices on it."""
    return {
        circuit: [device for device in devices if is_gfci(device)] for circuit, devices in survey.devices_on_circuit.items()
    }


# What one device upstream would cover


def way_from_panel(survey: Survey, device: Device) -> tuple[Node, ...]:
    """The boxes and devices between a circuit's panel and a device, its own box last; empty where the cables do not tell."""
    tree = _tree_of(survey, device)
    if tree is None or tree.loops:
        return ()
    return tuple(step.node for step in tree.path_to(node_of_device(device)) if step.upstream is not None)


def at_or_below(survey: Survey, device: Device) -> tuple[Device, ...]:
    """The devices on its circuit in a device's own box and in those that are fed by way of it; the device itself left out."""
    tree = _tree_of(survey, device)
    if tree is None or tree.loops or not tree.feeds(node_of_device(device)):
        return ()
    nodes, found = [node_of_device(device)], []
    while nodes:
        node = nodes.pop(0)
        found += [each for each in devices_at(survey, node) if each is not device and _is_on(each, tree.circuit)]
        nodes += [step.node for step in tree.below[node]]
    return tuple(found)


def _is_on(device: Device, circuit: Circuit) -> bool:
    return device.knows("circuit") and device.circuit == circuit.id
