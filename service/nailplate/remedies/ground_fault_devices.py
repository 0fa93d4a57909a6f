"""How protection from ground faults is given: at the breaker, at the first receptacle on the way, or at the outlet itself.

Each remedy says what else the device would then cover. What costs least comes first (common practice: one receptacle that feeds the
rest from its LOAD side is cheaper than a breaker, and a breaker cheaper than several receptacles).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from nailplate.plan import Circuit, Device
from nailplate.plan.trade import NOT_OUTLETS
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, DeviceKind, FedFrom, Protects
from nailplate.remedies.patches import Operation, Remedy, add, state
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.protection import (
    GroundFaultProtection,
    at_or_below,
    is_gfci,
    is_readily_accessible,
    protects_people,
    way_from_panel,
)
from nailplate.survey.wiring import devices_at
from nailplate.units import within

_ORDINARY_VOLTS = 125.0
_ORDINARY_AMPERES = 20.0
_MOST_NAMED = 4


def remedies(
    device: Device, survey: Survey, protection: GroundFaultProtection, lacking: Sequence[Device]
) -> tuple[Remedy, ...]:
    """For one outlet. ``lacking`` are the outlets of its circuit that want protection and have none, itself among them."""
    circuits = unprotected(protection.circuits)
    at_origin = (at_breaker(survey, circuits, device),) if circuits else ()
    if len(protection.circuits) > 1:
        return at_origin
    place = _feed_through_place(device, survey, lacking)
    if place is None:
        by_hand = Remedy(f"Feed {name_of(device)} from the LOAD side of a GFCI device in a readily accessible place upstream.")
        return (*at_origin, by_hand) if _takes_gfci_type(device, survey) else at_origin
    here = _here(device, survey) if place.at is device and len(place.covers) == 1 else _feed_through(place)
    return (here, *at_origin) if set(lacking) <= set(place.covers) else (*at_origin, here)


def unprotected(circuits: Sequence[Circuit]) -> tuple[Circuit, ...]:
    """Those without a GFCI breaker."""
    return tuple(circuit for circuit in circuits if not protects_people(circuit))


def at_breaker(survey: Survey, circuits: Sequence[Circuit], part: Device | Appliance) -> Remedy:
    """A breaker for each circuit, and what that would also cover."""
    names = " and ".join(name_of(circuit) for circuit in circuits)
    what = "breaker" if len(circuits) == 1 else "breaker each"
    words = f"Protect circuit {names} with a {_kind(circuits)} {what}. {_also(survey, circuits, part)}"
    return Remedy(words.strip(), () if _have_gfcis(survey, circuits) else tuple(with_gfci(circuit) for circuit in circuits))


def at_equipment(part: Device | Appliance) -> tuple[Remedy, ...]:
    """What goes before a GFCI breaker for a hard-wired vehicle charger: many manufacturers advise against one ahead of it."""
    if not (isinstance(part, Appliance) and part.kind is ApplianceKind.EVSE):
        return ()
    return (
        Remedy(
            "Ask the manufacturer of this EVSE first: it has ground-fault protection of its own, and many advise against a GFCI breaker "
            "ahead of it. Use a unit that is listed to protect its outlet, or set it to a lower current, and have the authority "
            "having jurisdiction accept that."
        ),
    )


def _have_gfcis(survey: Survey, circuits: Sequence[Circuit]) -> bool:
    """Whether a GFCI device is on them: ahead of it a breaker would be a second one in series."""
    return any(is_gfci(device) for circuit in circuits for device in survey.devices_on_circuit.get(circuit.id, []))


def _kind(circuits: Sequence[Circuit]) -> str:
    dual = any(
        circuit.knows("breaker") and circuit.breaker.knows("protects") and circuit.breaker.protects.afci for circuit in circuits
    )
    two_pole = any(
        circuit.knows("multiwire")
        or (circuit.knows("breaker") and circuit.breaker.knows("poles") and circuit.breaker.poles > 1)
        for circuit in circuits
    )
    return ("two-pole " if two_pole else "") + ("dual-function (AFCI and GFCI)" if dual else "GFCI")


def _also(survey: Survey, circuits: Sequence[Circuit], part: Device | Appliance) -> str:
    on_them = [each for circuit in circuits for each in survey.devices_on_circuit.get(circuit.id, [])]
    others = [
        each for each in dict.fromkeys(on_them) if each is not part and each.kind not in NOT_OUTLETS and not _serves(each, part)
    ]
    return f"It would also cover {_named(others)}." if others else "Nothing else is on it." if len(circuits) == 1 else ""


def _serves(device: Device, part: Device | Appliance) -> bool:
    if not isinstance(part, Appliance):
        return False
    return (device.knows("serves") and part.id in device.serves) or (part.knows("outlet") and part.outlet == device.id)


def _named(devices: Sequence[Device]) -> str:
    names = [name_of(each) for each in devices[:_MOST_NAMED]]
    rest = len(devices) - len(names)
    if rest:
        return f"{', '.join(names)} and {rest} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def with_gfci(circuit: Circuit) -> Operation:
    """States that a circuit has a GFCI breaker, dual-function where it is an AFCI already."""
    if not circuit.knows("breaker"):
        return add(circuit.where("breaker"), {"protects": Protects.GFCI.value})
    afci = circuit.breaker.knows("protects") and circuit.breaker.protects.afci
    return state(circuit.breaker, "protects", (Protects.DUAL if afci else Protects.GFCI).value)


# At a receptacle


@dataclass(frozen=True, slots=True)
class _Place:
    """A receptacle that could be a GFCI, the lacking outlets it would then cover, and what else its LOAD side would feed."""

    at: Device
    covers: tuple[Device, ...]
    others: tuple[Device, ...]


def _feed_through_place(device: Device, survey: Survey, lacking: Sequence[Device]) -> _Place | None:
    """The receptacle on the way to a device that would cover most of the lacking ones; of equals a GFCI, or else the nearest."""
    able = [each for each in _on_the_way(device, survey) if _may_be_gfci(each, survey)]
    places = [place for each in able if device in (place := _place(each, survey, lacking)).covers]
    return max(places, key=lambda place: (len(place.covers), is_gfci(place.at), places.index(place)), default=None)


def _on_the_way(device: Device, survey: Survey) -> tuple[Device, ...]:
    passed = [each for node in way_from_panel(survey, device) for each in devices_at(survey, node)]
    on_circuit = [each for each in passed if each.knows("circuit") and each.circuit == device.circuit]
    return tuple(dict.fromkeys((*on_circuit, device)))


def _place(at: Device, survey: Survey, lacking: Sequence[Device]) -> _Place:
    below = at_or_below(survey, at) if not _shares_neutral(at, survey) else ()
    wanting = set(lacking)
    covers = [
        each for each in below if each in wanting and not each.knows("feed_through_source") and not each.knows("second_circuit")
    ]
    mine = (at,) if at in wanting else ()
    others = tuple(each for each in below if each not in covers and each.kind not in NOT_OUTLETS)
    return _Place(at, (*mine, *covers), others)


def _shares_neutral(device: Device, survey: Survey) -> bool:
    return device.knows("circuit") and survey.plan.circuits[device.circuit].knows("multiwire")


def _may_be_gfci(device: Device, survey: Survey) -> bool:
    is_or_could = is_gfci(device) or (device.kind is DeviceKind.RECEPTACLE and _takes_gfci_type(device, survey))
    return is_or_could and not device.knows("second_circuit") and is_readily_accessible(survey, device)


def _takes_gfci_type(device: Device, survey: Survey) -> bool:
    """GFCI receptacles are made for 125 V and up to 20 A (common practice)."""
    amperes = device.rating if device.knows("rating") else None
    circuit = survey.plan.circuits[device.circuit] if device.knows("circuit") else None
    if amperes is None and circuit and circuit.knows("breaker") and circuit.breaker.knows("rating"):
        amperes = circuit.breaker.rating
    volts = device.voltage if device.knows("voltage") else circuit.voltage if circuit and circuit.knows("voltage") else 0.0
    return within(amperes or 0.0, _ORDINARY_AMPERES) and within(volts, _ORDINARY_VOLTS)


def _here(device: Device, survey: Survey) -> Remedy:
    """As a patch only where it feeds no GFCI from its LOAD side: two in series trip one another."""
    fed = (each for each in survey.plan.devices.values() if each.knows("feed_through_source"))
    feeds_one = any(each.feed_through_source == device.id and is_gfci(each) for each in fed)
    return Remedy("Use a GFCI receptacle here.", () if feeds_one else (state(device, "gfci", value=True),))


def _feed_through(place: _Place) -> Remedy:
    fed, at = [each for each in place.covers if each is not place.at], name_of(place.at)
    words = f"from the LOAD side of {at}, which is a GFCI" if is_gfci(place.at) else "from its LOAD side"
    made = "" if is_gfci(place.at) else f"make {at} a GFCI receptacle and "
    also = f" What hangs on the same run is then covered too: {_named(place.others)}." if place.others else ""
    new = () if is_gfci(place.at) else (state(place.at, "gfci", value=True),)
    said = f"{made}feed {_named(fed)} {words}.{also}"
    return Remedy(said[0].upper() + said[1:], (*new, *(operation for each in fed for operation in _fed(each, place.at))))


def _fed(device: Device, source: Device) -> tuple[Operation, ...]:
    named = (state(device, "feed_through_source", source.id),)
    return (*named, state(device, "fed_from", FedFrom.LOAD_SIDE.value)) if device.knows("fed_from") else named
