"""A circuit for electric cooking is rated for its load, and for 40 A where a range of 8 3/4 kW or more is on it.

Why: all of a range's elements at once draw more than its circuit is counted for; a smaller circuit than the code's opens at dinner.

Fix: use the breaker that the load requires, with wire that suits it from panel to outlet.

Trap: one range counts by the demand table, 8 kW for a nameplate of up to 12; one oven or one cooktop counts by its nameplate in full. A
cooktop and up to two ovens of one room, on one circuit, are added and count as one range.

Does not judge: Cooking appliances of 1 3/4 kW or less, and gas appliances, go with other loads. A range's neutral is
`smallest-conductor`'s matter, taps to ovens and cooktops are `conductor-protection`'s.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nailplate.calc.loads.cooking import as_one_range, cooking_demand
from nailplate.calc.overcurrent import next_standard
from nailplate.calc.steps import CalculationError
from nailplate.plan import Appliance, Circuit
from nailplate.plan.trade import COOKING
from nailplate.plan.words import ApplianceKind, Fuel
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.circuits.wire_bears import Asked, wire_outcome
from nailplate.survey.loads import fed_by, nameplate
from nailplate.survey.names import name_of
from nailplate.units import Amperes, VoltAmperes, amperes, reaches, shown, volt_amperes, within

_KILO = 1000.0
_MOST_OVENS = 2


@rule(
    id="range-circuit",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.19(A)(3), Table 220.55 note 4",
            note="https://forums.mikeholt.com/threads/feeder-to-dwelling-unit-with-1-oven.2568725 (note 4)",
        ),
        "nec-2020": Cite(
            "210.19(A)(3), Table 220.55 note 4",
            seen=(2020,),
            note="a public reprint of the 2020 code text; note 4: https://forums.mikeholt.com/threads/feeder-to-dwelling-unit-with-1-oven.2568725",
        ),
        "nec-2023": Cite("210.19(C), Table 220.55 notes 4 to 6", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "210.19(C), Table 120.55",
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    changes={
        "nec-2023": "The sentence on ranges stands in 210.19(C), and note 4 of the table is divided into notes 4, 5 and 6.",
        "nec-2026": "The table moves to Article 120.",
    },
)
def range_circuit(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """The breaker against the demand, and the wire against the breaker."""
    cooking = [each for each in fed_by(job.survey, circuit).appliances if each.kind in COOKING]
    electric = [
        each
        for each in cooking
        if each.fuel is Fuel.NONE and not within(nameplate(each), job.volt_amperes("small_cooking_unit"))
    ]
    if not electric:
        yield NotConcerned()
        return
    try:
        load = _load(electric, job)
    except CalculationError as error:
        yield Undetermined((), f"The load of {name_of(circuit)} is not evaluated: {error}.")
        return
    yield _breaker(circuit, electric, load, job)
    rating = circuit.breaker.rating
    if reaches(rating, load.amperes):  # 210.19: such wire bears the circuit's rating, next size up or not
        yield wire_outcome(circuit, Asked(rating, rating), "a circuit for cooking of this rating", job)


@dataclass(frozen=True, slots=True)
class _Load:
    """Volt-amperes, amperes, and how they were found."""

    volt_amperes: float
    amperes: Amperes
    how: str


def _load(electric: Sequence[Appliance], job: Job) -> _Load:
    volts = min(each.volts for each in electric)
    watts, how = _watts(electric, job)
    return _Load(watts, Amperes(watts / volts), how)


def _watts(electric: Sequence[Appliance], job: Job) -> tuple[float, str]:
    plates = [nameplate(each) for each in electric]
    tops = [nameplate(each) for each in electric if each.kind is ApplianceKind.COOKTOP]
    ovens = [nameplate(each) for each in electric if each.kind is ApplianceKind.WALL_OVEN]
    table = job.edition.cooking.cite
    if len(electric) == 1 and electric[0].kind is ApplianceKind.RANGE:
        return cooking_demand([plates[0] / _KILO], job.edition).kilowatts * _KILO, f"one range by {table}"
    together = len(tops) == 1 and 1 <= len(ovens) <= _MOST_OVENS and len(tops) + len(ovens) == len(electric)
    if together and len({each.room for each in electric}) == 1:
        return _as_one(tops[0], ovens, job), f"cooktop and ovens as one range by {table}"
    return sum(plates), "by nameplate"


def _as_one(top: VoltAmperes, ovens: Sequence[VoltAmperes], job: Job) -> float:
    return as_one_range(top / _KILO, [each / _KILO for each in ovens], job.edition) * _KILO


def _breaker(circuit: Circuit, electric: Sequence[Appliance], load: _Load, job: Job) -> Outcome:
    large = any(
        each.kind is ApplianceKind.RANGE and reaches(nameplate(each), job.volt_amperes("large_range")) for each in electric
    )
    least = Amperes(max(load.amperes, job.amperes("large_range_circuit") if large else 0.0))
    rating = circuit.breaker.rating
    if reaches(rating, least):
        return Pass(amperes(rating), amperes(least), "breaker")
    wanted = next_standard(least, job.edition.overcurrent)
    forty = f"; a range of 8.75 kW or more takes {shown(job.measure('large_range_circuit'))} at least" if large else ""
    return Violation(
        f"{name_of(circuit)} has a {shown(amperes(rating))} breaker; its load, {load.how}, is {shown(volt_amperes(load.volt_amperes))}, "
        f"{shown(amperes(load.amperes))}{forty}.",
        amperes(rating),
        amperes(least),
        on_breaker(circuit, wanted, job.survey, wanted) if wanted else (),
        facet="breaker",
        related=tuple(each.pointer for each in electric),
    )
