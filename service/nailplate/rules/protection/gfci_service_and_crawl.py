"""Crawl-space lights, and the receptacle for servicing heating and cooling equipment, are protected from ground faults.

Why: somebody who crawls over damp soil with a hand on the lamp, or kneels in water with a drill at a leaking unit, is the best path to
earth there is.

Fix: use a GFCI breaker, or feed light and receptacle from the LOAD side of a GFCI device outside the crawl space.

Trap: lights need it nowhere else, and so are forgotten here. A service receptacle in an attic or utility room is in no listed
place, and yet needs protection from 2020.

Does not judge: lights in other places, receptacles in crawl spaces (`gfci-locations`), and whether there is a receptacle for
servicing at all (`equipment-receptacle`). Whether the device can be reached is judged by `gfci-reachable`.
"""

from collections.abc import Iterator

from nailplate.plan import Device, Plan, Pointer, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import DeviceKind, LevelKind, Use
from nailplate.remedies.ground_fault_devices import at_breaker, remedies, unprotected
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.survey.equipment import Near, service_receptacles, serviced_equipment
from nailplate.survey.names import name_of
from nailplate.survey.places import standing
from nailplate.survey.protection import GroundFaultProtection, ground_fault_protection, receptacle_volts
from nailplate.units import inches, shown, within

_ORDINARY_VOLTS = 125.0
_LIGHTS = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK})


@rule(
    id="gfci-service-and-crawl",
    over=Plan,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_OTHER,),
    cites={
        "nec-2017": Cite(
            "210.8(E)",
            seen=(2017,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=232",
        ),
        "nec-2020": Cite(
            "210.8(C), 210.8(E)",
            seen=(2020,),
            note="https://iaeimagazine.org/issue/2021-september-october/gfci-protection-at-air-conditioning-units; "
            "https://captaincode2020.leviton.com/node/243",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={
        "nec-2017": "Lighting outlets in crawl spaces came in, up to 120 V.",
        "nec-2020": "They moved to 210.8(C).",
    },
)
def gfci_service_and_crawl(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Judges each light in a crawl space and each piece of equipment that is serviced."""
    for device in plan.devices.values():
        if device.kind in _LIGHTS:
            yield _light(device, job)
    if job.holds("gfci_at_service_receptacles"):
        for equipment in serviced_equipment(job.survey):
            yield _service(equipment, job)


# Lights


def _light(device: Device, job: Job) -> Outcome:
    try:
        return _light_in_place(device, job) if _is_in_crawl_space(device, job) else NotConcerned(device.id)
    except UnknownFact as missing:
        # A light that nobody has placed is asked about only where there is a crawl space that it could be in.
        return _open((missing.pointer,), device) if _crawl_spaces(job) else NotConcerned(device.id)


def _light_in_place(device: Device, job: Job) -> Outcome:
    protection = ground_fault_protection(job.survey, device)
    if protection.source is not None:
        return Pass(facet=device.id)
    if not within(receptacle_volts(job.survey, device), _ORDINARY_VOLTS):
        return NotConcerned(device.id)
    if protection.unknown:
        return _open(protection.unknown, device)
    message = f"Light {name_of(device)} is in a crawl space and has no GFCI protection: {_none_from(protection)}."
    ways = (at_breaker(job.survey, unprotected(protection.circuits), device),)
    return Violation(message, remedies=ways, facet=device.id, at=device.pointer)


def _is_in_crawl_space(device: Device, job: Job) -> bool:
    where = standing(job.survey, device)
    return (where.room is not None and Use.CRAWL_SPACE in where.room.uses) or _is_crawl_level(where.level, job)


def _is_crawl_level(level: str, job: Job) -> bool:
    return job.plan.levels[level].kind is LevelKind.CRAWL_SPACE


def _crawl_spaces(job: Job) -> bool:
    return any(_is_crawl_level(each, job) for each in job.plan.levels) or any(
        Use.CRAWL_SPACE in room.uses for room in job.plan.rooms.values()
    )


def _open(needs: tuple[Pointer, ...], part: Device | Appliance, message: str = "") -> Undetermined:
    said = message or f"Whether {name_of(part)} is a crawl-space light with GFCI protection cannot be told from the plan."
    return Undetermined(needs, said, part.id, part.pointer)


# Service receptacles


def _service(equipment: Appliance, job: Job) -> Outcome:
    said = f"Whether the service receptacle of {name_of(equipment)} has GFCI protection cannot be told from the plan."
    try:
        near = service_receptacles(job.survey, equipment)
    except UnknownFact as missing:
        return _open((missing.pointer,), equipment, said)
    found = [ground_fault_protection(job.survey, each.receptacle) for each in near]
    if not found:
        return NotConcerned(equipment.id)  # whether there has to be one is for another rule
    if any(each.source is not None for each in found):
        return Pass(facet=equipment.id)
    unknown = tuple(pointer for each in found for pointer in each.unknown)
    if unknown:
        return _open(tuple(dict.fromkeys(unknown)), equipment, said)
    return _unprotected(equipment, near, found[0], job)


def _unprotected(equipment: Appliance, near: tuple[Near, ...], protection: GroundFaultProtection, job: Job) -> Outcome:
    nearest = near[0]
    if nearest.distance is None:
        which = f"Receptacle {name_of(nearest.receptacle)}, there for servicing {name_of(equipment)},"
    else:
        which = f"Receptacle {name_of(nearest.receptacle)}, {shown(inches(nearest.distance))} from {name_of(equipment)} and "
        which += "there for servicing it," if len(near) == 1 else "the nearest for servicing it,"
    others = "" if len(near) == 1 else f" No other within {shown(job.measure('service_receptacle_reach'))} has it either."
    message = f"{which} has no GFCI protection: {_none_from(protection)}.{others}"
    ways = remedies(nearest.receptacle, job.survey, protection, (nearest.receptacle,))
    return Violation(message, remedies=ways, facet=equipment.id, at=nearest.receptacle.pointer, related=(equipment.pointer,))


def _none_from(protection: GroundFaultProtection) -> str:
    circuits = " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in unprotected(protection.circuits))
    return f"neither {circuits} nor a device that feeds it gives any"
