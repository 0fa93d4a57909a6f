"""No receptacle stands over an electric baseboard heater.

Why: a cord that hangs down onto a hot heater melts and can start a fire. The instructions of most listed heaters forbid it, and
listed equipment is installed by its instructions (110.3(B)).

Fix: move the receptacle past the heater's end, stop the heater short of it, or use a heater that its manufacturer fits with a
receptacle; that one serves the wall which the heater takes up, if it is not fed by the heater's circuit (424.9).

Trap: the receptacle spacing along the wall goes on under the heater; moving a receptacle away must leave the wall covered.

Does not judge: heaters in the floor or ceiling, wall heaters, and furniture or drapes over a heater. Whether a heater's
instructions allow a receptacle above it has to be stated; without that they are taken to forbid it. Receptacle spacing is
judged by `wall-space`.
"""

from nailplate.plan import Appliance, Device, UnknownFact
from nailplate.plan.words import ApplianceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.placement.heated_walls import receptacles_over
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.units import inches, shown


@rule(
    id="heater-below-receptacle",
    over=Appliance,
    severity=Severity.ADVICE,
    subjects=(Subject.USUAL_PLACES,),
    cites={
        "nec-2017": Cite(
            "210.52 note, 424.9, 110.3(B)",
            note="https://dudent.blogspot.com/2021/09/10-10b-wall-receptacle-outlets-21052a1.html; built-in receptacles: "
            "https://www.ecmweb.com/code-quiz-day/fixed-electric-space-heating-equipment-and-receptacle-rules",
        )
    },
    hazards=(Hazard.FIRE, Hazard.CORDS),
)
def heater_below_receptacle(heater: Appliance, job: Job) -> Outcome | list[Outcome]:
    """The instructions of listed heaters, for one baseboard heater and each receptacle over it."""
    if heater.kind is not ApplianceKind.BASEBOARD_HEATER:
        return NotConcerned()
    if heater.is_(receptacle_above=True):
        return Pass()
    found, unknown = receptacles_over(job.survey, heater)
    outcomes: list[Outcome] = [_over(device, heater, job) for device in found]
    if unknown:
        outcomes.append(Undetermined(unknown))
    return outcomes or Pass()


def _over(device: Device, heater: Appliance, job: Job) -> Violation:
    height = _height(device, job)
    up = f", {shown(inches(height))} above the floor," if height is not None else ""
    return Violation(
        message=f"{name_of(device)}{up} stands over the baseboard heater {name_of(heater)}; a cord plugged in there hangs onto it.",
        measured=inches(height) if height is not None else None,
        remedies=(
            Remedy(
                "Move the receptacle past the heater's end, or the heater away from under it; or state that the heater's "
                "instructions allow a receptacle above it."
            ),
        ),
        facet=device.id,
        related=(device.pointer,),
    )


def _height(device: Device, job: Job) -> float | None:
    try:
        return standing(job.survey, device).height
    except UnknownFact:  # unknown: at any height over the heater its cord hangs onto it; the message says no height
        return None
