"""Facts that an author states once: what one part says of another, or the drawing of it, holds for that other part too.

A part's own word stands. What is derived here carries the pointer of where it is stated, so that a finding points there; where two
places state the same fact and differ, the rule ``stated-alike`` tells both.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final, TypeVar

from nailplate.calc import geometry
from nailplate.plan import Appliance, Circuit, Device, Facts, Panel, Pointer, Room, RoomPlace, Supply
from nailplate.plan.facts import Part
from nailplate.plan.pointer import Elsewhere
from nailplate.plan.supplies import Disconnect
from nailplate.plan.trade import COOLING, SPACE_HEATING
from nailplate.plan.words import Connection, DeviceKind, DisconnectKind, Mount
from nailplate.survey.ceiling_heights import height_at

OUTLETS: Final = (DeviceKind.RECEPTACLE, DeviceKind.CONNECTION)
"""Kinds of device that an appliance is served from."""
AT_CEILING: Final = 2.0
"""Inches below the ceiling within which a part free in a room is mounted on it; plans give the finish or the box's front."""
ROOM_SLACK: Final = 6.0
"""Inches that a footprint may lie past its room's finished faces: the depth of a wall (common practice)."""
_SIDE_STEP: Final = 2
"""Spaces are numbered odd on the left and even on the right (common practice), so that the next one down a side is two on."""
Told = dict[str, tuple[object, Pointer]]
"""Facts of one part by name: the value, and where the plan states it."""
OnePart = TypeVar("OnePart", bound=Facts)


def with_stated_elsewhere(maps: Mapping[str, Any], document: Mapping[str, Any]) -> dict[str, Any]:
    """The maps of a plan with facts filled in that other parts state; maps of which nothing follows are the same objects."""
    done = dict(maps)
    for name, told in (
        ("circuits", _circuits(done, document)),
        ("appliances", _appliances(done)),
        ("devices", _devices(done)),
        ("supplies", _supplies(done)),
    ):
        found = {part_id: facts for part_id, facts in told if facts}
        if found:
            done[name] = {key: _also(part, found[key]) if key in found else part for key, part in done[name].items()}
    return done


def _also(part: OnePart, told: Told) -> OnePart:
    facts = {name: getattr(part, name) for name in part.stated}
    facts.update((name, value) for name, (value, _) in told.items())
    return type(part)(part.pointer, facts, {**part.said_at, **{name: Elsewhere(at) for name, (_, at) in told.items()}})


def stated_here(part: Facts, name: str) -> bool:
    """Whether the author states a fact of this part itself, or by a default, and it does not follow from another one."""
    return part.knows(name) and not isinstance(part.said_at.get(name), Elsewhere)


def _each(maps: Mapping[str, Any], name: str, kind: type[Part]) -> Iterable[Any]:
    return (each for each in maps.get(name, {}).values() if isinstance(each, kind))


# The spaces of a breaker


def _circuits(maps: Mapping[str, Any], document: Mapping[str, Any]) -> Iterator[tuple[str, Told]]:
    """A breaker of several poles whose first space is given as a bare number takes those below it on the same side."""
    for circuit in _each(maps, "circuits", Circuit):
        if circuit.knows("position", "breaker") and type(document["circuits"][circuit.id].get("position")) is int:
            poles = circuit.breaker.poles if circuit.breaker.knows("poles") else 1
            panel = maps.get("panels", {}).get(circuit.panel) if circuit.knows("panel") else None
            if poles > 1:
                yield circuit.id, {"position": (_spaces(circuit.position[0], poles, panel), circuit.own("position"))}


def _spaces(first: int, poles: int, panel: Panel | None) -> tuple[int, ...]:
    """In a panel of two spaces both are taken, however they are numbered."""
    step = 1 if panel is not None and panel.knows("spaces") and panel.spaces <= _SIDE_STEP else _SIDE_STEP
    return tuple(range(first, first + step * poles, step))


# Appliances: the outlet and circuit that serve them, and the room that they stand in


def _appliances(maps: Mapping[str, Any]) -> Iterator[tuple[str, Told]]:
    serving = outlets_serving(_each(maps, "devices", Device))
    devices, rooms = maps.get("devices", {}), None
    for appliance in _each(maps, "appliances", Appliance):
        told: Told = {}
        outlet = devices.get(appliance.outlet) if appliance.knows("outlet") else None
        fitting = outlets_for(appliance, serving) if not appliance.knows("outlet") else []
        if len(fitting) == 1:
            outlet = fitting[0]
            told["outlet"] = (outlet.id, outlet.where("serves"))
        if (
            outlet is not None
            and not appliance.knows("circuit")
            and outlet.knows("circuit")
            and not outlet.knows("second_circuit")
        ):
            told["circuit"] = (outlet.circuit, outlet.where("circuit"))
        if not appliance.knows("room") and appliance.knows("footprint"):
            rooms = rooms or _room_grid(_each(maps, "rooms", Room))
            room = _room_around(rooms, appliance.footprint)
            if room is not None:
                told["room"] = (room.id, appliance.where("footprint"))
        yield appliance.id, told


def outlets_for(appliance: Appliance, serving: Mapping[str, list[Device]]) -> list[Device]:
    """Those that serve an appliance and that it may be connected to: a service receptacle is there for equipment that is wired in too."""
    return [each for each in serving.get(appliance.id, ()) if _takes(appliance, each)]


def _takes(appliance: Appliance, outlet: Device) -> bool:
    if appliance.knows("connection"):
        return (outlet.kind is DeviceKind.RECEPTACLE) == (appliance.connection is Connection.CORD)
    return outlet.kind is DeviceKind.CONNECTION or appliance.kind not in COOLING | SPACE_HEATING


def outlets_serving(devices: Iterable[Device]) -> dict[str, list[Device]]:
    """Appliance id to the receptacles and connections that say they are there for it."""
    found: dict[str, list[Device]] = {}
    for device in devices:
        if device.knows("serves") and device.kind in OUTLETS:
            for appliance in device.serves:
                found.setdefault(appliance, []).append(device)
    return found


def _room_grid(rooms: Iterable[Room]) -> geometry.Grid[Room]:
    drawn = [room for room in rooms if room.knows("outline")]
    return geometry.Grid(((geometry.bounding_box(room.outline), room) for room in drawn), cell=_CELL)


_CELL: Final = 120.0
"""Inches; about the size of a room."""


def _room_around(rooms: geometry.Grid[Room], footprint: geometry.Outline) -> Room | None:
    """The one room, of any level, that holds a footprint; none where there are several or it reaches into another."""
    middle = geometry.centroid(footprint)
    holding = [room for room in rooms.near((*middle, *middle)) if geometry.contains(room.outline, middle)]
    if len(holding) != 1 or not all(geometry.contains(holding[0].outline, corner, ROOM_SLACK) for corner in footprint):
        return None
    return holding[0]


# Devices: whom they serve, and whether they hang on the ceiling


def _devices(maps: Mapping[str, Any]) -> Iterator[tuple[str, Told]]:
    using: dict[str, list[Appliance]] = {}
    for appliance in _each(maps, "appliances", Appliance):
        if stated_here(appliance, "outlet"):
            using.setdefault(appliance.outlet, []).append(appliance)
    for device in _each(maps, "devices", Device):
        told: Told = {}
        if device.id in using and not device.knows("serves"):
            told["serves"] = (tuple(each.id for each in using[device.id]), using[device.id][0].where("outlet"))
        if not device.knows("mount") and (at := _on_ceiling(maps, device)) is not None:
            told["mount"] = (Mount.CEILING, at)
        yield device.id, told


def _on_ceiling(maps: Mapping[str, Any], device: Device) -> Pointer | None:
    """Where the height is stated at which a device, or its box, is at the ceiling of its room."""
    box = maps.get("boxes", {}).get(device.box) if device.knows("box") else None
    holder = device if device.knows("at") else box
    place = holder.at if holder is not None and holder.knows("at") else None
    if not isinstance(place, RoomPlace) or not place.knows("height", "point"):
        return None
    room = maps.get("rooms", {}).get(place.room)
    ceiling = ceiling_height(maps, room, place.point) if room is not None else None
    return place.where("height") if ceiling is not None and place.height >= ceiling - AT_CEILING else None


def ceiling_height(maps: Mapping[str, Any], room: Room, point: geometry.Point) -> float | None:
    """The ceiling's height over a point of a room, as the room states it, else its level; None where neither does."""
    for part in (room, maps.get("levels", {}).get(room.level)):
        if part is not None and part.knows("ceiling"):
            known = part.ceiling.knows("profile") or part.ceiling.knows("height")
            return height_at(part.ceiling, point) if known else None
    return None


# Supplies: one disconnect and one surge-protective device, said once


def _supplies(maps: Mapping[str, Any]) -> Iterator[tuple[str, Told]]:
    panels, supplies = maps.get("panels", {}), maps.get("supplies", {})
    for supply in _each(maps, "supplies", Supply):
        told: Told = {}
        for name in ("disconnect", "emergency_disconnect"):
            if supply.knows(name) and (whole := _of_its_panel(getattr(supply, name), panels)) is not None:
                told[name] = (whole, supply.where(name))
        starts = panels.get(supply.starts_at) if supply.knows("starts_at") else None
        ahead = supplies.get(starts.supply) if starts is not None and starts.knows("supply") else None
        if (
            ahead is not None
            and ahead is not supply
            and not supply.knows("surge_protection")
            and ahead.knows("surge_protection")
        ):
            told["surge_protection"] = (ahead.surge_protection, ahead.where("surge_protection"))
        yield supply.id, told


def _of_its_panel(disconnect: Disconnect, panels: Mapping[str, Panel]) -> Disconnect | None:
    """A disconnect that is the main breaker of a panel: the place and rating are the panel's."""
    panel = panels.get(disconnect.panel) if disconnect.knows("panel") else None
    if panel is None:
        return None
    told: Told = {}
    if not disconnect.knows("kind"):
        told["kind"] = (DisconnectKind.BREAKER, disconnect.where("panel"))
    for name, theirs in (("at", "at"), ("rating", "main_rating")):
        if not disconnect.knows(name) and panel.knows(theirs):
            told[name] = (getattr(panel, theirs), panel.where(theirs))
    return _also(disconnect, told) if told else None
