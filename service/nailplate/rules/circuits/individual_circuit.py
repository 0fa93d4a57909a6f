"""An appliance that must have a circuit of its own shares it with nothing.

Why: a furnace must not stop because a vacuum cleaner tripped its breaker, and a vehicle charger runs at full load all night.

Fix: run a circuit from the panel to this appliance alone, or move what shares its circuit to another.

Trap: a furnace's humidifier, pump, air cleaner and air conditioner may share its circuit; a light and receptacle for whoever services it
may not. No section of the code requires a dishwasher's own circuit, but the instructions it is listed with often do, and they bind.
From 2023 a vehicle charger of up to 16 A at 120 V may share.

What else needs a circuit of its own is told by what the plan says of an appliance's instructions.

Does not judge: a range hood on a cord, and a microwave oven that is one, are `cord-appliance`'s matter.
"""

from nailplate.plan import Appliance, Part, UnknownFact
from nailplate.plan.trade import BUILT_IN_KITCHEN
from nailplate.plan.words import ApplianceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.loads import Attached, attachment, reason_for_own, sharers
from nailplate.survey.names import name_of, names_of

_NAMED = 3


@rule(
    id="individual-circuit",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "422.12, 625.40, 110.3(B)",
            seen=(2020, 2023),
            note="625.40: https://forums.mikeholt.com/threads/nec-2020-210-23.2567992 (2020), "
            "https://captaincode2023.leviton.com/node/357 (2023)",
        )
    },
    limits=("charger_shares_up_to_current", "charger_shares_up_to_volts"),
    provisions=("small_chargers_share",),
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
)
def individual_circuit(appliance: Appliance, job: Job) -> Outcome:
    """422.12 for central heating, 625.40 for vehicle charging, 110.3(B) for what the instructions ask."""
    if appliance.kind is ApplianceKind.EVSE and not sharers(job.survey, appliance):
        return Pass()
    if appliance.kind is ApplianceKind.FURNACE and not appliance.knows("fuel"):
        return Undetermined((appliance.where("fuel"),)) if sharers(job.survey, appliance) else Pass()
    if (section := reason_for_own(job.survey, appliance)) is None and not _instructions_open(appliance):
        return NotConcerned()
    others = sharers(job.survey, appliance)  # asks for the circuit: of what may share one nothing is asked
    if not others:
        return Pass()
    return _asked(appliance, others, job) if section is None else _shared(appliance, section, others, job)


def _instructions_open(appliance: Appliance) -> bool:
    built_in = appliance.kind in BUILT_IN_KITCHEN and attachment(appliance) is Attached.FASTENED
    return built_in and not appliance.knows("own_circuit")


def _asked(appliance: Appliance, others: list[Part], job: Job) -> Outcome:
    """One question for machines that share a circuit, asked at the first; none where one of them needs the circuit already."""
    among = [each for each in others if isinstance(each, Appliance)]
    asked = [each for each in (appliance, *among) if _instructions_open(each)]
    if min(asked, key=lambda each: each.id) is not appliance or any(_needs_own(each, job) for each in among):
        return NotConcerned()
    names = " and of ".join(name_of(each) for each in asked)
    said = f"{name_of(appliance)} shares its circuit with {names_of(others, _NAMED)}; whether the instructions of {names} allow that is not said."
    return Undetermined(tuple(each.where("own_circuit") for each in asked), said)


def _needs_own(appliance: Appliance, job: Job) -> bool:
    try:
        return reason_for_own(job.survey, appliance) is not None
    except UnknownFact:  # unknown: whether it needs one is asked where it is judged itself
        return False


def _shared(appliance: Appliance, section: str, others: list[Part], job: Job) -> Outcome:
    said = f"{name_of(appliance)} needs a circuit of its own ({section}) and shares it with {names_of(others, _NAMED)}."
    remedies = (Remedy("Feed the others from another circuit, or run a new circuit to this appliance alone."),)
    related = tuple(each.pointer for each in others[:_NAMED])
    chargers = all(isinstance(each, Appliance) and each.kind is ApplianceKind.EVSE for each in others)
    if section == "625.40" and chargers and job.holds("chargers_share_under_management"):
        held = Reading("Automatic load management holds the chargers to the circuit, and they may share it.", "pass")
        loose = Reading("Nothing holds them to it.", "violation")
        return Judgement(said, (held, loose), remedies=remedies, related=related)
    return Violation(said, remedies=remedies, related=related)
