"""Outdoor outlets that are no receptacles, such as those of heat pumps, well pumps and fans, are protected from ground faults.

Why: a person who touches a metal cabinet with a failed motor inside, standing on wet ground, is the path to earth, and an ordinary
breaker does not notice the current that kills.

Fix: use a GFCI breaker for the circuit; ask the manufacturer of variable-speed equipment which one it works with.

Trap: looking at receptacles alone, or at the edition alone: listed heating and cooling equipment is left out until a date, and what counts
is the permit's. A replaced unit brings its outlet in. Some places have put this section off.

Does not judge: receptacles (`gfci-locations`), lighting outlets, which the section leaves out, and places that have put it off.
Whether a fan with a light is a lighting outlet, and whether equipment has a ground-fault protection of its own kind, is left to
the authority having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.codes.gfci_tables import GfciOutdoorOutlets
from nailplate.plan import Device, Plan, Pointer, UnknownFact
from nailplate.plan.trade import HVAC
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, DeviceKind
from nailplate.remedies.ground_fault_devices import at_breaker, at_equipment, unprotected
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.protection import GroundFaultProtection, appliance_protection, ground_fault_protection
from nailplate.survey.protection.hard_wired_outlets import Ground, HardWired, hard_wired_outlets
from nailplate.units import within

_PERMIT_DATE = Pointer("/basis/permit_date")
_SNOW = "it is fixed snow-melting, deicing or pipe-heating equipment, which has ground-fault protection of its own kind"


@rule(
    id="gfci-outdoor-outlets",
    over=Plan,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_OTHER,),
    cites={
        "nec-2020": Cite(
            "210.8(F)",
            seen=(2020, 2023),
            note="http://www.digitrip.com/us/en-us/markets/residential/nec-2023-updates/gfci-210-8f-outdoor-outlets.html; "
            "https://forums.mikeholt.com/threads/2023-national-electric-code-section-210-8-f.2570000",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    dwelling_only=True,
    changes={
        "nec-2020": "New: outdoor outlets of dwellings on circuits up to 50 A. An amendment on the way left mini-splits and others with "
        "a variable-speed compressor out until 1 January 2023.",
        "nec-2023": "Garages with their floor at or below grade and accessory buildings came in; listed heating and cooling equipment "
        "is left out until 1 September 2026.",
        "nec-2026": "Outdoor outlets alone, on circuits up to 60 A; the date for heating and cooling equipment is reported unchanged, and a marked "
        "special-purpose GFCI of Class C may serve it.",
    },
)
def gfci_outdoor_outlets(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Judges each hard-wired outlet outdoors, and from 2023 in garages and accessory buildings."""
    listed = job.edition.gfci_outdoor_outlets
    for outlet in hard_wired_outlets(job.survey):
        if outlet.unknown:
            yield _unplaced(outlet, job, listed)
        elif outlet.ground is Ground.OUTDOORS or (outlet.ground and listed.garages_and_accessory):
            yield _answer(outlet, job, listed)


def _unplaced(outlet: HardWired, job: Job, listed: GfciOutdoorOutlets) -> Outcome:
    """Asked only where the place decides: not of what is protected, or left out wherever it stands."""
    try:
        protection = _protection(outlet.part, job)
        if protection.source is not None or _is_left_out(outlet.part, protection, job, listed):
            return NotConcerned(outlet.facet)
    except UnknownFact:  # unknown: the place is what is missing first, and is asked for below
        pass
    at_garage = all(each.members[-1] == "floor_above_grade" for each in outlet.unknown)
    where = "in a garage with its floor at or below grade" if at_garage else "outdoors"
    message = f"The plan does not say whether {_called(outlet.part)} stands {where}."
    return Undetermined(outlet.unknown, message, outlet.facet, outlet.part.pointer)


def _protection(part: Appliance | Device, job: Job) -> GroundFaultProtection:
    return appliance_protection(job.survey, part) if isinstance(part, Appliance) else ground_fault_protection(job.survey, part)


def _answer(outlet: HardWired, job: Job, listed: GfciOutdoorOutlets) -> Outcome:
    part = outlet.part
    protection = _protection(part, job)
    if protection.source is not None:
        return Pass(facet=outlet.facet)
    try:
        if _is_left_out(part, protection, job, listed):
            return NotConcerned(outlet.facet)
    except UnknownFact as missing:
        return Undetermined((*protection.unknown, missing.pointer), _open(part), outlet.facet, part.pointer)
    if protection.unknown:
        return Undetermined(protection.unknown, _open(part), outlet.facet, part.pointer)
    return _unprotected(outlet, job, protection, listed)


def _is_left_out(part: Appliance | Device, protection: GroundFaultProtection, job: Job, listed: GfciOutdoorOutlets) -> bool:
    if isinstance(part, Appliance) and _waits(part, job, listed):
        return True
    return bool(protection.circuits) and not within(protection.circuits[0].breaker.rating, listed.amperes)


def _waits(appliance: Appliance, job: Job, listed: GfciOutdoorOutlets) -> bool:
    """Listed heating and cooling equipment before its day. UnknownFact where the permit date or the listing is not said."""
    if appliance.kind not in HVAC and not appliance.is_(listed_hvac=True):
        return False
    if not listed.cooling:
        return True
    if job.permit_date is not None and job.permit_date >= listed.cooling_from:
        return False
    if listed.only_variable_speed_waits and appliance.kind is not ApplianceKind.MINI_SPLIT and not appliance.variable_speed:
        return False
    if not appliance.listed_hvac:
        return False
    if job.permit_date is None:
        raise UnknownFact(_PERMIT_DATE)
    return True


# Words


def _called(part: Appliance | Device) -> str:
    return f"the {kind_words(part.kind)} {name_of(part)}"


def _open(part: Appliance | Device) -> str:
    return f"Whether {_called(part)} needs GFCI protection and has it cannot be told from the plan."


def _unprotected(outlet: HardWired, job: Job, protection: GroundFaultProtection, listed: GfciOutdoorOutlets) -> Outcome:
    part, circuits = outlet.part, unprotected(protection.circuits)
    breakers = " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in circuits)
    message = (
        f"{_upper(_called(part))} is wired {outlet.ground} without GFCI protection; neither "
        f"{breakers} nor a device ahead of it gives any.{_date(part, job, listed)}"
    )
    ways = (*at_equipment(part), at_breaker(job.survey, circuits, part))
    other = _other_reading(part)
    if other:
        readings = (
            Reading("GFCI protection is required for this outlet.", "violation"),
            Reading(f"It is not: {other}.", "pass"),
        )
        return Judgement(message, readings, remedies=ways, facet=outlet.facet, at=part.pointer)
    return Violation(message, remedies=ways, facet=outlet.facet, at=part.pointer)


def _upper(text: str) -> str:
    return text[0].upper() + text[1:]


def _date(part: Appliance | Device, job: Job, listed: GfciOutdoorOutlets) -> str:
    if not isinstance(part, Appliance) or part.kind not in HVAC or job.permit_date is None:
        return ""
    if job.permit_date < listed.cooling_from:
        return " It is not among the equipment that is left out until a date."
    return f" Permits since {listed.cooling_from} leave heating and cooling equipment out no more; this one is of {job.permit_date}."


def _other_reading(part: Appliance | Device) -> str:
    if isinstance(part, Appliance) and part.kind is ApplianceKind.OTHER:
        return _SNOW
    if isinstance(part, Device) and part.kind is DeviceKind.FAN and _is_lit(part):
        return "a fan with a light is a lighting outlet, and lighting outlets are left out"
    return ""


def _is_lit(fan: Device) -> bool:
    return fan.knows("source") or fan.is_(with_light=True)
