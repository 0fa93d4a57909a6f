"""A circuit for fixed electric heat carries 125 percent of its heaters and their blowers.

Why: on the coldest night heat runs without a pause; breaker and wire that are only just large enough open, or age, in the wall.

Fix: use the next breaker that reaches 125 percent of the heaters together, with wire that suits it, or divide the heaters.

Trap: 20 A at 240 V carry 3840 W of baseboard heaters, not 4800. Several heaters may share a circuit of up to 30 A; a larger one is for one
heater alone.

Does not judge: Heaters that are plugged in are no fixed heat. Electric furnaces of over 48 A, whose elements are divided, are
not looked at.
"""

from collections.abc import Iterator

from nailplate.calc.overcurrent import next_standard
from nailplate.plan import Appliance, Circuit, Pointer
from nailplate.plan.words import ApplianceKind
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Line, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.circuits.wire_bears import Asked, wire_outcome
from nailplate.survey.loads import Attached, CircuitLoad, Trade, fed_by, total
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED
from nailplate.units import Amperes, amperes, reaches, shown, within

Needs = tuple[Pointer, ...]
_MAY_BURN_FUEL = frozenset({ApplianceKind.FURNACE, ApplianceKind.WALL_HEATER})
_NOTE = "the 125 percent in 2017: https://www.mikeholt.com/newsletters.php?action=display&letterID=2089; the ratings of shared circuits from memory"


@rule(
    id="fixed-heat-circuit",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite("424.3(A), 424.3(B)", note=_NOTE),
        "nec-2020": Cite("424.4(A), 424.4(B)", note=_NOTE),
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
    changes={"nec-2020": "The sentences on branch circuits move from 424.3 to 424.4."},
)
def fixed_heat_circuit(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """The breaker, how many heaters share it, and where the breaker suits its wire the wire."""
    loads = fed_by(job.survey, circuit).loads
    heaters = [each for each in loads if _is_fixed_heat(each)]
    if not heaters:
        yield NotConcerned()
        return
    unsaid = [each.where("fuel") for each in _of_open_fuel(heaters)]
    if unsaid:
        yield Undetermined(tuple(unsaid)[:MOST_NAMED])
        return
    others = [each for each in loads if not _is_fixed_heat(each) and each.attached is not Attached.CARRIED]
    (least, most, needs), (more, much, further) = total(heaters), total(others)
    span = (least * job.share("fixed_heat_share") + more, most * job.share("fixed_heat_share") + much)
    missing = (*needs, *further)
    yield _breaker(circuit, heaters, span, missing, job)
    if len(heaters) > 1:
        yield _shared(circuit, heaters, least, job)
    if reaches(circuit.breaker.rating, span[1]):
        want = Asked(*span, missing)
        yield wire_outcome(circuit, want, "125 % of its heat", job)


def _is_fixed_heat(load: CircuitLoad) -> bool:
    return load.trade is Trade.HEAT and load.attached is not Attached.CORD


def _of_open_fuel(heaters: list[CircuitLoad]) -> list[Appliance]:
    found = [each.part for each in heaters if isinstance(each.part, Appliance) and each.part.kind in _MAY_BURN_FUEL]
    return [each for each in found if not each.knows("fuel")]


def _breaker(circuit: Circuit, heaters: list[CircuitLoad], span: tuple[float, float], needs: Needs, job: Job) -> Outcome:
    (least, most), rating = span, circuit.breaker.rating
    if reaches(rating, most):
        return Pass(amperes(rating), amperes(least), "breaker")
    if reaches(rating, least):
        return Undetermined(needs[:MOST_NAMED], facet="breaker")
    wanted = next_standard(Amperes(least), job.edition.overcurrent)
    fits = wanted is not None and (len(heaters) == 1 or within(wanted, job.amperes("fixed_heat_shared_rating")))
    divide = () if len(heaters) == 1 else (Remedy("Divide the heaters between two circuits."),)
    return Violation(
        f"{name_of(circuit)} has a {shown(amperes(rating))} breaker; 125 % of its heat, with what else is on it, comes to "
        f"{shown(amperes(least))}.",
        amperes(rating),
        amperes(least),
        (*(on_breaker(circuit, wanted, job.survey, least) if fits and wanted else ()), *divide),
        _lines(heaters, job),
        "breaker",
        related=tuple(each.part.pointer for each in heaters),
    )


def _shared(circuit: Circuit, heaters: list[CircuitLoad], drawn: float, job: Job) -> Outcome:
    rating = circuit.breaker.rating
    if within(rating, job.amperes("fixed_heat_shared_rating")):
        return Pass(amperes(rating), job.measure("fixed_heat_shared_rating"), "shared")
    smaller = (
        on_breaker(circuit, job.amperes("fixed_heat_shared_rating"), job.survey)
        if within(drawn * job.share("fixed_heat_share"), job.amperes("fixed_heat_shared_rating"))
        else ()
    )
    return Violation(
        f"{len(heaters)} heaters share {name_of(circuit)}, a {shown(amperes(rating))} circuit; "
        f"{shown(job.measure('fixed_heat_shared_rating'))} is the most for several.",
        amperes(rating),
        job.measure("fixed_heat_shared_rating"),
        (*smaller, Remedy("Give each heater a circuit of its own.")),
        facet="shared",
        related=tuple(each.part.pointer for each in heaters),
    )


def _lines(heaters: list[CircuitLoad], job: Job) -> tuple[Line, ...]:
    return tuple(
        Line(
            name_of(each.part),
            1,
            amperes(each.least * job.share("fixed_heat_share")),
            amperes(each.least * job.share("fixed_heat_share")),
            "424",
        )
        for each in heaters
    )
