"""An appliance that is wired in can be disconnected within sight of it, or by a breaker or switch that locks open.

Why: whoever repairs a water heater must be sure that nobody turns its breaker on at the other end of the house.

Fix: fit the breaker with a lock-off device that stays on it, or put a switch within sight of the appliance, not more than 50 ft
away.

Trap: a small appliance is no exception; since 2017 a bath fan's or range hood's breaker locks open too, unless it is within sight. A tag
or a lock that is taken away with the padlock is no lock-off.

Does not judge: Air-conditioning and heat pumps (Article 440), fixed electric heat (424) and motors of other equipment (430)
have requirements of their own, which are not judged here. Cord-and-plug appliances are disconnected by their plugs; whether one
can be reached is not judged.
"""

from typing import Any

from nailplate.plan.supplies import Disconnect
from nailplate.plan.trade import ARTICLE_422
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Connection, DisconnectKind, Fuel
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Operation, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.protection import connection_of


@rule(
    id="appliance-disconnect",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={
        "nec-2017": Cite(
            "422.31, 422.33, 422.34",
            seen=(2017,),
            note="http://www.ecmag.com/section/codes-standards/equipment-general-use-significant-changes-2017-nec-part-6; "
            "https://www.highlandsfl.gov/departments/development_services/building/nec_significant_changes.php",
        )
    },
    hazards=(Hazard.SHOCK,),
    changes={
        "nec-2017": "Appliances of up to 300 VA or 1/8 hp lose their leave: their breaker too is within sight or locks open.",
    },
)
def appliance_disconnect(appliance: Appliance, job: Job) -> Outcome:
    """Judges one appliance that is wired in."""
    if not _is_of_the_article(appliance) or connection_of(job.survey, appliance) is not Connection.HARD_WIRED:
        return NotConcerned()
    disconnect = appliance.disconnect
    if disconnect.kind is DisconnectKind.UNIT_SWITCH:
        return Pass()  # with a marked off position; the service disconnect is its partner in a one-family dwelling
    if disconnect.kind is DisconnectKind.NONE:
        return _violation(appliance, "nothing to disconnect it with is drawn", _breaker_that_locks(appliance))
    if disconnect.kind is DisconnectKind.CORD_AND_PLUG:
        return _violation(appliance, "a cord and plug is drawn for it, which it has not", _breaker_that_locks(appliance))
    return _by_sight_or_lock(appliance, disconnect)


def _is_of_the_article(appliance: Appliance) -> bool:
    """An appliance of Article 422; a furnace only where it burns a fuel."""
    if appliance.kind is ApplianceKind.FURNACE:
        return appliance.fuel is not Fuel.NONE
    return appliance.kind in ARTICLE_422


def _by_sight_or_lock(appliance: Appliance, disconnect: Disconnect) -> Outcome:
    if any(disconnect.knows(name) and getattr(disconnect, name) for name in ("lockable", "in_sight")):
        return Pass()
    unknown = tuple(disconnect.where(name) for name in ("lockable", "in_sight") if not disconnect.knows(name))
    if unknown:
        return Undetermined(unknown)
    locks = (state(disconnect, "lockable", value=True),)
    return _violation(appliance, f"its {disconnect.kind} is not within sight of it and does not lock open", locks)


def _breaker_that_locks(appliance: Appliance) -> tuple[Operation, ...]:
    breaker: dict[str, Any] = {"kind": DisconnectKind.BREAKER.value, "lockable": True}
    return (state(appliance, "disconnect", breaker),)


def _violation(appliance: Appliance, why: str, patch: tuple[Operation, ...]) -> Violation:
    return Violation(
        f"The {kind_words(appliance.kind)} {name_of(appliance)} is wired in, and {why}.",
        remedies=(
            Remedy("Fit its breaker with a lock-off device that stays in place.", patch),
            Remedy("Put a switch that opens all its hot conductors within sight of it, not more than 50 ft away."),
        ),
    )
