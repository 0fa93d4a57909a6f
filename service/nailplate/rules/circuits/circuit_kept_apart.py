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

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from nailplate.plan import Appliance, Circuit, Device, Part, Pointer, UnknownFact
from nailplate.plan.words import DeviceKind, Purpose, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.circuits.belonging import LOOKS, belongs
from nailplate.rules.circuits.general_circuits import general_circuit_for
from nailplate.rules.circuits.reserved import moved
from nailplate.survey.loads import (
    Fed,
    Trade,
    fed_by,
    reason_for_own,
    room_of,
    stands_for_a_dwelling,
    trade_of,
)
from nailplate.survey.names import name_of, names_of
from nailplate.survey.protection import appliances_served

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
    if circuit.purpose not in LOOKS or not stands_for_a_dwelling(job.survey):
        return NotConcerned()
    found = _sorted_out(circuit, job)
    if circuit.purpose is Purpose.BATHROOM and (found.strays or found.disputed) and _one_bathroom(circuit, job):
        return Pass()
    return _told(circuit, found, job)


@dataclass(frozen=True, slots=True)
class _Found:
    """What does not belong on a circuit, what by one reading does not, and what is missing of others."""

    strays: tuple[Part, ...]
    disputed: tuple[Part, ...]
    unknown: tuple[Pointer, ...]


def _told(circuit: Circuit, found: _Found, job: Job) -> Outcome:
    if found.strays:
        return _wrong(circuit, found.strays, job)
    if found.unknown:
        return Undetermined(found.unknown)
    return _disputed(circuit, found.disputed) if found.disputed else Pass()


def _sorted_out(circuit: Circuit, job: Job) -> _Found:
    strays: list[Part] = []
    disputed: list[Part] = []
    unknown: list[Pointer] = []
    for part in _parts(circuit, job):
        try:
            its_own = belongs(part, circuit, job)
        except UnknownFact as missing:
            unknown.append(missing.pointer)
            continue
        strays += [part] if its_own is False else []
        disputed += [part] if its_own is None else []
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


# Individual circuits


def _individual(circuit: Circuit, job: Job) -> Outcome:
    fed = fed_by(job.survey, circuit)
    if not fed.outlets:
        return NotConcerned()
    if any(reason_for_own(job.survey, each) for each in fed.appliances):
        return NotConcerned()  # individual-circuit judges it
    strays = tuple(_beside_the_first(fed))
    unsaid = fed.may_be_no_further
    if strays and fed.appliances and all(isinstance(each, Device) and each.where("serves") in unsaid for each in strays):
        return Undetermined(unsaid)
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
        f"{name_of(circuit)} is {_CALLED[circuit.purpose]}; it feeds {names_of(strays, _NAMED)} too.",
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
        f"{name_of(circuit)} serves more than one bathroom and feeds {names_of(parts, _NAMED)}, out of reach of a basin.",
        (
            Reading("From 2020 the circuit is for receptacles at basins and counters, and has no others.", "violation"),
            Reading("Any receptacle of a bathroom is what the circuit is for.", "pass"),
        ),
        remedies=(Remedy("Feed it from another circuit, or keep this circuit to one bathroom."),),
        related=tuple(each.pointer for each in parts),
    )
