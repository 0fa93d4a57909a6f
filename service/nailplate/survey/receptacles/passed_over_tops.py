"""Receptacles at an island or peninsula that do not serve its top, each with why."""

from collections.abc import Iterator

from nailplate.plan import Device
from nailplate.plan.words import Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.receptacles.counter_receptacles import kept_by_appliance
from nailplate.survey.receptacles.island_tops import Top, TopReceptacle, overhang_at, receptacles_at
from nailplate.survey.receptacles.passed_over import PassedOver, why_kept
from nailplate.units import inches, shown, within


def passed_over_at_top(survey: Survey, top: Top, serving: tuple[TopReceptacle, ...]) -> Iterator[PassedOver]:
    """Those at the top or on the cabinet under it that are not among the ones that serve it, as far as it is known why."""
    serves = {each.device.id for each in serving}
    for each in receptacles_at(survey, top.counter):
        if each.device.id not in serves and (why := _why(survey, top, each.device, standing(survey, each.device))):
            yield PassedOver(each.device, each.point, why)


def _why(survey: Survey, top: Top, device: Device, where: Standing) -> str:
    if kept_by_appliance(survey, device):
        return why_kept(survey, device)
    if device.is_among(mount=(Mount.FLOOR, Mount.DRAWER)):
        return "it is below the top"
    if device.is_(mount=Mount.COUNTERTOP):
        return "it is not listed for countertops"
    if not (where.place.knows("height") and top.counter.knows("height")):
        return ""
    under, over = top.counter.height - where.height, overhang_at(top.counter, where.point)
    below, overhang = survey.measure("island_receptacle_below_top"), survey.measure("overhang_over_receptacle")
    if under > 0 and not within(under, below.value):
        return f"it is {shown(inches(under))} below the top, and {shown(below)} is the most"
    if under > 0 and not within(over, overhang.value):
        return f"the top overhangs it by {shown(inches(over))}, and {shown(overhang)} is the most"
    return ""
