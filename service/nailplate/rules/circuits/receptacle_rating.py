"""A receptacle's rating fits the circuit it is on.

Why: a plug that fits a receptacle may draw all that the receptacle promises; circuit and contacts must both bear it.

Put it right: use a receptacle of a rating that the circuit's breaker allows.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Violation, rule, state
from nailplate.units import amperes, reaches, shown

NOTE = "public summaries of Table 210.21(B)(3) and trade press on 210.21(B)(1)"


@rule(
    id="receptacle-rating",
    over=Circuit,
    severity=Severity.CODE,
    cites={"nec-2017": Cite("210.21(B)", seen=(2020, 2023), note=NOTE)},
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def receptacle_rating(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.21(B)(1) for a single receptacle on an individual circuit, (B)(3) for two or more; a duplex is two."""
    found = [each for each in job.survey.devices_on_circuit.get(circuit.id, []) if each.kind is DeviceKind.RECEPTACLE]
    if not found:
        yield NotConcerned()
        return
    rating = circuit.breaker.rating
    single = len(found) == 1 and _only_outlet(circuit, job) and found[0].contacts == 1
    for receptacle in found:
        yield _single(receptacle, rating) if single else _several(receptacle, rating, job)


def _only_outlet(circuit: Circuit, job: Job) -> bool:
    switching = (DeviceKind.SWITCH, DeviceKind.DISCONNECT, DeviceKind.BLANK_GFCI)
    return len([each for each in job.survey.devices_on_circuit[circuit.id] if each.kind not in switching]) == 1


def _single(receptacle: Device, rating: float) -> Outcome:
    if reaches(receptacle.rating, rating):
        return Pass(amperes(receptacle.rating), amperes(rating), facet=receptacle.id)
    said = f"A single receptacle on a {shown(amperes(rating))} individual circuit is rated {shown(amperes(receptacle.rating))}, less than the circuit."
    return _wrong(receptacle, said, rating, rating)


def _several(receptacle: Device, rating: float, job: Job) -> Outcome:
    allowed = job.edition.receptacle_ratings.by_circuit.get(int(rating))
    if allowed is None:
        said = f"No rating is allowed for two or more receptacles on a {shown(amperes(rating))} circuit."
        return Violation(said, amperes(receptacle.rating), facet=receptacle.id, at=receptacle.pointer)
    if receptacle.rating in allowed:
        return Pass(amperes(receptacle.rating), amperes(max(allowed)), facet=receptacle.id)
    names = " or ".join(f"{each:g} A" for each in allowed)
    said = f"A {shown(amperes(receptacle.rating))} receptacle is on a {shown(amperes(rating))} circuit, which takes {names}."
    return _wrong(receptacle, said, max(allowed), max(allowed))


def _wrong(receptacle: Device, said: str, limit: float, better: float) -> Violation:
    words = f"Use a receptacle rated {shown(amperes(better))}."
    return Violation(
        message=said,
        measured=amperes(receptacle.rating),
        limit=amperes(limit),
        facet=receptacle.id,
        at=receptacle.pointer,
        remedies=(Remedy(words, (state(receptacle, "rating", f"{better:g} A"),)),),
    )
