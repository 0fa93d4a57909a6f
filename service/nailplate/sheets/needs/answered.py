"""Works out which outlet serves each of the owner's needs, and what then runs at once on each circuit."""

import logging
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from nailplate.plan import ROOT, Circuit, Device, Need, Pointer, UnknownFact
from nailplate.rulekit import Job
from nailplate.sheets.needs.items import CircuitUse, NeedAnswer, NeedsAnswered, NeedServed
from nailplate.sheets.needs.outlets import InReach, outlets_around
from nailplate.survey import Survey
from nailplate.survey.loads import fed_by
from nailplate.survey.loads.circuit_loads import total
from nailplate.survey.names import name_of
from nailplate.units import amperes, inches, shown, volt_amperes, within

log = logging.getLogger("nailplate.sheets")

MOST: Final = 200
"""Single things answered; ten of one kind are ten."""
_LINE: Final = 120.0


def needs_of_owner(job: Job) -> NeedsAnswered | None:
    """The answer to the plan's needs; None where it states none."""
    if not job.plan.needs:
        return None
    try:
        return _answered(job)
    except Exception:  # an answer that fails must not take the report with it
        log.exception("the needs failed")
        return NeedsAnswered((), (), len(job.plan.needs))


@dataclass(slots=True)
class _Taken:
    """Contacts that are taken so far, by device id."""

    plugs: Counter[str] = field(default_factory=Counter)

    def is_free(self, device: Device) -> bool:
        return not device.knows("contacts") or self.plugs[device.id] < device.contacts


def _answered(job: Job) -> NeedsAnswered:
    taken, items, asked = _Taken(), list[NeedServed](), 0
    for need in sorted(job.plan.needs.values(), key=_is_later):
        each = need.count if need.knows("count") else 1
        asked += each
        for number in range(1, min(each, MOST - len(items)) + 1):
            items.append(_one(job, need, number, taken))
    return NeedsAnswered(tuple(items), tuple(_circuits(job, items)), asked - len(items))


def _is_later(need: Need) -> bool:
    return need.knows("later") and need.later


def _one(job: Job, need: Need, number: int, taken: _Taken) -> NeedServed:
    if not job.plan.knows("devices"):
        return _item(
            job, need, number, "not_decided", "The plan does not say where receptacles are.", needs=(ROOT / "devices",)
        )
    try:
        around = job.survey.once(_around, need.id)
    except UnknownFact as unknown:
        return _item(job, need, number, "not_decided", "Its place is not drawn.", needs=(unknown.pointer,))
    reached = [each for each in around if within(each.way, need.cord_length)]
    free = next((each for each in reached if taken.is_free(each.device)), None)
    if free is None:
        return _item(job, need, number, "no_outlet", _why_not(need, reached, around), around[0] if around else None)
    taken.plugs[free.device.id] += 1
    later = _is_later(need)
    words = f"{'Kept for it' if later else 'Plugged in at'}: {name_of(free.device)}, {shown(inches(free.way))} away along the floor."
    return _item(job, need, number, "reserved" if later else "served", words, free, at_outlet=True)


def _around(survey: Survey, need_id: str) -> tuple[InReach, ...]:
    return outlets_around(survey, survey.plan.needs[need_id])


def _why_not(need: Need, reached: list[InReach], around: tuple[InReach, ...]) -> str:
    cord = shown(inches(need.cord_length))
    if reached:
        return f"Every contact within its cord of {cord} is taken; add a receptacle."
    if around:
        return f"No receptacle is within its cord of {cord}; the nearest, {name_of(around[0].device)}, is {shown(inches(around[0].way))} away."
    return f"No receptacle is within its cord of {cord}, nor anywhere near."


def _item(
    job: Job,
    need: Need,
    number: int,
    answer: NeedAnswer,
    words: str,
    found: InReach | None = None,
    *,
    at_outlet: bool = False,
    needs: tuple[Pointer, ...] = (),
) -> NeedServed:
    device = found.device if found is not None and at_outlet else None
    circuit = job.plan.circuits[device.circuit].pointer if device is not None and device.knows("circuit") else None
    return NeedServed(
        at=need.pointer,
        what=need.what,
        room=need.place.room,
        answer=answer,
        cord=inches(need.cord_length),
        words=words,
        number=number,
        outlet=device.pointer if device is not None else None,
        circuit=circuit,
        way=inches(found.way) if found is not None else None,
        power=volt_amperes(need.power) if need.knows("power") else None,
        needs=needs or (() if device is None or circuit is not None else (device.where("circuit"),)),
    )


# What runs at once


def _circuits(job: Job, items: list[NeedServed]) -> Iterator[CircuitUse]:
    for circuit in job.plan.circuits.values():
        on_it = [item for item in items if item.circuit == circuit.pointer]
        if on_it:
            yield _use(job, circuit, on_it)


def _use(job: Job, circuit: Circuit, on_it: list[NeedServed]) -> CircuitUse:
    least, most, unsaid = total(fed_by(job.survey, circuit).loads)
    volts = circuit.voltage if circuit.knows("voltage") else _LINE
    now, later = (_amperes(on_it, answer, volts) for answer in ("served", "reserved"))
    missing = [job.plan.needs[item.at.members[1]].where("power") for item in on_it if item.power is None]
    rated = circuit.breaker.rating if circuit.knows("breaker") and circuit.breaker.knows("rating") else None
    if rated is None:
        missing.append(circuit.pointer / "breaker" / "rating")
    needs = tuple(dict.fromkeys((*missing, *unsaid)))
    fits = None if rated is None else _fits(least + now, most + now, rated, sure=not missing)
    return CircuitUse(
        at=circuit.pointer,
        name=name_of(circuit),
        drawn=amperes(round(least, 2)),
        now=amperes(round(now, 2)),
        later=amperes(round(later, 2)),
        words=_words(circuit, least, now, later, rated),
        breaker=amperes(rated) if rated is not None else None,
        fits=fits,
        needs=needs,
    )


def _amperes(items: list[NeedServed], answer: str, volts: float) -> float:
    return sum(item.power.value / volts for item in items if item.answer == answer and item.power is not None)


def _fits(least: float, most: float, rated: float, *, sure: bool) -> bool | None:
    """Whether the breaker carries it; None where facts that are missing decide."""
    if not within(least, rated):
        return False
    return True if sure and within(most, rated) else None


def _words(circuit: Circuit, drawn: float, now: float, later: float, rated: float | None) -> str:
    against = f"of {shown(amperes(rated))}" if rated is not None else "of a breaker whose rating is not said"
    more = f"; {shown(amperes(round(later, 1)))} more is kept for later" if later else ""
    return (
        f"{name_of(circuit)}: {shown(amperes(round(drawn, 1)))} drawn on it and {shown(amperes(round(now, 1)))} plugged in, "
        f"all at once {shown(amperes(round(drawn + now, 1)))} {against}{more}."
    )
