"""Receptacles in wet, outdoor and kitchen places, and near sinks, tubs and showers, are protected from ground faults.

Why: where a person is wet, barefoot or touches plumbing, a faulty appliance sends its current through that person; a
GFCI device cuts it off before it kills.

Fix: use a GFCI breaker, a GFCI receptacle, or feed the receptacle from the LOAD side of a GFCI device within reach.

Trap: protection is looked for upstream, not at the outlet alone, and lost where a cable goes round the device or is spliced ahead of
its LOAD side. A refrigerator's receptacle is in from 2023, not before. From 2020 a hall receptacle counts as near the basin
behind an open door, and a 240 V dryer's or range's counts where its place is listed.

Does not judge: outlets that are no receptacles (`gfci-outdoor-outlets`, `gfci-service-and-crawl`), appliances wired in
(`gfci-appliances`) and where the device is (`gfci-reachable`). Heights along a cord's path are left out; exceptions count only
where the plan states what they rest on.
"""

from nailplate.codes import GfciItem
from nailplate.plan import Device
from nailplate.plan.words import ApplianceKind, Mount, Purpose, Regime, Use
from nailplate.rulekit import Cite, Hazard, Job, Outcome, Severity, Subject, rule
from nailplate.rules.protection.gfci_judged import PlaceList, judged_receptacle
from nailplate.survey.protection import GfciPlaces, appliances_served, places_by_cord, places_by_room


@rule(
    id="gfci-locations",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.8(A)",
            seen=(2017, 2020, 2023),
            note="https://captaincode2017.leviton.com/node/122 (2017, cord path); "
            "https://www.eaton.com/us/en-us/company/news-insights/for-safetys-sake-blog/"
            "NEC-2020-increases-GFCI-protection.html (2020); "
            "https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48884919 (2023)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    dwelling_only=True,
    also_for=(Regime.MANUFACTURED_HOME,),
    changes={
        "nec-2020": "Receptacles up to 250 V of any amperes came in, all of a basement, indoor damp places, and what a cord reaches "
        "through a doorway.",
        "nec-2023": "Every receptacle of a kitchen came in, and areas with a sink where food or drink is prepared.",
        "nec-2026": "Accessory buildings have an item of their own, whatever the height of their floor.",
    },
)
def gfci_locations(device: Device, job: Job) -> Outcome:
    """Judges one receptacle."""
    return judged_receptacle(device, job, PlaceList(job.edition.gfci_locations, _places))


# Places, less those that an exception takes out


def _places(device: Device, job: Job) -> tuple[GfciPlaces, str]:
    """The listed places without the excepted ones, cord paths only where needed; and what may yet be an exception."""
    listed = job.edition.gfci_locations
    by_room = _without_excepted(places_by_room(job.survey, device, listed), device, job)
    if any(not place.other_reading for place in by_room.found):
        return by_room, _doubts(device, job, by_room)
    by_cord = _without_excepted(places_by_cord(job.survey, device, listed), device, job)
    unknown = tuple(dict.fromkeys((*by_room.unknown, *by_cord.unknown)))
    places = GfciPlaces((*by_room.found, *by_cord.found), unknown, by_cord.given_up)
    return places, _doubts(device, job, places)


def _without_excepted(places: GfciPlaces, device: Device, job: Job) -> GfciPlaces:
    found = tuple(place for place in places.found if not _is_excepted(place.item, device, job))
    return GfciPlaces(found, places.unknown, places.given_up)


def _is_excepted(item: GfciItem, device: Device, job: Job) -> bool:
    return _feeds_alarm_system(item, device, job) or _holds_ceiling_fitting(item, device, job) or _is_in_fan(device, job)


def _feeds_alarm_system(item: GfciItem, device: Device, job: Job) -> bool:
    if not (job.holds("gfci_exceptions_everywhere") or item is GfciItem.BASEMENT) or not device.knows("circuit"):
        return False
    return job.plan.circuits[device.circuit].is_(purpose=Purpose.ALARM)


def _holds_ceiling_fitting(item: GfciItem, device: Device, job: Job) -> bool:
    """A locking receptacle in the ceiling that carries a luminaire or fan: from 2020, then not in every place (from memory)."""
    in_place = job.holds("gfci_exceptions_everywhere") or item not in (GfciItem.CRAWL_SPACE, GfciItem.TUB, GfciItem.DAMP)
    return in_place and job.holds("gfci_ceiling_fittings_exempt") and device.is_(mount=Mount.CEILING, locking=True)


def _is_in_fan(device: Device, job: Job) -> bool:
    """A receptacle built into an exhaust fan: of a bathroom in 2023, any from 2026."""
    if not job.holds("gfci_bath_fans_exempt") or not device.knows("part_of"):
        return False
    fan = job.plan.appliances[device.part_of]
    if fan.kind is not ApplianceKind.EXHAUST_FAN:
        return False
    return job.holds("gfci_every_fan_exempt") or Use.BATHROOM in job.plan.rooms[fan.room].uses


def _doubts(device: Device, job: Job, places: GfciPlaces) -> str:
    """How the code may be read so that this receptacle needs no protection although its place is listed."""
    if device.knows("part_of"):
        return "the receptacle is a part of listed equipment, not one that is installed here"
    everywhere = job.holds("gfci_exceptions_everywhere")
    if not (everywhere or all(place.item is GfciItem.OUTDOORS for place in places.found)) or not device.knows("circuit"):
        return ""
    circuit = job.plan.circuits[device.circuit]
    alone, hidden = circuit.is_(purpose=Purpose.INDIVIDUAL), device.is_(readily_accessible=False)
    other = any(each.kind is ApplianceKind.OTHER for each in appliances_served(job.survey, device))
    if alone and hidden and other:
        return "it supplies snow-melting, deicing or pipe-heating equipment that has its own ground-fault protection"
    return ""
