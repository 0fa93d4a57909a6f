"""A breaker is no larger than its smallest wire allows.

Why: a wire that may carry more than its insulation stands overheats inside the wall, and the breaker never trips.

Fix: use a smaller breaker, or larger wire all the way from the panel to the last outlet.

Trap: 14, 12 and 10 AWG copper stay at 15, 20 and 30 A whatever the tables give them. The next standard breaker up is open only where
the wire's ampacity is no standard rating, and never to a circuit of several receptacles. Three or more cables without spacing in a
sealed hole or in foam lose ampacity. Motors, welders and listed cooling equipment go by their nameplates (240.4(G)).

Does not judge: taps (240.4(E), 240.21): a tap to a cooking unit is put as a question to the authority having jurisdiction, any other
thinner wire is judged as a part of its circuit. What the circuit's loads require of its wire is told by `continuous-load`, and bundles
that are not stated by `bundles-stated`.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit
from nailplate.rulekit import Cite, Hazard, Job, Outcome, Severity, Subject, rule
from nailplate.rules.circuits.protected_wire import wire_outcomes


@rule(
    id="conductor-protection",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.BREAKERS_AND_WIRE,),
    cites={
        "nec-2017": Cite(
            "240.4", seen=(2017, 2020, 2023), note="public copies of code text and trade press on 240.4(B) and (D)"
        )
    },
    limits=(
        "armored_relief_each",
        "armored_relief_size",
        "armored_relief_together",
        "cables_without_adjustment",
        "several_outlets_rating",
        "short_run_length",
        "short_run_share",
    ),
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def conductor_protection(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """240.4(B), (D) and (G), 310.16, 334.80. One outcome for the circuit's own wire, one for each cable of another size."""
    yield from job.survey.once(wire_outcomes, circuit.id, job.edition)
