"""A plan with everything worked out that follows from it: defaults in their parts, and beside them what the drawing and wiring tell.

The resolved plan is a plan: it gives the same findings. What its author did not state at a place is listed under ``derived`` by the
pointer of that place. Values that come from defaults stand in the parts; what was worked out (routes, lengths, what boxes hold, what
conductors carry, loads of legs) stands in ``derived`` alone, so that it is worked out anew from whatever is changed. Where routes are
worked out, the defaults of segments stay.
"""

import copy
from collections.abc import Iterator, Mapping
from typing import Any

from nailplate.calc.work import Meter, WorkSpent, doing, metered
from nailplate.codes import edition
from nailplate.plan import PART_KINDS, ROOT, Facts, Plan, Pointer
from nailplate.plan.defaults import SEGMENTS
from nailplate.plan.facts import json_names
from nailplate.plan.pointer import Elsewhere
from nailplate.review import BUDGET, OverBudget
from nailplate.survey import Survey
from nailplate.wire.completing import DEFAULTS
from nailplate.wire.reading import read_plan_value
from nailplate.wire.worked_out import Entry, worked_out


def resolved(value: Mapping[str, Any], budget: int = BUDGET) -> dict[str, Any]:
    """The resolved plan of a plan's JSON value. Raises PlanRefused (OverBudget where that takes too many steps)."""
    plan = read_plan_value(value)
    document = copy.deepcopy(dict(value))
    before = {key: entry for key, entry in document.pop("derived", {}).items() if entry["from"] in ("default", "continued")}
    entries = {**before, **dict(_filled_in(plan, document, value))}
    left = _for_derived_routes(plan, document.pop("defaults", {}))
    entries = {key: entry for key, entry in entries.items() if entry["from"] == "elsewhere" or _stands(document, Pointer(key))}
    found = {**dict(sorted(entries.items())), **_follows(plan, budget)}
    return {**document, **({"defaults": left} if left else {}), **({"derived": found} if found else {})}


def _for_derived_routes(plan: Plan, defaults: Mapping[str, Any]) -> dict[str, Any]:
    """What stays of the defaults: those of segments, where a route is worked out and no segment stands to write them in."""
    drawn = all(cable.knows("route") and cable.route for cable in plan.cables.values())
    return {SEGMENTS: defaults[SEGMENTS]} if SEGMENTS in defaults and not drawn else {}


def _follows(plan: Plan, budget: int) -> dict[str, Entry]:
    """All that follows from a plan. Raises OverBudget."""
    doing("routes, lengths and loads")
    try:
        with metered(Meter(budget)), Survey(plan) as survey:
            return dict(worked_out(survey, edition(plan.basis.edition)))
    except WorkSpent as spent:
        raise OverBudget(ROOT, spent.limit) from None


# Defaults and continued routes, written where they are taken


def _filled_in(plan: Plan, document: dict[str, Any], value: Mapping[str, Any]) -> Iterator[tuple[str, Entry]]:
    for name in PART_KINDS:
        for part in getattr(plan, name).values():
            yield from _filled(part, document[name][part.id], value)


def _filled(facts: Facts, into: Any, value: Mapping[str, Any]) -> Iterator[tuple[str, Entry]]:
    """Writes into an object what it takes from elsewhere, and tells where that stands."""
    names = json_names(type(facts))
    for name in facts.stated:
        said = facts.said_at.get(name)
        inner = getattr(facts, name)
        if isinstance(said, Elsewhere) and not (isinstance(inner, Facts) and inner.pointer == facts.own(name)):
            yield facts.own(name), {"from": "elsewhere", "by": str(said), **_told(names[name], inner)}
        elif said is not None and not isinstance(inner, Facts):
            if said.startswith(DEFAULTS):
                into[names[name]] = copy.deepcopy(_at(value, said))
                yield facts.own(name), {"from": "default", "by": str(said)}
        elif isinstance(inner, Facts):
            yield from _filled(inner, into.setdefault(names[name], {}), value)
        elif type(inner) is tuple and inner and isinstance(inner[0], Facts):
            for place, item in enumerate(inner):
                yield from _filled(item, into[names[name]][place], value)
            if name == "route":
                yield from _continued(facts.own(name), into[names[name]])


def _told(name: str, value: object) -> dict[str, Any]:
    """A fact that follows from another, as a plan would state it; an object stands where it is stated."""
    if isinstance(value, Facts):
        return {}
    written = f"{value:g} A" if isinstance(value, float) else [*value] if isinstance(value, tuple) else value
    return {"facts": {name: written}}


def _continued(at: Pointer, route: list[dict[str, Any]]) -> Iterator[tuple[str, Entry]]:
    """Writes points and heights into the segments of a route that say only where they end."""
    for place, segment in enumerate(route):
        if "to" not in segment and "to_height" not in segment:
            continue
        before = route[place - 1]
        point, height = before["points"][-1], before["heights"][-1] if _has_heights(before) else None
        segment["points"] = [point, segment.pop("to", point)]
        end = segment.pop("to_height", height)
        yield at / place / "points", {"from": "continued", "by": str(at / (place - 1))}
        if height is not None:
            segment["heights"] = [height, end]


def _has_heights(segment: Mapping[str, Any]) -> bool:
    return "heights" in segment and len(segment["heights"]) == len(segment["points"])


def _at(value: Any, pointer: Pointer) -> Any:
    for member in pointer.members:
        value = value[int(member)] if isinstance(value, list) else value[member]
    return value


def _stands(document: Any, pointer: Pointer) -> bool:
    try:
        _at(document, pointer)
    except (KeyError, IndexError, TypeError, ValueError):
        return False
    return True
