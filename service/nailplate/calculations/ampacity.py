"""Ampacity and the devices that may guard it, asked without a plan."""

from dataclasses import replace
from typing import Annotated, Any

from nailplate.calc.ampacity import AmpacityFigures, ConductorUse, Method
from nailplate.calc.ampacity import ampacity as ampacity_figures
from nailplate.calc.branch_load import branch_load
from nailplate.calc.electrodes import largest_dwelling_rating
from nailplate.calc.overcurrent import OvercurrentLimit, max_overcurrent
from nailplate.calc.steps import Step
from nailplate.calculations.asked import Request, calculation, measure_value, stated
from nailplate.codes import Column, Edition, Material
from nailplate.plan.facts import AtMost, Doc, Needed, drawn
from nailplate.plan.marks import Count, Current, Temperature, WireSize
from nailplate.units import Amperes, amperes

MOST_TOGETHER = 1_000
LARGEST_CURRENT = 10_000.0


@drawn
class AmpacityRequest(Request):
    """A conductor and how it runs."""

    size: Annotated[WireSize, Doc("of the conductor"), Needed]
    material: Annotated[Material, Doc("copper unless said")]
    method: Annotated[Method, Doc("the wiring method")]
    insulation: Annotated[Column, Doc("temperature rating of the insulation")]
    ambient: Annotated[Temperature, Doc("30 degC unless said")]
    current_carrying: Annotated[Count, AtMost(MOST_TOGETHER), Doc("current-carrying conductors bundled together")]
    terminations: Annotated[Column, Doc("temperature rating of the terminals")]
    in_thermal_insulation: Annotated[bool, Doc("whether it touches thermal insulation, which limits small SE cable")]
    continuous: Annotated[Current, AtMost(LARGEST_CURRENT), Doc("the load that runs three hours or more; asks what it needs")]
    noncontinuous: Annotated[Current, AtMost(LARGEST_CURRENT), Doc("the rest of the load; asks what it needs")]
    whole_dwelling: Annotated[
        bool, Doc("whether it carries the whole load of one dwelling, single-phase; asks the largest rating it may serve")
    ]


@calculation(
    "ampacity",
    AmpacityRequest,
    example={
        "edition": "2023",
        "size": "12 AWG",
        "method": "NM-B",
        "ambient": "104 degF",
        "current_carrying": 6,
        "terminations": "60 C",
    },
)
def ampacity(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """What a conductor carries after correction and adjustment, and the overcurrent devices it allows."""
    names = ("material", "method", "insulation", "ambient", "current_carrying", "terminations", "in_thermal_insulation")
    use = ConductorUse(size=request.size, **stated(request, *names))
    figures = ampacity_figures(use, in_force)
    limits = max_overcurrent(figures.ampacity, use.size, use.material, in_force)
    result = {
        "table_value": measure_value(amperes(figures.table_value)),
        "correction": figures.correction,
        "adjustment": figures.adjustment,
        "derated": measure_value(amperes(figures.derated)),
        "ampacity": measure_value(amperes(figures.ampacity)),
        "limited_by": figures.limited_by,
        "max_overcurrent": {
            "next_size_up": _limit(limits.next_size_up),
            "cord_and_plug_receptacles": _limit(limits.cord_and_plug_receptacles),
        },
    }
    steps = (*figures.steps, *limits.steps)
    for further in (_load(request, figures, in_force), _whole_dwelling(request, use, in_force)):
        result, steps = {**result, **further[0]}, (*steps, *further[1])
    return result, steps


def _limit(limit: OvercurrentLimit) -> dict[str, Any]:
    return {**(measure_value(amperes(limit.rating)) if limit.rating is not None else {}), "by": limit.by}


def _load(request: Any, figures: AmpacityFigures, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    asked = stated(request, "continuous", "noncontinuous")
    if not asked:
        return {}, ()
    found = branch_load(asked.get("continuous", Amperes(0.0)), asked.get("noncontinuous", Amperes(0.0)), figures, in_force)
    device = {} if found.device is None else {"least_overcurrent": measure_value(amperes(found.device))}
    return {"load": {"counted": measure_value(amperes(found.counted)), "carried": found.carried, **device}}, found.steps


def _whole_dwelling(request: Any, use: ConductorUse, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """The relief's own table is made for terminals of 75 degC; others are taken where they are stated."""
    if not (request.knows("whole_dwelling") and request.whole_dwelling):
        return {}, ()
    table = in_force.dwelling_conductors
    carried = ampacity_figures(replace(use, terminations=use.terminations or Column.C75), in_force).ampacity
    rating = largest_dwelling_rating(carried, in_force)
    note = f"at {use.terminations or Column.C75} terminals, against {table.share:.0%} of a rating from {table.least:g} to {table.largest:g} A"
    steps = [Step("ampacity for one whole dwelling", amperes(carried), table.cite, note)]
    if rating is None:
        return {"whole_dwelling": {"by": table.cite}}, tuple(steps)
    steps.append(Step("largest rating it may stand behind", amperes(rating), table.cite))
    return {"whole_dwelling": {"largest_rating": measure_value(amperes(rating)), "by": table.cite}}, tuple(steps)
