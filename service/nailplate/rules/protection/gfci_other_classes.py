"""In vehicles, park trailers and buildings that are no dwelling, listed places have protected receptacles too.

Why: water, plumbing and metal skins make a shock as deadly in a trailer, a shop or a bunkhouse as in a house; a vehicle stands on
tires, so that its whole chassis can become live.

Fix: use a GFCI breaker, a GFCI receptacle, or feed the receptacle from the LOAD side of a GFCI device within reach.

Trap: the lists differ. A vehicle's covers counters near a sink, the bath and the exterior; a shop's covers every receptacle of its kitchen,
near its sinks and in its garage, on circuits of up to 50 A.

Does not judge: rooftops, locker rooms, buffets, aquariums and three-phase receptacles of 210.8(B), which a plan does not draw; a
receptacle behind an access panel on a vehicle's exterior, and those of expandable room sections, which are exempt.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from nailplate.codes import Edition, GfciItem, GfciLocations
from nailplate.plan import Device
from nailplate.plan.words import Listing, Mount, Regime
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.protection.gfci_judged import PlaceList, judged_receptacle
from nailplate.survey import regime_of
from nailplate.survey.protection import GfciPlace, GfciPlaces, appliances_served, places_by_cord, places_by_room
from nailplate.survey.space import stays

_LISTS: Final[Mapping[Regime, Callable[[Edition], GfciLocations]]] = {
    Regime.RECREATIONAL_VEHICLE: lambda edition: edition.gfci_vehicles,
    Regime.PARK_TRAILER: lambda edition: edition.gfci_park_trailers,
    Regime.NOT_A_DWELLING: lambda edition: edition.gfci_other_buildings,
}
_AT_A_TOP: Final = frozenset({Listing.COUNTERTOP, Listing.WORK_SURFACE})


@rule(
    id="gfci-other-classes",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.8(B), 551.41(C), 552.41(C)", note="the list of 210.8(B) was seen; the articles of vehicles were not"
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={
        "nec-2020": "210.8(B) has twelve places; laundry areas, tubs and showers came in.",
        "nec-2023": "210.8(B) names areas with a sink where food or drink is prepared.",
    },
)
def gfci_other_classes(device: Device, job: Job) -> Outcome:
    """Judges one receptacle of what is no dwelling unit."""
    listed_by = _LISTS.get(regime_of(job.plan))
    return judged_receptacle(device, job, PlaceList(listed_by(job.edition), _places)) if listed_by else NotConcerned()


def _places(device: Device, job: Job) -> tuple[GfciPlaces, str]:
    """The places of the class's own list; an appliance's dedicated space indoors is exempt in vehicles and park trailers."""
    listed = _LISTS[regime_of(job.plan)](job.edition)
    by_room, by_cord = places_by_room(job.survey, device, listed), places_by_cord(job.survey, device, listed)
    found = tuple(_as_read(place, device, job) for place in (*by_room.found, *by_cord.found))
    if listed.spares_dedicated_spaces and _is_for_one_that_stays(device, job):
        found = tuple(place for place in found if place.item in (GfciItem.OUTDOORS, GfciItem.BATHROOM))
    unknown = tuple(dict.fromkeys((*by_room.unknown, *by_cord.unknown)))
    return GfciPlaces(found, unknown, by_cord.given_up), ""


def _as_read(place: GfciPlace, device: Device, job: Job) -> GfciPlace:
    """In a vehicle the sink counts for receptacles that serve a countertop; others near it are read two ways."""
    if regime_of(job.plan) is not Regime.RECREATIONAL_VEHICLE or place.item is not GfciItem.SINK or _is_at_a_top(device):
        return place
    return replace(place, other_reading="it does not serve a countertop, and 551.41(C)(2) speaks of those that do")


def _is_at_a_top(device: Device) -> bool:
    return device.is_among(listing=_AT_A_TOP) or device.is_among(mount=(Mount.COUNTERTOP, Mount.BELOW_COUNTER))


def _is_for_one_that_stays(device: Device, job: Job) -> bool:
    served = appliances_served(job.survey, device)
    return bool(served) and device.knows("dedicated_space") and all(stays(each) for each in served)
