"""What a plan states in two places is the same in both.

Why: an electrician builds from one of the two, and the check may have gone by the other.

Fix: correct the one that is wrong, or leave it out: an appliance's outlet, circuit and room, the place of a ceiling device and the
rating of a panel's main breaker each need saying once.

Trap: a footprint is drawn in the coordinates of the level. One that was moved leaves its room's name behind.

Does not judge: a fact that is stated once, which is not wrong by that. Cables against their circuits are judged by
`cable-matches-circuit`, routes against their ends by `route-ends`.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Appliance, Device, Facts, Pointer, Room, RoomPlace, Supply, UnknownFact
from nailplate.plan.words import DeviceKind, Mount
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    NotConcerned,
    Outcome,
    Pass,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    remove,
    rule,
)
from nailplate.survey import Survey, place_of
from nailplate.survey.ceiling_heights import ceiling_over
from nailplate.survey.names import name_of
from nailplate.survey.places import room_at
from nailplate.survey.said_once import ROOM_SLACK, outlets_for, outlets_serving, stated_here
from nailplate.units import amperes, inches, reaches, shown, within

OFF_BY: Final = 24.0
"""Inches from ceiling or floor past which a device cannot be mounted there (common practice)."""
_HANGS: Final = (DeviceKind.LUMINAIRE, DeviceKind.FAN)
Told = tuple[str, tuple[Pointer, ...]]
"""What differs, in words, and where the other one is stated."""


@rule(
    id="stated-alike",
    over=(Appliance, Device, Supply),
    severity=Severity.CODE,
    subjects=(Subject.FED,),
    cites={"nec-2017": Cite("No code requirement: common practice")},
    hazards=(Hazard.OVERLOAD, Hazard.BURIED),
)
def stated_alike(part: Appliance | Device | Supply, job: Job) -> Iterator[Outcome]:
    """One outcome for each fact that is stated in two places."""
    found = list(
        _of_appliance(part, job)
        if isinstance(part, Appliance)
        else _of_device(part, job)
        if isinstance(part, Device)
        else _of_supply(part, job)
    )
    yield from found or (NotConcerned(),)


def _answer(part: Facts, name: str, facet: str, differs: Told | None) -> Outcome:
    if differs is None:
        return Pass(facet=facet)
    words, related = differs
    return Violation(
        words,
        remedies=(Remedy("Leave out this one, if the other is right.", (remove(part.own(name)),)),),
        facet=facet,
        at=part.own(name),
        related=related,
    )


# Appliances


def _of_appliance(appliance: Appliance, job: Job) -> Iterator[Outcome]:
    serving = outlets_for(appliance, job.survey.once(_serving))
    if stated_here(appliance, "outlet") and serving:
        own = job.plan.devices[appliance.outlet]
        if own.kind is not DeviceKind.RECEPTACLE and not stated_here(
            own, "serves"
        ):  # a disconnect and a connection may both serve it
            yield Undetermined((own.own("serves"),), facet="outlet", at=appliance.own("outlet"))
            return
        yield _answer(appliance, "outlet", "outlet", _other_outlet(appliance, serving, job))
    if stated_here(appliance, "circuit") and appliance.knows("outlet"):
        outlet = job.plan.devices[appliance.outlet]
        if outlet.knows("circuit"):
            yield _answer(appliance, "circuit", "circuit", _other_circuit(appliance, outlet, job))
    if stated_here(appliance, "room") and appliance.knows("footprint"):
        yield _in_its_room(appliance, job.plan.rooms[appliance.room], job)


def _serving(survey: Survey) -> dict[str, list[Device]]:
    return outlets_serving(each for each in survey.plan.devices.values() if stated_here(each, "serves"))


def _other_outlet(appliance: Appliance, serving: list[Device], job: Job) -> Told | None:
    own = job.plan.devices[appliance.outlet]
    if stated_here(own, "serves") and appliance.id in own.serves:
        return None
    named = name_of(own)
    others = ", ".join(name_of(each) for each in serving[:4])
    return f"{name_of(appliance)} names {named} as its outlet, and {others} is stated to serve it.", tuple(
        each.where("serves") for each in serving[:4]
    )


def _other_circuit(appliance: Appliance, outlet: Device, job: Job) -> Told | None:
    if appliance.circuit == outlet.circuit or (outlet.knows("second_circuit") and appliance.circuit == outlet.second_circuit):
        return None
    mine, its = (name_of(job.plan.circuits[each.circuit]) for each in (appliance, outlet))
    return f"{name_of(appliance)} is stated to be on {mine}, and its outlet {name_of(outlet)} on {its}.", (
        outlet.where("circuit"),
    )


def _in_its_room(appliance: Appliance, room: Room, job: Job) -> Outcome:
    if not room.knows("outline"):
        return Undetermined((room.where("outline"),), facet="room")
    middle = geometry.centroid(appliance.footprint)
    if geometry.contains(room.outline, middle, ROOM_SLACK):
        return Pass(facet="room")
    there = room_at(job.survey, room.level, middle)
    where = (
        f"in {name_of(there)}"
        if there is not None
        else f"{shown(inches(geometry.distance_to_outline(middle, room.outline)))} outside it"
    )
    words = f"{name_of(appliance)} is stated to stand in {name_of(room)}, and its footprint is drawn {where}."
    return _answer(appliance, "room", "room", (words, (appliance.where("footprint"),)))


# Devices on the ceiling or in the floor


def _of_device(device: Device, job: Job) -> Iterator[Outcome]:
    if not stated_here(device, "mount") or device.mount not in (Mount.CEILING, Mount.FLOOR) or device.kind in _HANGS:
        return
    try:
        place = place_of(job.survey, device)
        height = place.height if isinstance(place, RoomPlace) else None
        if height is None:
            return
        level = job.plan.rooms[place.room].level  # type: ignore[union-attr]  # a height was read of a place in a room alone
        off = height if device.mount is Mount.FLOOR else ceiling_over(job.survey, level, place.point) - height  # type: ignore[union-attr]
    except UnknownFact:  # unknown: without a place and a ceiling nothing differs
        return
    words = (
        f"{name_of(device)} is stated to be mounted on the {device.mount.value}, and its place is {shown(inches(off))} from it."
    )
    differs = None if within(off, OFF_BY) else (words, (place.where("height"),))
    yield _answer(device, "mount", "mount", differs)


# The main breaker of a panel that is a supply's disconnect


def _of_supply(supply: Supply, job: Job) -> Iterator[Outcome]:
    for name in ("disconnect", "emergency_disconnect"):
        disconnect = getattr(supply, name) if supply.knows(name) else None
        if disconnect is None or not disconnect.knows("panel") or not stated_here(disconnect, "rating"):
            continue
        panel = job.plan.panels[disconnect.panel]
        if panel.knows("main_rating"):
            alike = reaches(disconnect.rating, panel.main_rating) and within(disconnect.rating, panel.main_rating)
            mine, its = shown(amperes(disconnect.rating)), shown(amperes(panel.main_rating))
            words = f"The {name.replace('_', ' ')} of {name_of(supply)} is rated {mine}, and the main breaker of {name_of(panel)}, which it is, {its}."
            yield _answer(disconnect, "rating", f"{name} rating", None if alike else (words, (panel.where("main_rating"),)))
