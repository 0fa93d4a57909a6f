"""The wire of a circuit against what its load asks of it, as one outcome of the rules on loads."""

from dataclasses import dataclass

from nailplate.plan import Circuit, Pointer
from nailplate.remedies.changed_breakers import wired_for
from nailplate.rulekit import Job, NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED, circuit_wire
from nailplate.units import Amperes, amperes, reaches, shown


@dataclass(frozen=True, slots=True)
class Asked:
    """Amperes that a load asks of breaker and wire, at least and at most, and what is missing between the two."""

    least: float
    most: float
    needs: tuple[Pointer, ...] = ()


def wire_outcome(circuit: Circuit, want: Asked, load: str, job: Job, related: tuple[Pointer, ...] = ()) -> Outcome:
    """Whether the wire, before correction and adjustment, has an ampacity of it.

    Where it is too small for its breaker, conductor-protection tells; what is left of it in a bundle is bundled-in-insulation's.
    """
    wire = circuit_wire(job.survey, circuit, job.edition)
    if not (wire.known and wire.allows_breaker):
        return NotConcerned(facet="wire")
    if reaches(wire.worst, want.most):
        return Pass(amperes(wire.worst), amperes(want.most), "wire")
    if reaches(wire.best, want.least):
        return Undetermined((*want.needs, *wire.needs)[:MOST_NAMED], facet="wire")
    return Violation(
        f"The wire of {name_of(circuit)} has an ampacity of {shown(amperes(wire.best))}; {load} needs {shown(amperes(want.least))}.",
        amperes(wire.best),
        amperes(want.least),
        wired_for(circuit, Amperes(want.least), job.survey),
        facet="wire",
        related=related,
    )
