"""Whether a drawing is mirrored: drawn with y down, or with left and right of its walls swapped.

Only outlets inside a house tell: receptacles and switches on outside walls, with a room on one side alone. Few are on the weather side of
a house, so that many there, and next to none in the rooms, are a drawing that is mirrored.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.codes import EDITIONS, edition
from nailplate.plan import ROOT, Device, Fault, FaultCode, Plan, WallPlace
from nailplate.plan.trade import SWITCHES
from nailplate.plan.words import DeviceKind, Exposure, Side, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import place_of, point_on_wall, room_beside

LEAST: Final = 6
"""Outlets that face away from the rooms before a drawing is called mirrored (our own measure), on more than one wall."""
SHARE: Final = 0.8
HANDEDNESS: Final = (
    "In a plan x runs to the right and y up, and left and right of a wall are seen from its `from` toward its `to`."
)


def mirrored(plan: Plan) -> Fault | None:
    """The fault of a plan, sound otherwise, of which nearly all such outlets face away from their rooms."""
    toward: list[Device] = []
    away: list[tuple[Device, str]] = []
    for device, wall, inside in _telling(plan):
        if inside:
            toward.append(device)
        else:
            away.append((device, wall))
    every = len(away) + len(toward)
    if len(away) < LEAST or len(away) < SHARE * every or len({wall for _, wall in away}) < 2:
        return None
    said = (
        f"{len(away)} of the {every} receptacles and switches on outside walls face away from the rooms; {HANDEDNESS} This drawing "
        "seems to have y down: change the sign of every y, or swap left and right of every side, facing and swing"
    )
    return Fault(ROOT / "devices", FaultCode.BAD_GEOMETRY, said)


def _telling(plan: Plan) -> Iterator[tuple[Device, str, bool]]:
    """Each such outlet with its wall, and whether it faces the room there."""
    with Survey(plan, edition(EDITIONS[0])) as survey:
        for device in plan.devices.values():
            place = _stated_place(survey, device)
            if place is None or not _is_indoors(device):
                continue
            wall = plan.walls[place.wall]
            if wall.kind is not WallKind.EXTERIOR:
                continue
            at = point_on_wall(wall, place.along)
            sides = [side for side in Side if room_beside(survey, wall, at, side) is not None]
            if len(sides) == 1:
                yield device, wall.id, sides[0] is place.side


def _stated_place(survey: Survey, device: Device) -> WallPlace | None:
    if not (device.knows("at") or (device.knows("box") and survey.plan.boxes[device.box].knows("at"))):
        return None
    place = place_of(survey, device)
    return place if isinstance(place, WallPlace) and place.knows("along", "side") else None


def _is_indoors(device: Device) -> bool:
    """Whether nothing that is stated of it says that it is outdoors."""
    if device.kind is not DeviceKind.RECEPTACLE and device.kind not in SWITCHES:
        return False
    wet = device.is_among(exposure=(Exposure.DAMP, Exposure.WET))
    return not (wet or device.is_(weather_resistant=True) or device.knows("cover"))
