"""The end of a cable at a luminaire or equipment above an accessible ceiling, which may be farther from the last support."""

from typing import Final

from nailplate.plan import BoxEnd, Cable, Device, DeviceEnd, RoomPlace
from nailplate.plan.cables import End
from nailplate.plan.trade import ALARMS, LIGHTS_AND_FANS, NOT_DWELLINGS, WIRED_OUTLETS
from nailplate.plan.words import CableType
from nailplate.survey.ceiling_heights import ceiling_of
from nailplate.survey.index import Survey
from nailplate.survey.places import place_of
from nailplate.survey.regime import regime_of
from nailplate.units import Inches

CONNECTED: Final = LIGHTS_AND_FANS | WIRED_OUTLETS | ALARMS
"""What a cable is connected to at a ceiling: luminaires and other equipment (334.30(B)(2))."""
_LENGTHS: Final = {
    CableType.NM_B: "unsupported_to_luminaire",
    CableType.AC: "unsupported_armor_to_luminaire",
    CableType.MC: "unsupported_armor_to_luminaire",
}


def length_above_ceiling(survey: Survey, cable: Cable, end: End) -> Inches | None:
    """The most from the last support to what the cable ends at, if that is at an accessible ceiling; else None.

    Raises UnknownFact where the plan does not say whether that ceiling is accessible.
    """
    name = _LENGTHS.get(cable.type) if cable.knows("type") else None
    devices = _ended_at(survey, end)
    if name is None or not any(each.kind in CONNECTED for each in devices) or _is_no_dwelling(survey, cable):
        return None
    part = survey.plan.boxes[end.box] if isinstance(end, BoxEnd) else devices[0]
    place = place_of(survey, part)
    if not isinstance(place, RoomPlace) or not ceiling_of(survey, survey.plan.rooms[place.room]).accessible:
        return None
    return survey.inches(name)


def _ended_at(survey: Survey, end: End) -> list[Device]:
    if isinstance(end, BoxEnd):
        return list(survey.devices_in_box.get(end.box, ()))
    return [survey.plan.devices[end.device]] if isinstance(end, DeviceEnd) else []


def _is_no_dwelling(survey: Survey, cable: Cable) -> bool:
    """334.30(B)(2) speaks of dwellings alone, 320.30(D) and 330.30(D) do not."""
    return cable.type is CableType.NM_B and regime_of(survey.plan) in NOT_DWELLINGS
