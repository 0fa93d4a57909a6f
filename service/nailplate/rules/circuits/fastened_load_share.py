"""Where lights or plugs share a 15 A or 20 A circuit, equipment fastened in place takes no more than half of it.

Why: what is built in runs beside whatever is switched on and plugged in; half of the circuit is left for those.

Fix: give the equipment a circuit of its own, or move some of it to another circuit.

Trap: a bath fan of 30 W passes unnoticed, one with a 1500 W heater takes 12.5 A and may not share a lighting circuit. Luminaires do not
count, however many; a dishwasher on a cord does, since it is fastened.

Does not judge: circuits over 20 A, and circuits that feed nothing but fastened equipment (`permissible-load`). Luminaires do
not count as fastened equipment; what is plugged in is judged by `cord-load-share`.

Counted by nameplate; fans and connections without a load are undetermined, a ceiling fan is taken for 175 W at most (common practice).
"""

from nailplate.plan import Circuit
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Line, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.loads import Attached, CircuitLoad, Fed, fed_by, total
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED
from nailplate.units import Amperes, amperes, reaches, shown, within


@rule(
    id="fastened-load-share",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.BRANCH_LOADS,),
    cites={
        "nec-2017": Cite(
            "210.23(A)(2)",
            seen=(2017, 2020),
            note="https://electricalcode.net/2023/12/22/article-210-branch-circuits-part-2-branch-circuit-ratings-210-23",
        ),
        "nec-2023": Cite(
            "210.23(B)(2)",
            seen=(2023,),
            note="https://www.mikeholt.com/newsletters.php?action=display&letterID=2078; a public copy of the 2023 code text",
        ),
        "nec-2026": "210.23(B)(2)",
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    changes={"nec-2023": "The letters of 210.23 move on by one."},
)
def fastened_load_share(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit."""
    fed = fed_by(job.survey, circuit)
    fastened = list(fed.attached(Attached.FASTENED))
    open_ones = [each for each in fed.loads if each.attached is None]
    usual = within(circuit.breaker.rating, job.amperes("several_outlets_rating"))
    if not usual or not (fastened or open_ones) or not _shares(fed):
        return NotConcerned()
    limit = Amperes(job.share("fastened_load_share") * circuit.breaker.rating)
    (least, most, needs), (_, further, unsaid) = total(fastened), total(open_ones)
    if not within(least, circuit.breaker.rating):
        return NotConcerned()  # permissible-load tells of it
    if within(most + further, limit):
        return Pass(amperes(least), amperes(limit))
    if within(least, limit):
        return Undetermined((*needs, *unsaid)[:MOST_NAMED], lines=_lines(fastened))
    return _too_much(circuit, fastened, least, limit, job)


def _shares(fed: Fed) -> bool:
    """Whether lights, receptacles for use, or equipment that is not fastened are on it too."""
    others = any(each.attached in (Attached.CORD, Attached.CARRIED, None) for each in fed.loads)
    return fed.lights or others or bool(fed.receptacles_for_use)


def _too_much(circuit: Circuit, fastened: list[CircuitLoad], drawn: float, limit: Amperes, job: Job) -> Violation:
    heaviest = max(fastened, key=lambda each: each.least)
    names = ", ".join(name_of(each.part) for each in fastened if each.least > 0)
    rating, largest = circuit.breaker.rating, job.amperes("several_outlets_rating")
    would_do = not reaches(rating, largest) and within(drawn, job.share("fastened_load_share") * largest)
    larger = on_breaker(circuit, largest, job.survey) if would_do else ()
    ways = (*larger, Remedy(f"Give {name_of(heaviest.part)} a circuit of its own."))
    related = tuple(each.part.pointer for each in fastened)
    said = (
        f"Equipment fastened in place draws {shown(amperes(drawn))} on {name_of(circuit)} ({names}); with lights or plugs on it too, half of "
        f"its {shown(amperes(rating))}, {shown(amperes(limit))}, is the most."
    )
    return Violation(said, amperes(drawn), amperes(limit), ways, _lines(fastened), related=related)


def _lines(loads: list[CircuitLoad]) -> tuple[Line, ...]:
    drawn = (each for each in loads if each.least > 0)
    return tuple(Line(name_of(each.part), 1, amperes(each.least), amperes(each.least), "210.23") for each in drawn)
