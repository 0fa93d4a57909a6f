"""What a cord-connected appliance plugs into, what else its circuit feeds, and whether the receptacle is behind the appliance."""

from typing import Final

from nailplate.calc.geometry import Outline, project
from nailplate.plan import Circuit, Device, Part, UnknownFact
from nailplate.plan.trade import NOT_OUTLETS
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Connection, DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.places import standing
from nailplate.units import reaches, within

_AGAINST_A_WALL: Final = 12.0  # inches between the back of a built-in appliance and the wall behind it, at most


def plugged_into(survey: Survey, appliance: Appliance) -> Device:
    """The receptacle that an appliance's cord goes to. Raises UnknownFact where the plan does not say it."""
    if not appliance.knows("outlet"):
        serving = survey.once(_serving).get(appliance.id, [])
        if len(serving) == 1:
            return serving[0]
    return survey.plan.devices[appliance.outlet]


def is_served(survey: Survey, appliance: Appliance) -> bool:
    """Whether a receptacle says that it is there for the appliance."""
    return bool(survey.once(_serving).get(appliance.id))


def connection_of(survey: Survey, appliance: Appliance) -> Connection:
    """How an appliance is connected, as it says, or by a cord where it uses a receptacle. Raises UnknownFact."""
    if not appliance.knows("connection"):
        named = [survey.plan.devices[appliance.outlet]] if appliance.knows("outlet") else []
        if any(each.kind is DeviceKind.RECEPTACLE for each in named or survey.once(_serving).get(appliance.id, [])):
            return Connection.CORD
    return appliance.connection


def circuit_of(survey: Survey, appliance: Appliance) -> Circuit:
    """The circuit of an appliance, its own word or its receptacle's."""
    if appliance.knows("circuit"):
        return survey.plan.circuits[appliance.circuit]
    try:
        return survey.plan.circuits[plugged_into(survey, appliance).circuit]
    except UnknownFact:
        raise UnknownFact(appliance.where("circuit")) from None


def others_on_circuit(survey: Survey, appliance: Appliance) -> list[Part]:
    """Appliances and outlets that share the circuit of an appliance; its own receptacle is none of them."""
    circuit = circuit_of(survey, appliance)
    own = {appliance.outlet} if appliance.knows("outlet") else set()
    own |= {each.id for each in survey.once(_serving).get(appliance.id, [])}
    devices = survey.devices_on_circuit.get(circuit.id, [])
    outlets = [each for each in devices if each.kind not in NOT_OUTLETS and each.id not in own]
    appliances = [each for each in survey.appliances_on_circuit.get(circuit.id, []) if each is not appliance]
    return [*appliances, *outlets]


def is_behind(survey: Survey, device: Device, appliance: Appliance) -> bool:
    """Whether a receptacle is on the wall straight behind an appliance that stands against it, or inside its outline."""
    where = standing(survey, device)
    if where.wall is None:
        return _spans(appliance.footprint, where.point)
    wall = (where.wall.start, where.wall.end)
    at = project(where.point, wall)
    corners = [project(corner, wall) for corner in appliance.footprint]
    near = min(abs(each.offset - at.offset) for each in corners)
    return within(near, _AGAINST_A_WALL) and _between(at.along, [each.along for each in corners])


def _between(along: float, ends: list[float]) -> bool:
    return not reaches(min(ends), along) and not within(max(ends), along)


def _spans(outline: Outline, point: tuple[float, float]) -> bool:
    return _between(point[0], [x for x, _ in outline]) and _between(point[1], [y for _, y in outline])


def _serving(survey: Survey) -> dict[str, list[Device]]:
    """Appliance id to the receptacles that are there for it."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.RECEPTACLE and device.knows("serves"):
            for appliance in device.serves:
                found.setdefault(appliance, []).append(device)
    return found
