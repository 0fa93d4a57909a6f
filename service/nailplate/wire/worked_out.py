"""What follows from a plan, part by part, as a resolved plan lists it."""

from collections.abc import Iterator
from typing import Any

from nailplate.calc.box_fill import BoxContents
from nailplate.codes import Edition
from nailplate.plan import Box, Cable, Panel, Plan, Segment, UnknownFact
from nailplate.survey import Survey
from nailplate.survey.boxes import contents_of
from nailplate.survey.loads import leg_loads
from nailplate.survey.routing import Route, route_of
from nailplate.survey.wiring import roles_in
from nailplate.units import SCALES

Entry = dict[str, Any]


def worked_out(survey: Survey, edition: Edition) -> Iterator[tuple[str, Entry]]:
    """By pointer: the load of each panel's legs, what each box holds, and each cable's route, length and conductors."""
    plan = survey.plan
    for panel in plan.panels.values():
        yield from _legs(survey, panel)
    for box in plan.boxes.values():
        yield from _contents(survey, box, edition)
    for cable in plan.cables.values():
        yield from _route(cable, route_of(survey, cable), plan)
        yield from _roles(survey, cable)


def _unit(plan: Plan) -> float:
    """Inches in the plan's unit of length."""
    said = plan.units.length.value if plan.knows("units") and plan.units.knows("length") else "in"
    return float(SCALES[said].factor)


def _legs(survey: Survey, panel: Panel) -> Iterator[tuple[str, Entry]]:
    try:
        loads = leg_loads(survey, panel)
    except UnknownFact:  # unknown: what cannot be worked out is left out of what was worked out
        return
    if any(loads.values()):
        by = "appliances by their nameplates, circuits without any by half their rating"
        yield panel.pointer / "legs", _entry("wiring", by, {leg.value: f"{load:.1f} A" for leg, load in loads.items()})


def _contents(survey: Survey, box: Box, edition: Edition) -> Iterator[tuple[str, Entry]]:
    try:
        found = contents_of(survey, box, edition)
    except UnknownFact:  # unknown: what cannot be worked out is left out of what was worked out
        return
    least, most = _counted(found.least), _counted(found.most)
    untold = [str(each) for each in (*found.open, *found.unbounded)]
    facts = least if least == most and not untold else {"least": least, "most": most, "untold": untold}
    yield box.pointer / "contents", _entry("wiring", "cables and devices in the box", facts)


def _counted(contents: BoxContents) -> dict[str, Any]:
    """A box's contents by wire size, as many as count."""
    conductors: dict[str, int] = {}
    for each in contents.conductors:
        conductors[each.size] = conductors.get(each.size, 0) + each.count
    return {
        "conductors": conductors,
        "grounding_conductors": sum(each.count for each in contents.grounding_conductors),
        "yokes": len(contents.yokes),
        "internal_clamps": contents.internal_clamps,
        "fixture_wires": sum(each.count for each in contents.fixture_wires),
    }


def _route(cable: Cable, route: Route, plan: Plan) -> Iterator[tuple[str, Entry]]:
    at, unit = cable.own("route"), _unit(plan)
    if route.length is None:
        if route.derived:
            yield at, _entry("ends", "not routed", {"why_not": route.why_not})
        return
    lengths = {name: _number(getattr(route, name), unit) for name in ("along", "makeup", "slack", "length")}
    if not route.derived:
        if not cable.knows("length"):
            yield cable.own("length"), _entry("route", "the drawn route", lengths)
        return
    said = "as the plan's defaults for segments say" if plan.knows("defaults") and plan.defaults.segment else "not said"
    by = f"walls, openings, ceilings and floors as drawn; holes, plates, supports and insulation are {said}"
    yield at, _entry("ends", by, {**lengths, "route": [_segment(each, unit) for each in route.segments]})


def _segment(segment: Segment, unit: float) -> dict[str, Any]:
    named = {name: getattr(segment, name) for name in ("level", "wall") if segment.knows(name)}
    points = [[_number(each, unit) for each in point] for point in segment.points]
    return {**named, "points": points, "heights": [_number(each, unit) for each in segment.heights], "how": segment.how.value}


def _number(inches: float, unit: float) -> float:
    return round(inches / unit, 3)


def _roles(survey: Survey, cable: Cable) -> Iterator[tuple[str, Entry]]:
    found = [each for wiring in roles_in(survey, cable) for each in wiring.conductors]
    if found:
        conductors = [
            {"color": each.color, "role": each.net.role.value, **({"of": each.net.of} if each.net.of else {})} for each in found
        ]
        yield cable.pointer / "conductors", _entry("wiring", "its circuit wired through", {"conductors": conductors})


def _entry(source: str, by: str, facts: dict[str, Any]) -> Entry:
    return {"from": source, "by": by, "facts": facts}
