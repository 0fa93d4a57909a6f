"""A water heater's circuit carries 125 percent of it where it stores up to 120 gallons, and its breaker is no larger than it allows.

Why: a storage heater runs for hours on a cold morning; too small a breaker opens, too large a one lets a shorted element burn.

Fix: for 4500 W at 240 V use 25 A or 30 A on 10 AWG copper.

Trap: 20 A and 12 AWG are too little for 4500 W, although it draws 18.75 A; and 2000 W at 120 V does not go on 20 A. A heater without a
tank counts by its nameplate. 15 A may be enough for a small heater and is not the most that it may have.

Does not judge: a breaker larger than its wire carries is told by `conductor-protection`. Elements of over 48 A, which are
divided, are not looked at.
"""

from collections.abc import Iterator

from nailplate.calc.overcurrent import appliance_overcurrent, next_standard, rating_not_over
from nailplate.plan import Appliance, Circuit
from nailplate.plan.trade import WATER_HEATING
from nailplate.plan.words import ApplianceKind, Fuel
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.circuits.wire_bears import Asked, wire_outcome
from nailplate.survey.loads import amperes_drawn, circuit_id_of
from nailplate.survey.names import name_of
from nailplate.survey.wiring import circuit_wire
from nailplate.units import Amperes, amperes, reaches, shown, within

_CUBIC_INCHES_A_GALLON = 231
"""Of a US gallon, by definition."""


@rule(
    id="water-heater-circuit",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "422.13, 422.11(E)",
            seen=(2017,),
            note="https://forums.mikeholt.com/threads/123296 (125 percent); https://forums.mikeholt.com/threads/2553027 and, quoting 2017, "
            "https://forums.mikeholt.com/threads/unit-6-question-50-from-mh-eep-based-on-the-2017-nec.2571930 (the most)",
        )
    },
    hazards=(Hazard.OVERHEATING, Hazard.OVERLOAD, Hazard.FIRE),
)
def water_heater_circuit(appliance: Appliance, job: Job) -> Iterator[Outcome]:
    """The least and the most that the breaker may be, and the wire."""
    if appliance.kind not in WATER_HEATING or appliance.isnt(fuel=Fuel.NONE):
        yield NotConcerned()
        return
    circuit_id = circuit_id_of(job.survey, appliance)
    if not appliance.knows("fuel"):
        yield _of_unsaid_fuel(appliance, circuit_id)
        return
    circuit = job.plan.circuits[circuit_id or appliance.circuit]
    drawn, (least, most) = amperes_drawn(appliance), _asked(appliance, job)
    yield _least(appliance, circuit, least, most, job)
    if circuit_wire(job.survey, circuit, job.edition).allows_breaker:
        yield _largest(appliance, circuit, drawn, job)
    if reaches(circuit.breaker.rating, most):
        unsaid = () if appliance.knows("capacity") else (appliance.where("capacity"),)
        want = Asked(least, most, unsaid)
        yield wire_outcome(circuit, want, name_of(appliance), job, (circuit.pointer,))


def _of_unsaid_fuel(appliance: Appliance, circuit_id: str | None) -> Undetermined:
    """What it burns is asked for once it has a circuit; until then the circuit is."""
    if circuit_id is not None:
        return Undetermined((appliance.where("fuel"),))
    said = f"Neither the circuit of {name_of(appliance)} is said, nor that it uses a fuel."
    return Undetermined((appliance.where("circuit"),), said)


def _asked(appliance: Appliance, job: Job) -> tuple[float, float]:
    """Amperes that the circuit must bear, at least and, as long as the tank's size is not known, at most."""
    drawn = amperes_drawn(appliance)
    more = drawn * job.share("storage_heater_share")
    if appliance.kind is ApplianceKind.TANKLESS_HEATER:
        running = appliance.is_(continuous=True)
        return (more, more) if running else (drawn, drawn)
    if not appliance.knows("capacity"):
        return drawn, more
    return (more, more) if within(appliance.capacity, job.cubic_inches("storage_heater_capacity")) else (drawn, drawn)


def _least(appliance: Appliance, circuit: Circuit, least: float, most: float, job: Job) -> Outcome:
    rating = circuit.breaker.rating
    if reaches(rating, most):
        return Pass(amperes(rating), amperes(most), "least")
    if reaches(rating, least):
        return Undetermined((appliance.where("capacity"),), _only_a_large_tank(appliance, circuit, most, job), "least")
    wanted = next_standard(Amperes(most), job.edition.overcurrent)
    return Violation(
        f"{name_of(appliance)} draws {shown(amperes(amperes_drawn(appliance)))} and requires a {shown(amperes(most))} circuit; "
        f"{name_of(circuit)} has a {shown(amperes(rating))} breaker.",
        amperes(rating),
        amperes(least),
        on_breaker(circuit, wanted, job.survey, most) if wanted else (),
        facet="least",
        related=(circuit.pointer,),
    )


def _only_a_large_tank(appliance: Appliance, circuit: Circuit, most: float, job: Job) -> str:
    """Why the size of the tank is asked for: a house's usual tank would be a violation."""
    size = f"{job.cubic_inches('storage_heater_capacity') / _CUBIC_INCHES_A_GALLON:.0f} gal"
    return (
        f"With a tank of up to {size} {name_of(appliance)} requires a {shown(amperes(most))} circuit; {name_of(circuit)} has a "
        f"{shown(amperes(circuit.breaker.rating))} breaker, which does only for a larger tank. The size of the tank is not said."
    )


def _largest(appliance: Appliance, circuit: Circuit, drawn: float, job: Job) -> Outcome:
    marked = appliance.knows("max_overcurrent")
    limit = appliance.max_overcurrent if marked else appliance_overcurrent(Amperes(drawn), job.edition).rating
    rating = circuit.breaker.rating
    if limit is None or within(rating, limit):
        return Pass(amperes(rating), amperes(limit) if limit is not None else None, "most")
    allowed = rating_not_over(limit, job.edition.overcurrent)
    by = "its nameplate allows" if marked else f"for {shown(amperes(drawn))} the most is"
    return Violation(
        f"{name_of(appliance)} is on a {shown(amperes(rating))} breaker; {by} {shown(amperes(limit))}.",
        amperes(rating),
        amperes(limit),
        on_breaker(circuit, allowed, job.survey) if allowed else (),
        facet="most",
        related=(circuit.pointer,),
    )
