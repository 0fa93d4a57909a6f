"""A circuit that is reserved for one place or one appliance feeds nothing else.

Why: laundry, bathroom and garage circuits are reserved because what is used there takes all that they give; with other outlets on them
they trip, and leave those others dark.

Fix: feed the other outlets from a general circuit, or give them a circuit of their own.

Trap: a 20 A circuit that serves one bathroom alone may feed that room's light and fan too; one that reaches a second bathroom may not.
Outdoor receptacles may join a garage's circuit, the laundry's light may not join the laundry's.

Several receptacles of one laundry are taken to be the laundry's (a few read 210.11(C)(2) as the one that is required). All
receptacles in a garage are taken to be the garage's.

Does not judge: Small-appliance circuits are `small-appliance-circuits`' matter. An outlet that belongs on another reserved
circuit is covered by the rule on that circuit; what shares the circuit of an appliance that must have its own, by
`individual-circuit`.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from nailplate.plan import Appliance, Circuit, Device, Part, Pointer, Room, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS, OUTDOOR
from nailplate.plan.words import DeviceKind, Fuel, Purpose, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.circuits.general_circuits import general_circuit_for
from nailplate.rules.circuits.reserved import moved
from nailplate.survey.loads import (
    WASHERS,
    Fed,
    Trade,
    fed_by,
    is_ordinary,
    reason_for_own,
    required_in_bathroom,
    room_of,
    stands_for_a_dwelling,
    trade_of,
    washers_in,
)
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served, outlets_of

_CALLED = {
    Purpose.LAUNDRY: "the laundry circuit",
    Purpose.BATHROOM: "a bathroom circuit",
    Purpose.GARAGE: "the garage's circuit",
    Purpose.INDIVIDUAL: "shown as an individual circuit, which feeds one appliance",
}
_NAMED = 3
_NEEDS_NAMED = 5


@rule(
    id="circuit-kept-apart",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(2) to (4)",
            seen=(2023,),
            note="a public copy of the 2023 code text; https://captaincode2017.leviton.com/node/126; the bathroom exception: "
            "https://ecmweb.com/national-electrical-code/article/21246942/",
        )
    },
    provisions=("bathroom_circuit_at_basins_only",),
    needs=("purpose",),
    hazards=(Hazard.OVERLOAD, Hazard.DARKNESS),
    changes={
        "nec-2017": "The garage's circuit joins those that are kept apart; readily accessible outdoor receptacles may share it.",
    },
)
def circuit_kept_apart(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit."""
    if circuit.purpose is Purpose.INDIVIDUAL:
        return _individual(circuit, job)
    looks = {Purpose.LAUNDRY: _is_laundrys, Purpose.BATHROOM: _is_bathrooms, Purpose.GARAGE: _is_garages}
    if circuit.purpose not in looks or not stands_for_a_dwelling(job.survey):
        return NotConcerned()
    found = _sorted_out(circuit, looks[circuit.purpose], job)
    if circuit.purpose is Purpose.BATHROOM and (found.strays or found.disputed) and _one_bathroom(circuit, job):
        return Pass()
    return _told(circuit, found, job)


@dataclass(frozen=True, slots=True)
class _Found:
    """What does not belong on a circuit, what by one reading does not, and what is missing of others."""

    strays: tuple[Part, ...]
    disputed: tuple[Part, ...]
    unknown: tuple[Pointer, ...]


_Look = Callable[[Device, Room | None, Job], bool | None]


def _told(circuit: Circuit, found: _Found, job: Job) -> Outcome:
    if found.strays:
        return _wrong(circuit, found.strays, job)
    if found.unknown:
        return Undetermined(found.unknown)
    return _disputed(circuit, found.disputed) if found.disputed else Pass()


def _sorted_out(circuit: Circuit, look: _Look, job: Job) -> _Found:
    strays: list[Part] = []
    disputed: list[Part] = []
    unknown: list[Pointer] = []
    for part in _parts(circuit, job):
        try:
            belongs = _belongs(part, circuit, look, job)
        except UnknownFact as missing:
            unknown.append(missing.pointer)
            continue
        strays += [part] if belongs is False else []
        disputed += [part] if belongs is None else []
    return _Found(tuple(strays), tuple(disputed), tuple(dict.fromkeys(unknown))[:_NEEDS_NAMED])


def _parts(circuit: Circuit, job: Job) -> Iterator[Device | Appliance]:
    """Its outlets, and appliances that no drawn outlet of it feeds."""
    fed = fed_by(job.survey, circuit)
    outlets = [each for each in job.survey.devices_on_circuit.get(circuit.id, []) if appliances_served(job.survey, each)]
    free = frozenset(each.id for each in fed.free)
    receptacles = [each for each in outlets if each.kind is DeviceKind.RECEPTACLE and each.id not in free]
    yield from dict.fromkeys((*fed.free, *receptacles))
    plugged = {served.id for each in receptacles for served in appliances_served(job.survey, each)}
    yield from (each for each in fed.appliances if each.id not in plugged)


def _belongs(part: Device | Appliance, circuit: Circuit, look: _Look, job: Job) -> bool | None:
    if isinstance(part, Appliance):
        _knows_its_outlets(part, job)
        return False
    room = room_of(job.survey, part)
    answer = look(part, room, job)
    return True if answer is not True and _told_elsewhere(part, room, circuit, job) else answer


def _knows_its_outlets(appliance: Appliance, job: Job) -> None:
    """Raises UnknownFact where an outlet that the appliance uses does not say its circuit: it may be on this one."""
    for outlet in outlets_of(job.survey, appliance):
        if not outlet.knows("circuit"):
            raise UnknownFact(outlet.where("circuit"))


def _told_elsewhere(device: Device, room: Room | None, circuit: Circuit, job: Job) -> bool:
    """Whether the rule on another reserved circuit says that this outlet belongs there."""
    if room is None or not is_ordinary(job.survey, device):
        return False
    if circuit.purpose is not Purpose.LAUNDRY and any(each.kind in WASHERS for each in appliances_served(job.survey, device)):
        return True
    if circuit.purpose is not Purpose.BATHROOM and Use.BATHROOM in room.uses:
        return device.id in required_in_bathroom(job.survey, room, job.edition)
    every = circuit.purpose is not Purpose.GARAGE and Use.GARAGE in room.uses and not job.holds("garage_circuit_one_a_bay")
    return every or FOOD_ROOMS.issuperset(room.uses)


# What belongs where


def _is_laundrys(device: Device, room: Room | None, job: Job) -> bool:
    if not is_ordinary(job.survey, device):
        return False
    if any(each.kind in WASHERS or _is_gas_dryer(each) for each in appliances_served(job.survey, device)):
        return True
    return room is not None and (Use.LAUNDRY in room.uses or (washers_in(job.survey, room) and Use.BATHROOM not in room.uses))


def _is_gas_dryer(appliance: Appliance) -> bool:
    return trade_of(appliance) is Trade.OTHER and appliance.isnt(fuel=Fuel.NONE)


def _is_bathrooms(device: Device, room: Room | None, job: Job) -> bool | None:
    """None: a receptacle of a bathroom that is neither at a basin nor at a counter, from 2020 on."""
    if room is None or Use.BATHROOM not in room.uses or not is_ordinary(job.survey, device):
        return False
    return True if device.id in required_in_bathroom(job.survey, room, job.edition) else None


def _one_bathroom(circuit: Circuit, job: Job) -> bool:
    """Whether all that it feeds is in one bathroom, which may have everything on it. Raises UnknownFact for a place left out."""
    rooms = {_where(part, job) for part in _parts(circuit, job)}
    room = next(iter(rooms))
    return len(rooms) == 1 and room is not None and Use.BATHROOM in job.plan.rooms[room].uses


def _where(part: Device | Appliance, job: Job) -> str | None:
    if isinstance(part, Appliance):
        return part.room
    room = room_of(job.survey, part)
    return room.id if room is not None else None


def _is_garages(device: Device, room: Room | None, job: Job) -> bool:
    if room is not None and Use.GARAGE in room.uses:
        return device.kind is DeviceKind.RECEPTACLE or (job.holds("garage_circuit_any_outdoors") and room.vehicle_bays == 1)
    outdoors = room is None or bool(OUTDOOR & set(room.uses))
    if not outdoors or not is_ordinary(job.survey, device):
        return False
    return job.holds("garage_circuit_any_outdoors") or not device.is_(readily_accessible=False)


# Individual circuits


def _individual(circuit: Circuit, job: Job) -> Outcome:
    fed = fed_by(job.survey, circuit)
    if not fed.outlets:
        return NotConcerned()
    if any(reason_for_own(job.survey, each) for each in fed.appliances):
        return NotConcerned()  # individual-circuit judges it
    strays = tuple(_beside_the_first(fed))
    return _wrong(circuit, strays, job) if strays else Pass()


def _beside_the_first(fed: Fed) -> Iterable[Part]:
    """Cooking units that count as one range, and heaters of one circuit, are no strangers to each other."""
    every: list[Appliance | Device] = [*fed.appliances, *fed.free]
    first, *others = every
    trade = trade_of(first) if isinstance(first, Appliance) else Trade.OTHER
    for each in others:
        together = trade in (Trade.COOKING, Trade.HEAT) and isinstance(each, Appliance) and trade_of(each) is trade
        if not together:
            yield each


# What is said


def _wrong(circuit: Circuit, strays: tuple[Part, ...], job: Job) -> Violation:
    return Violation(
        f"{name_of(circuit)} is {_CALLED[circuit.purpose]}; it feeds {_listed(strays)} too.",
        remedies=(_elsewhere(strays, job),),
        related=tuple(each.pointer for each in strays),
    )


def _elsewhere(strays: tuple[Part, ...], job: Job) -> Remedy:
    """For one outlet a circuit that is in its room already."""
    stray = strays[0]
    other = general_circuit_for(job.survey, stray) if len(strays) == 1 and isinstance(stray, Device) else None
    if other is not None and isinstance(stray, Device):
        return moved(stray, other, job)
    return Remedy("Feed what does not belong on it from a general circuit, or give it a circuit of its own.")


def _disputed(circuit: Circuit, parts: tuple[Part, ...]) -> Judgement:
    return Judgement(
        f"{name_of(circuit)} serves more than one bathroom and feeds {_listed(parts)}, out of reach of a basin.",
        (
            Reading("From 2020 the circuit is for receptacles at basins and counters, and has no others.", "violation"),
            Reading("Any receptacle of a bathroom is what the circuit is for.", "pass"),
        ),
        remedies=(Remedy("Feed it from another circuit, or keep this circuit to one bathroom."),),
        related=tuple(each.pointer for each in parts),
    )


def _listed(parts: tuple[Part, ...]) -> str:
    names = ", ".join(name_of(part) for part in parts[:_NAMED])
    return names if len(parts) <= _NAMED else f"{names} and {len(parts) - _NAMED} more"
