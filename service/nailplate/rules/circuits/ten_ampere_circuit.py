"""A 10 A circuit feeds lights, and the few other things that it may.

Why: whatever is plugged in or built in draws more than lights do; a 10 A circuit is meant for lights alone.

Fix: use a 15 A or 20 A breaker on wire that suits it, or feed the other outlets from another circuit.

Trap: no receptacle may be on it, not even one for a clock or a toothbrush. An exhaust fan may be where the circuit lights the bathroom or
laundry it is in. Nonmetallic-sheathed cable is still 14 AWG copper or 12 AWG aluminum at least.

Does not judge: Editions before 2023 know no 10 A branch circuit; `permissible-load` tells of one there.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Device, Part
from nailplate.plan.trade import ALARMS
from nailplate.plan.words import ApplianceKind, DeviceKind, Fuel, Purpose, Use
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, each_of
from nailplate.survey.loads import Fed, fed_by, room_of
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served
from nailplate.units import amperes, shown, within

LIGHTS = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK})
WITH_CHIME = ALARMS | {DeviceKind.CHIME}
GAS = frozenset({Fuel.PROPANE, Fuel.NATURAL_GAS})


@rule(
    id="ten-ampere-circuit",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2023": Cite(
            "210.23(A)",
            seen=(2023, 2026),
            note="https://expertce.com/courses/electricians-guide-for-nec-2023/lessons/how-are-10-amp-branch-circuits-permitted-in-"
            "the-2023-nec; https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?"
            "sectionID=1857 (2026)",
        )
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    provisions=("ten_ampere_circuits",),
)
def ten_ampere_circuit(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """Judges one circuit, outlet by outlet."""
    if not within(circuit.breaker.rating, job.amperes("ten_ampere_rating")):
        yield NotConcerned()
        return
    fed = fed_by(job.survey, circuit)
    if not fed.outlets:
        yield NotConcerned()
        return
    yield from each_of(_parts(circuit, fed, job), _judged, circuit, fed, job)


def _parts(circuit: Circuit, fed: Fed, job: Job) -> Iterator[Device | Appliance]:
    """Each outlet once; an appliance stands for the fan or connection that is drawn for it, a receptacle for what plugs into it."""
    devices = job.survey.devices_on_circuit.get(circuit.id, [])
    serving = [each for each in devices if each.kind is DeviceKind.RECEPTACLE and appliances_served(job.survey, each)]
    plugged = {served.id for each in serving for served in appliances_served(job.survey, each)}
    yield from dict.fromkeys((*fed.free, *serving))
    yield from (each for each in fed.appliances if each.id not in plugged)


def _judged(part: Device | Appliance, circuit: Circuit, fed: Fed, job: Job) -> Outcome:
    if isinstance(part, Device) and part.kind in LIGHTS:
        return Pass()
    if _is_exhaust_fan(part):
        return _fan(part, circuit, fed, job)
    if _is_fireplace(part, fed, job):
        return Pass()
    if isinstance(part, Device) and part.kind in (*WITH_CHIME, DeviceKind.FAN):
        return _unnamed(part, circuit)
    if isinstance(part, Device) and part.kind is DeviceKind.RECEPTACLE:
        return _wrong(part, circuit, "a receptacle", job)
    if isinstance(part, Appliance) and fed.outlets == 1 and circuit.is_(purpose=Purpose.INDIVIDUAL):
        return Pass()  # 210.22: an individual circuit feeds any load within its rating
    return _wrong(part, circuit, "equipment", job)


def _is_exhaust_fan(part: Part) -> bool:
    return (isinstance(part, Device) and part.kind is DeviceKind.EXHAUST_FAN) or (
        isinstance(part, Appliance) and part.kind is ApplianceKind.EXHAUST_FAN
    )


def _fan(part: Device | Appliance, circuit: Circuit, fed: Fed, job: Job) -> Outcome:
    """Where the circuit lights a bathroom or laundry, its fan may be on it."""
    room = job.plan.rooms[part.room] if isinstance(part, Appliance) else room_of(job.survey, part)
    placed = room is not None and bool({Use.BATHROOM, Use.TOILET, Use.LAUNDRY} & set(room.uses))
    return Pass() if placed and fed.lights else _wrong(part, circuit, "an exhaust fan", job)


def _is_fireplace(part: Device | Appliance, fed: Fed, job: Job) -> bool:
    """A gas fireplace alone on its circuit; a plan draws it as equipment that burns gas."""
    served = appliances_served(job.survey, part) if isinstance(part, Device) else (part,)
    burns = [each for each in served if each.kind is ApplianceKind.OTHER and each.is_among(fuel=GAS)]
    return job.holds("ten_ampere_fireplace") and fed.outlets == 1 and bool(burns)


def _unnamed(device: Device, circuit: Circuit) -> Judgement:
    readings = (
        Reading("The list of what a 10 A circuit may feed names lights, and this is none.", "violation"),
        Reading("It is no receptacle and no appliance of those that are barred by name.", "pass"),
    )
    what = "a ceiling fan" if device.kind is DeviceKind.FAN else "an alarm or chime"
    said = f"{name_of(device)}, {what}, is on {name_of(circuit)}, a 10 A circuit."
    return Judgement(said, readings, facet=device.id, at=device.pointer, related=(circuit.pointer,))


def _wrong(part: Part, circuit: Circuit, what: str, job: Job) -> Violation:
    remedies = (
        *on_breaker(circuit, job.amperes("any_outlet_rating"), job.survey),
        Remedy("Feed it from a 15 A circuit or larger."),
    )
    return Violation(
        f"{name_of(part)} is {what} on {name_of(circuit)}, a {shown(amperes(circuit.breaker.rating))} circuit, which feeds lights.",
        amperes(circuit.breaker.rating),
        job.measure("any_outlet_rating"),
        remedies,
        facet=part.id,
        at=part.pointer,
        related=(circuit.pointer,),
    )
