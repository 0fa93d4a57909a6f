"""What is drawn to be switched or to switch, and stands in no control: switched halves of receptacles, and switches."""

from collections.abc import Iterator

from nailplate.plan import Appliance, Device
from nailplate.plan.trade import HAND_SWITCHES
from nailplate.plan.words import SwitchedHalf
from nailplate.survey.index import Survey
from nailplate.survey.protection import appliances_served


def halves_without_switch(survey: Survey) -> Iterator[Device]:
    """Receptacles of which a half is said to be switched, and that no control names."""
    named = {name for control in survey.plan.controls.values() for name in control.outlets}
    for device in survey.plan.devices.values():
        if device.isnt(switched_half=SwitchedHalf.NONE) and device.id not in named:
            yield device


def switches_without_load(survey: Survey) -> Iterator[Device]:
    """Switches that no control names. Those that are there for an appliance, as its outlet or to disconnect it, are none of them."""
    named = {name for control in survey.plan.controls.values() for name in (*control.switches, *control.outlets)}
    named |= {each.disconnect.device for each in survey.plan.appliances.values() if _names_its_disconnect(each)}
    for device in survey.plan.devices.values():
        own = device.knows("part_of") or appliances_served(survey, device)
        if device.kind in HAND_SWITCHES and device.id not in named and not own:
            yield device


def _names_its_disconnect(appliance: Appliance) -> bool:
    return appliance.knows("disconnect") and appliance.disconnect.knows("device")
