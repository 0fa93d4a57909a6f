"""A heat pump or air conditioner has its disconnect within sight.

Why: whoever opens the unit to service it must see that nobody turns it on again.

Fix: put a switch, or an enclosure with a pull-out, within sight of the unit and not more than 50 ft away, where one walks up
to it; on the wall beside the unit, not behind it and not on a panel that comes off for service.

Trap: a breaker indoors that locks open serves a water heater and does not serve here. The unit of a ductless system outdoors is meant
as well; the working space in front of the switch is what is left after the unit is set.

Does not judge: the rating of the switch, the clear space in front of it, and whether it is mounted on a panel that comes off:
these are for a look on site. Other appliances are judged by `appliance-disconnect`, the circuit by `motor-circuit`, protection
outdoors by `gfci-outdoor-outlets`.
"""

from nailplate.plan.trade import COOLING
from nailplate.plan.wiring import Appliance, Disconnect
from nailplate.plan.words import Connection, DisconnectKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation
from nailplate.survey.names import name_of
from nailplate.survey.protection import connection_of

_REMEDY = Remedy("Put a switch or a pull-out within sight of the unit, not more than 50 ft away and readily accessible.")


@rule(
    id="cooling-disconnect",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={"nec-2017": Cite("440.14", note="from memory")},
    hazards=(Hazard.SHOCK, Hazard.MOVING_PARTS),
    changes={"nec-2017": "No change of this requirement is known here in any of the four editions (from memory)."},
)
def cooling_disconnect(appliance: Appliance, job: Job) -> Outcome:
    """440.14, for one unit that is wired in; one on a cord is disconnected by its plug, 440.13."""
    if appliance.kind not in COOLING or connection_of(job.survey, appliance) is not Connection.HARD_WIRED:
        return NotConcerned()
    disconnect = appliance.disconnect
    if disconnect.kind is DisconnectKind.NONE:
        return _violation(appliance, "nothing to disconnect it with is drawn")
    if disconnect.kind is DisconnectKind.CORD_AND_PLUG:
        return _violation(appliance, "a cord and plug is drawn for it, which it has not")
    if disconnect.kind is DisconnectKind.UNIT_SWITCH or disconnect.in_sight:
        return Pass()
    return _violation(appliance, f"{_called(disconnect)} is not within sight of it; that it locks open is not enough here")


def _called(disconnect: Disconnect) -> str:
    return "its breaker" if disconnect.kind is DisconnectKind.BREAKER else "its switch"


def _violation(appliance: Appliance, why: str) -> Violation:
    return Violation(
        f"The {appliance.kind.replace('_', ' ')} {name_of(appliance)} is wired in, and {why}.", remedies=(_REMEDY,)
    )
