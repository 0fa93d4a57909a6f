"""A heat pump or air conditioner has its disconnect within sight.

Why: whoever opens the unit to service it must see that nobody turns it on again.

Fix: put a switch, or an enclosure with a pull-out, within sight of the unit and not more than 50 ft away, where one walks up
to it; on the wall beside the unit, not behind it and not on a panel that comes off for service.

Trap: a breaker indoors that locks open serves a water heater and does not serve here. The unit of a ductless system outdoors is meant
as well; the working space in front of the switch is what is left after the unit is set.

Since 2023 a door that exposes live parts opens with a tool only or can be locked, and from 2026 it is locked or takes a tool; and the
switch has a panel's working space in front of it, 30 in wide and 36 in deep.

Does not judge: the rating of the switch, that working space (110.26(A), required by 440.14 from 2023), and whether it is mounted on
a panel that comes off: these are for a look on site. Other appliances are judged by `appliance-disconnect`, the circuit by `motor-circuit`, protection
outdoors by `gfci-outdoor-outlets`.
"""

from nailplate.plan.supplies import Disconnect
from nailplate.plan.trade import COOLING
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Connection, DisconnectKind, EnclosureDoor
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule, state
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.protection import connection_of

_LOCKS = "https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1946"
_SAFE_DOORS = (EnclosureDoor.DEAD_FRONT, EnclosureDoor.TOOL, EnclosureDoor.LOCKED)
_REMEDY = Remedy("Put a switch or a pull-out within sight of the unit, not more than 50 ft away and readily accessible.")


@rule(
    id="cooling-disconnect",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={
        "nec-2017": Cite(
            "440.14",
            seen=(2017,),
            note="https://www.ecmweb.com/nec/code-qa-54; "
            "https://www.ecmweb.com/code-quiz-day/ac-equipment-disconnecting-means-requirements",
        ),
        "nec-2023": Cite(
            "440.14, 440.11",
            seen=(2023,),
            note="440.14: https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1513 and "
            "https://www.thebuildingcodeforum.com/forum/threads/"
            "the-nfpa-finally-clarifies-ac-disconnects-under-440-14-readily-accessible-nec-110-26.33730/; "
            f"440.11: {_LOCKS}",
        ),
        "nec-2026": Cite("440.14, 440.11", note=f"440.14 not seen and assumed unchanged; 440.11 in 2026: {_LOCKS}"),
    },
    hazards=(Hazard.SHOCK, Hazard.MOVING_PARTS),
    changes={
        "nec-2023": "A door that exposes live parts takes a tool or can be locked (440.11). The switch has the working space of 110.26(A).",
        "nec-2026": "Such a door is locked or takes a tool; that it could be locked is no longer enough.",
    },
)
def cooling_disconnect(appliance: Appliance, job: Job) -> Outcome | list[Outcome]:
    """440.14 and 440.11, for one unit that is wired in; one on a cord is disconnected by its plug, 440.13."""
    if appliance.kind not in COOLING or connection_of(job.survey, appliance) is not Connection.HARD_WIRED:
        return NotConcerned()
    seen = _in_sight(appliance, appliance.disconnect)
    has_door = isinstance(seen, Pass) and appliance.disconnect.kind is DisconnectKind.SWITCH
    return [seen, _door(appliance, job)] if has_door and job.holds("cooling_disconnect_guarded") else seen


def _in_sight(appliance: Appliance, disconnect: Disconnect) -> Outcome:
    if disconnect.kind is DisconnectKind.NONE:
        return _violation(appliance, "nothing to disconnect it with is drawn")
    if disconnect.kind is DisconnectKind.CORD_AND_PLUG:
        return _violation(appliance, "a cord and plug is drawn for it, which it has not")
    if disconnect.kind is DisconnectKind.UNIT_SWITCH or disconnect.in_sight:
        return Pass()
    return _violation(appliance, f"{_called(disconnect)} is not within sight of it; that it locks open is not enough here")


def _door(appliance: Appliance, job: Job) -> Outcome:
    disconnect = appliance.disconnect
    if not disconnect.knows("door"):
        return Undetermined((disconnect.where("door"),), facet="door")
    if disconnect.door in _SAFE_DOORS:
        return Pass(facet="door")
    must_be_locked = job.holds("cooling_disconnect_locked")
    if disconnect.door is EnclosureDoor.LOCKABLE and not must_be_locked:
        return Pass(facet="door")
    state_now = "can be locked but is not" if disconnect.door is EnclosureDoor.LOCKABLE else "opens by hand"
    return Violation(
        f"The door of the switch of {name_of(appliance)} exposes live parts and {state_now}.",
        remedies=(
            Remedy(
                "Lock it, or use an enclosure that takes a tool to open.",
                (state(disconnect, "door", EnclosureDoor.LOCKED.value),),
            ),
        ),
        facet="door",
    )


def _called(disconnect: Disconnect) -> str:
    return "its breaker" if disconnect.kind is DisconnectKind.BREAKER else "its switch"


def _violation(appliance: Appliance, why: str) -> Violation:
    return Violation(f"The {kind_words(appliance.kind)} {name_of(appliance)} is wired in, and {why}.", remedies=(_REMEDY,))
