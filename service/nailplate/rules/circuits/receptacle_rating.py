"""A receptacle's rating fits the circuit it is on.

Why: a plug that fits a receptacle may draw all that the receptacle promises; circuit and contacts must both carry it.

Fix: use a receptacle of a rating that the circuit's breaker allows.

Trap: a range's receptacle may be rated for its demand, and a welder's for its nameplate's least, although the breaker is larger.

Does not judge: small portable motors on a cord (430.81(B)), and receptacles built into appliances and luminaires.
"""

from collections.abc import Iterator

from nailplate.calc.loads.cooking import column_c
from nailplate.plan import Circuit, Device
from nailplate.plan.trade import NOT_OUTLETS
from nailplate.plan.words import ApplianceKind, Connection, DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, each_of, state
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served
from nailplate.units import Amperes, amperes, reaches, shown, within, written

NOTE = "public summaries of Table 210.21(B)(3) and trade press on 210.21(B)(1)"
_KILO = 1000.0
_HOUSEHOLD = 20.0


@rule(
    id="receptacle-rating",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.RECEPTACLE_RATINGS,),
    cites={"nec-2017": Cite("210.21(B)", seen=(2020, 2023), note=NOTE)},
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def receptacle_rating(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.21(B)(1) for a single receptacle on an individual circuit, (B)(3) for two or more; a duplex is two."""
    found = [each for each in job.survey.devices_on_circuit.get(circuit.id, []) if _is_receptacle(each)]
    if not found:
        yield NotConcerned()
        return
    rating = circuit.breaker.rating
    yield from each_of(found, _judged, rating, circuit, job)


def _is_receptacle(device: Device) -> bool:
    """What is built into an appliance or luminaire is that one's matter."""
    return device.kind is DeviceKind.RECEPTACLE and not device.knows("part_of")


def _judged(receptacle: Device, rating: Amperes, circuit: Circuit, job: Job) -> Outcome:
    """Where it may be a single one or a duplex, both are tried, and the number of contacts asked for only if it decides."""
    if not _only_outlet(circuit, job):
        return _several(receptacle, rating, circuit, job)
    if receptacle.knows("contacts"):
        return _single(receptacle, rating, job) if receptacle.contacts == 1 else _several(receptacle, rating, circuit, job)
    as_single, as_several = _single(receptacle, rating, job), _several(receptacle, rating, circuit, job)
    if type(as_single) is type(as_several):
        return as_several
    return Undetermined((receptacle.where("contacts"),))


def _only_outlet(circuit: Circuit, job: Job) -> bool:
    outlets = [each for each in job.survey.devices_on_circuit[circuit.id] if each.kind not in NOT_OUTLETS]
    wired = [each for each in job.survey.appliances_on_circuit.get(circuit.id, []) if not each.knows("outlet")]
    hard_wired = any(each.is_(connection=Connection.HARD_WIRED) for each in wired)
    return len(outlets) == 1 and not hard_wired


def _single(receptacle: Device, rating: Amperes, job: Job) -> Outcome:
    least = _range_current(receptacle, rating, job)
    if reaches(receptacle.rating, least):
        return Pass(amperes(receptacle.rating), amperes(least))
    said = f"{name_of(receptacle)} is a single receptacle on a {shown(amperes(rating))} individual circuit"
    said = f"{said} and is rated {shown(amperes(receptacle.rating))}, less than {shown(amperes(least))}."
    made = sorted({each for row in job.edition.receptacle_ratings.by_circuit.values() for each in row})
    better = next((each for each in made if reaches(each, least)), rating)
    return _wrong(receptacle, said, least, (_other_receptacle(receptacle, better),))


def _range_current(receptacle: Device, rating: Amperes, job: Job) -> Amperes:
    """The circuit's rating; for a range's receptacle its demand will do (210.21(B)(4)), for a welder's its wire's least (630.11)."""
    served = appliances_served(job.survey, receptacle)
    if served and not reaches(receptacle.rating, rating) and all(each.kind is ApplianceKind.WELDER for each in served):
        return Amperes(min(rating, max(each.minimum_circuit for each in served)))
    if reaches(receptacle.rating, rating) or not any(each.kind is ApplianceKind.RANGE for each in served):
        return rating
    cooker = next(each for each in served if each.kind is ApplianceKind.RANGE)
    demand = column_c([cooker.power / _KILO], job.edition.cooking) * _KILO
    return Amperes(min(rating, demand / cooker.volts))


def _several(receptacle: Device, rating: Amperes, circuit: Circuit, job: Job) -> Outcome:
    by_circuit = job.edition.receptacle_ratings.by_circuit
    allowed = by_circuit.get(int(rating)) if float(rating).is_integer() else None
    if allowed is None:
        said = f"No rating is allowed for two or more receptacles on a {shown(amperes(rating))} circuit."
        remedies = _smaller_breaker(circuit, job)
        return Violation(said, amperes(receptacle.rating), remedies=remedies)
    if receptacle.rating in allowed:
        return Pass(amperes(receptacle.rating), amperes(max(allowed)))
    names = " or ".join(f"{each:g} A" for each in allowed)
    said = (
        f"{name_of(receptacle)} is rated {shown(amperes(receptacle.rating))}; a {shown(amperes(rating))} circuit takes {names}."
    )
    remedies = (_other_receptacle(receptacle, max(allowed)), *_smaller_breaker(circuit, job))
    return _wrong(receptacle, said, max(allowed), remedies)


def _other_receptacle(receptacle: Device, rating: Amperes) -> Remedy:
    """Another receptacle; a 30 A one does not take the plugs of a household one, so that it is no swap by itself."""
    household = within(receptacle.rating, _HOUSEHOLD) and not within(rating, _HOUSEHOLD)
    change = () if household else (state(receptacle, "rating", written(amperes(rating))),)
    return Remedy(f"Use a receptacle rated {shown(amperes(rating))}.", change)


def _smaller_breaker(circuit: Circuit, job: Job) -> tuple[Remedy, ...]:
    """The largest smaller breaker that every receptacle on the circuit suits, if there is one."""
    found = [each for each in job.survey.devices_on_circuit[circuit.id] if _is_receptacle(each)]
    if not all(each.knows("rating") for each in found):
        return ()
    table = job.edition.receptacle_ratings.by_circuit
    suits = [rating for rating, row in table.items() if all(each.rating in row for each in found)]
    smaller = [rating for rating in suits if not reaches(rating, circuit.breaker.rating)]
    if not smaller:
        return ()
    best = amperes(max(smaller))
    change = (state(circuit.breaker, "rating", written(best)),)
    return (Remedy(f"Or use a {shown(best)} breaker, if the loads allow it.", change),)


def _wrong(receptacle: Device, said: str, limit: Amperes, remedies: tuple[Remedy, ...]) -> Violation:
    return Violation(
        message=said,
        measured=amperes(receptacle.rating),
        limit=amperes(limit),
        remedies=remedies,
    )
