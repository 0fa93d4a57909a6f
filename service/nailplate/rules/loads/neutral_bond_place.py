"""Neutral and enclosure are bonded once, at the service or source, and nowhere downstream of it.

Why: a second bond puts neutral current on metal parts, frames and the bare conductors of cables; none at all leaves a fault without a way
back, and no breaker opens.

Fix: bond at the service disconnect or at the generator or inverter that is the source; in every panel downstream take the bonding
screw or strap out and keep neutrals and grounding conductors on bars of their own.

Trap: a new panel often comes with its bonding screw in the bag or installed. The panel of a house on a cord is never the place of the bond.
Where the service disconnect is outdoors ahead of the panel, the bond is there; of two service disconnects side by side each is bonded.

An existing feeder without a grounding conductor, to a separate building, may keep its bond there: both readings are told.

Does not judge: whether transfer equipment switches the neutral. Electrodes are judged by `electrode`, a chassis by `chassis-bond`, frames
of ranges and dryers by `range-dryer-neutral`.
"""

from nailplate.plan import Panel, Supply
from nailplate.plan.words import DisconnectKind, NeutralBond, PanelKind, SupplyKind
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Hazard, Job, Judgement, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.loads.old_feeders import THREE_WIRE_READINGS, may_be_old
from nailplate.survey.loads import SOURCES, panels_on
from nailplate.survey.names import name_of

_SERVICE_EQUIPMENT = frozenset({PanelKind.SERVICE, PanelKind.METER_MAIN})


@rule(
    id="neutral-bond-place",
    over=Panel,
    severity=Severity.DANGER,
    subjects=(Subject.BONDING,),
    cites={
        "nec-2017": "250.24(A)(5), 250.32(B), 250.142(B), 408.40",
        "nec-2020": "250.24(A)(5), 250.32(B), 250.142(B), 408.40",
        "nec-2023": "250.24(B), 250.32(B), 250.142(B), 408.40",
        "nec-2026": "250.24(B), 250.32(B), 250.142(B), 408.40",
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
    needs=("supply",),
)
def neutral_bond_place(panel: Panel, job: Job) -> Outcome:
    """Judges one panel."""
    supply = job.plan.supplies[panel.supply]
    if supply.kind is SupplyKind.SERVICE:
        return _at_service(panel, supply, job)
    if supply.kind in SOURCES:
        return _at_source(panel, supply, job)
    if panel.neutral_bond is NeutralBond.ISOLATED:
        return Pass()
    if may_be_old(supply):
        said = f"Neutral and enclosure are bonded in {name_of(panel)}, and {name_of(supply)} brings no grounding conductor."
        return Judgement(said, THREE_WIRE_READINGS, related=(supply.pointer,))
    behind = "a supply cord" if supply.kind is SupplyKind.CORD_INLET else "a feeder"
    return Violation(
        f"Neutral and enclosure are bonded in {name_of(panel)}, which is fed by {behind}: neutral current runs on metal parts.",
        remedies=(
            Remedy("Take out the bonding screw or strap and separate the bars.", (state(panel, "neutral_bond", "isolated"),)),
        ),
    )


def _at_service(panel: Panel, supply: Supply, job: Job) -> Outcome:
    """One panel on the service bonds, or each that is service equipment; one ahead of it, as a meter-main, serves as well."""
    if panel.neutral_bond is NeutralBond.BONDED:
        return _bonded_at_service(panel, supply, job)
    if supply.knows("bond_panel"):
        return NotConcerned() if supply.bond_panel != panel.id else _nowhere(panel, supply)
    others = [each for each in panels_on(job.survey, supply) if each is not panel]
    if any(_is_bonded(each) for each in others):
        return Pass()
    unknown = tuple(each.where("neutral_bond") for each in others if not each.knows("neutral_bond"))
    if unknown:
        return Undetermined(unknown)
    if panel.kind not in _SERVICE_EQUIPMENT and _has_disconnect_ahead(supply):
        message = f"Whether the neutral of {name_of(supply)} is bonded at the disconnect ahead of {name_of(panel)} is not said."
        return Undetermined((supply.where("bond_panel"),), message)
    return _nowhere(panel, supply)


def _bonded_at_service(panel: Panel, supply: Supply, job: Job) -> Outcome:
    others = [each for each in panels_on(job.survey, supply) if each is not panel and _is_bonded(each)]
    if panel.kind in _SERVICE_EQUIPMENT and all(each.kind in _SERVICE_EQUIPMENT for each in others):
        return Pass()
    if supply.knows("bond_panel") and supply.bond_panel != panel.id:
        return _at_wrong_panel(panel, supply, job)
    return Pass() if not others or supply.knows("bond_panel") else _twice(panel, others[0])


def _has_disconnect_ahead(supply: Supply) -> bool:
    stated = [getattr(supply, name) for name in ("disconnect", "emergency_disconnect") if supply.knows(name)]
    return any(not each.knows("kind") or each.kind is not DisconnectKind.NONE for each in stated)


def _at_source(panel: Panel, supply: Supply, job: Job) -> Outcome:
    """A source of one's own is bonded once; where the plan does not say where, that is asked."""
    if supply.knows("bond_panel"):
        right = (panel.id == supply.bond_panel) == (panel.neutral_bond is NeutralBond.BONDED)
        if right:
            return Pass()
        return _nowhere(panel, supply) if panel.id == supply.bond_panel else _at_wrong_panel(panel, supply, job)
    others = [each for each in panels_on(job.survey, supply) if each is not panel and _is_bonded(each)]
    if panel.neutral_bond is NeutralBond.BONDED:
        return _twice(panel, others[0]) if others else Pass()
    if others:
        return Pass()
    return Undetermined(
        (supply.where("bond_panel"),),
        f"Whether {name_of(supply)} is bonded, and its transfer equipment switches the neutral, is not said.",
    )


def _is_bonded(panel: Panel) -> bool:
    return panel.is_(neutral_bond=NeutralBond.BONDED)


def _twice(panel: Panel, other: Panel) -> Violation:
    return Violation(
        f"{name_of(panel)} and {name_of(other)} both bond the neutral.",
        remedies=(Remedy("Bond at one of them, ahead of the other, and isolate the neutral of the one downstream."),),
        related=(other.pointer,),
    )


def _nowhere(panel: Panel, supply: Supply) -> Violation:
    return Violation(
        f"{name_of(panel)} is where {name_of(supply)} is bonded, and its neutral is isolated: a ground fault has no way back.",
        remedies=(at_supply(supply, "Install the main bonding jumper here.", (state(panel, "neutral_bond", "bonded"),)),),
    )


def _at_wrong_panel(panel: Panel, supply: Supply, job: Job) -> Violation:
    there = job.plan.panels[supply.bond_panel]
    return Violation(
        f"{name_of(panel)} bonds the neutral, although {name_of(there)} is where {name_of(supply)} is bonded.",
        remedies=(Remedy("Isolate the neutral here.", (state(panel, "neutral_bond", "isolated"),)),),
        related=(there.pointer,),
    )
