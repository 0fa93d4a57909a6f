"""The chassis of a house on wheels is bonded to the panel's grounding bar, with 8 AWG copper or larger.

Why: a live conductor that touches the frame makes the steps, the tongue and the metal skin live, and nothing trips.

Fix: run 8 AWG copper from the grounding bar to a clean spot on the frame, with a listed lug; bond metal roof and skin to it too.

Trap: tires insulate. The cord's grounding conductor ends at the panel; only the bond brings it to the frame.

Does not judge: where and how the conductor is fastened to the frame, its protection from corrosion, and the bonds of metal
skin, roof, and gas and water piping: these are for a look on site. Where the neutral is bonded is judged by
`neutral-bond-place`.
"""

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, state
from nailplate.survey.names import name_of


@rule(
    id="chassis-bond",
    over=Supply,
    severity=Severity.DANGER,
    subjects=(Subject.BONDING,),
    cites={
        "nec-2017": Cite(
            "551.56(C), 552.57", note="https://www.codebookcity.com/codearticles/nec/necarticle551-2.htm, of an older edition"
        ),
        "nec-2020": "551.56(C), 552.57",
        "nec-2023": "551.56(C), 552.57",
        "nec-2026": "551.56(C), 552.57",
    },
    hazards=(Hazard.SHOCK,),
)
def chassis_bond(supply: Supply, job: Job) -> Outcome:
    """Judges one supply of a house on wheels."""
    if supply.kind is SupplyKind.SERVICE or supply.knows("starts_at") or not _on_wheels(supply, job):
        return NotConcerned()
    bond, least = supply.chassis_bond, job.size("chassis_bond_size")
    if not bond.provided:
        return Violation(
            f"The chassis is not bonded to the grounding bar of the panel on {name_of(supply)}.",
            remedies=(
                Remedy(
                    f"Run {least} copper from the grounding bar to the frame.",
                    (state(supply, "chassis_bond", {"provided": True, "size": least}),),
                ),
            ),
        )
    if not job.edition.conductors.larger(least, bond.size):
        return Pass()
    return Violation(
        f"The chassis bond of the panel on {name_of(supply)} is {bond.size}; {least} copper is the least.",
        remedies=(
            Remedy(f"Use {least} copper or larger.", (state(supply, "chassis_bond", {"provided": True, "size": least}),)),
        ),
    )


def _on_wheels(supply: Supply, job: Job) -> bool:
    """Where the plan does not say it, a supply by cord asks; a feeder is taken to stand at a house on a foundation."""
    basis = job.plan.basis
    return basis.on_wheels if supply.kind is SupplyKind.CORD_INLET or basis.knows("on_wheels") else False
