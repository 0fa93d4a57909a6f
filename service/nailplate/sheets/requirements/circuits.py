"""How many circuits of each required kind a house has at least, by its rooms and floor area, and how many spaces they take."""

from collections.abc import Mapping
from typing import Final

from nailplate.calc.loads.dwelling import SQUARE_FOOT
from nailplate.calc.loads.general import lighting_circuits
from nailplate.plan import Appliance, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS
from nailplate.plan.words import Use
from nailplate.rulekit import Job
from nailplate.survey import Survey
from nailplate.survey.space import counted_area
from nailplate.units import Amperes, reaches

_RATING = Amperes(15.0)
_LINE_TO_LINE = 200.0
_ONE_EACH: Final = {"laundry-circuit": Use.LAUNDRY, "bathroom-circuit": Use.BATHROOM, "garage-circuit": Use.GARAGE}


def least_circuits(job: Job) -> Mapping[str, int]:
    """Id of the rule that requires circuits to how many, for the rooms drawn; general circuits are counted at 15 A."""
    return job.survey.once(_least)


def _least(survey: Survey) -> Mapping[str, int]:
    plan, edition = survey.plan, survey.edition
    uses = {use for room in plan.rooms.values() for use in room.uses}
    least = {rule: 1 for rule, use in _ONE_EACH.items() if use in uses}
    if FOOD_ROOMS & uses:
        least["small-appliance-circuits"] = edition.dwelling_load.allowances.least_small_appliance
    try:
        area = counted_area(survey, garages=edition.holds("garages_count")).area / SQUARE_FOOT
    except UnknownFact:  # unknown: the least holds whatever the area is; lighting-circuit-count asks for it
        return least
    return {**least, "lighting-circuit-count": lighting_circuits(area, _RATING, edition)}


def least_spaces(job: Job) -> int | None:
    """Spaces for those circuits and for the poles of each appliance drawn; None where the floor area is not known."""
    least = least_circuits(job)
    if "lighting-circuit-count" not in least:
        return None
    return sum(least.values()) + sum(_poles(each) for each in job.plan.appliances.values())


def _poles(appliance: Appliance) -> int:
    return 2 if appliance.knows("volts") and reaches(appliance.volts, _LINE_TO_LINE) else 1
