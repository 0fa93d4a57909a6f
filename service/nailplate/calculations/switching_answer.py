"""A wiring as the JSON of the calculation ``switching``; cables, switches and outlets are told by their number in the request."""

from collections.abc import Iterator, Mapping
from typing import Any

from nailplate.calc.switching import (
    CableEnd,
    Conductor,
    Joint,
    Role,
    Shortage,
    Switch,
    Terminal,
    Wiring,
    cable_name,
    truth_table,
)
from nailplate.plan.words import Ways


def name_of(kind: str, number: int) -> str:
    """What a switch, outlet or constant outlet of the request is called in the layout."""
    return f"{kind} {number}"


def numbered(name: str) -> tuple[str, int]:
    """What ``name_of`` made a name of."""
    kind, number = name.split()
    return kind, int(number)


def result_of(wiring: Wiring, sizes: Mapping[str, str]) -> dict[str, Any]:
    """Roles, shortages, joints and the table of positions. Where cables are short it is the wiring with those that would do."""
    return {
        "feasible": wiring.feasible,
        "roles": [_cable(wiring, number) for number in range(len(wiring.layout.cables))],
        "shortages": [_shortage(each, sizes) for each in wiring.shortages],
        "boxes": [
            {"box": box, "joints": [_joint(each, wiring) for each in wiring.joints_in(box)]} for box in wiring.layout.boxes
        ],
        "orders": [_order(control, order) for control, order in wiring.orders.items()],
        "truth_table": list(_table(wiring)),
    }


def _cable(wiring: Wiring, number: int) -> dict[str, Any]:
    cable = wiring.layout.cables[number]
    planned = wiring.cables[cable.id]
    return {
        "cable": number,
        "from": cable.ends[0],
        "to": cable.ends[1],
        "needs": planned.needs,
        "conductors": [_conductor(each) for each in planned.conductors],
    }


def _conductor(conductor: Conductor) -> dict[str, Any]:
    said: dict[str, Any] = {"color": conductor.color, "carries": conductor.net.role.value}
    if conductor.net.of:
        said["control"] = conductor.net.of
    if conductor.net.role is Role.TRAVELER:
        said["number"] = conductor.net.number
    if conductor.reidentified:
        said["marked"] = True
    return said


def _shortage(shortage: Shortage, sizes: Mapping[str, str]) -> dict[str, Any]:
    said: dict[str, Any] = {"cable": int(shortage.cable), "has": shortage.has, "needs": shortage.needs}
    if shortage.usual is not None:
        said["equivalent"] = cable_name(shortage.usual, sizes.get(shortage.cable))
    return said


def _order(control: str, order: tuple[str, ...]) -> dict[str, Any]:
    """The switches from the hot to the outlets."""
    said: dict[str, Any] = {"switches": [numbered(switch)[1] for switch in order]}
    return {"control": control, **said} if control else said


def _joint(joint: Joint, wiring: Wiring) -> dict[str, Any]:
    return {"carries": joint.net.role.value, "ends": [_end(end, wiring) for end in joint.ends]}


def _end(end: CableEnd | Terminal, wiring: Wiring) -> dict[str, Any]:
    if isinstance(end, CableEnd):
        return {"cable": int(end.cable), "color": end.color}
    if not end.device:
        return {"feed": end.name}
    kind, number = numbered(end.device)
    return {kind: number, "terminal": end.name}


def _table(wiring: Wiring) -> Iterator[dict[str, Any]]:
    switches = tuple(wiring.layout.switches)
    outlets = [outlet.id for control in wiring.layout.controls for outlet in control.outlets]
    in_order = sorted(range(len(switches)), key=lambda place: numbered(switches[place].id))
    for row in truth_table(wiring):
        live = dict(zip(outlets, row.live, strict=True))
        yield {
            "positions": [_position(switches[place], row.positions[place]) for place in in_order],
            "live": [live[name] for name in sorted(live, key=numbered)],
        }


def _position(switch: Switch, position: int) -> str:
    """Single-pole and double-pole switches are marked on and off; three-way and four-way switches are not, 404.7."""
    marked = switch.kind in (Ways.SINGLE_POLE, Ways.DOUBLE_POLE)
    return (("off", "on") if marked else ("down", "up"))[position]
