"""Lines between symbols: switch legs, home runs, and the cables' routes as they are drawn."""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.plan import Cable, Control, Level
from nailplate.plan.trade import OUTSIDE_FRAMING
from nailplate.sheets.drawing.arrows import arrow_head
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, place
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.spots import part_of, spot_of
from nailplate.sheets.drawing.svg import Markup, Point, circle, figure, group, path, polyline, title
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.survey.index import Survey
from nailplate.survey.routing import Route, route_of
from nailplate.survey.wiring.circuit_trees import circuit_tree
from nailplate.survey.wiring.wiring_nodes import Node, devices_at, ends_of

_BOW: Final = 0.16
"""Of a line's length: how far a switch leg bows out, so that it is no wall and no cable."""
_ARROW: Final = 26.0
"""Points; the length of a home run's arrow."""
_TAG: Final = 6.6
_SAME: Final = 0.5
"""Inches within which a stretch goes straight up or down."""


def draw_switch_legs(draft: Draft, survey: Survey) -> None:
    """From each switch to the nearest outlet that it controls, and on from outlet to outlet."""
    for control in survey.plan.controls.values():
        outlets = [draft.centers[each] for each in _pointers(survey, control.outlets) if each in draft.centers]
        switches = [draft.centers[each] for each in _pointers(survey, control.switches) if each in draft.centers]
        legs = list(_legs(switches, outlets))
        if legs:
            draft.used["switch-leg"] = None
            draft.draw("switch-legs", group(title(_control_words(control)), *legs, data_part=control.pointer))


def _pointers(survey: Survey, names: tuple[str, ...]) -> list[str]:
    return [survey.plan.devices[name].pointer for name in dict.fromkeys(names)]


def _control_words(control: Control) -> str:
    return f"Control {name_of(control)}"


def _legs(switches: list[Point], outlets: list[Point]) -> Iterator[Markup]:
    if not outlets:
        return
    for switch in switches:
        yield _curve(switch, min(outlets, key=lambda each: math.dist(each, switch)))
    left, at = outlets[1:], outlets[0]
    while left:
        nearest = min(left, key=lambda each: math.dist(each, at))
        yield _curve(at, nearest)
        left.remove(nearest)
        at = nearest


def _curve(one: Point, other: Point, class_: str = "np-switch-leg") -> Markup:
    across, down = other[0] - one[0], other[1] - one[1]
    bend = ((one[0] + other[0]) / 2 - down * _BOW, (one[1] + other[1]) / 2 + across * _BOW)
    said = (f"{figure(x)} {figure(y)}" for x, y in (one, bend, other))
    return path("M{} Q{} {}".format(*said), class_)


# Home runs


def draw_home_runs(draft: Draft, survey: Survey) -> None:
    """An arrow at the first box of each home run, toward the panel, with the circuit's tag at its tip."""
    for circuit in survey.plan.circuits.values():
        tree = circuit_tree(survey, circuit)
        for cable in tree.home_runs:
            for node in ends_of(survey, cable):
                start = _center_of(draft, survey, node) if node != tree.panel else None
                if start is not None and tree.panel is not None:
                    draft.circuits[circuit.id] = None
                    _home_run(draft, cable, start, _panel_point(draft, survey, tree.panel), circuit_tag(survey, circuit))


def _center_of(draft: Draft, survey: Survey, node: Node) -> Point | None:
    """Where the symbol of a box's first device stands, or the box's own."""
    pointers = (*(each.pointer for each in devices_at(survey, node)), node.pointer)
    return next((draft.centers[each] for each in pointers if each in draft.centers), None)


def _panel_point(draft: Draft, survey: Survey, panel: Node) -> Point | None:
    part = part_of(survey.plan, panel.pointer)
    spot = spot_of(survey, part) if part is not None else None
    return draft.view(spot.point) if spot is not None else None


def _home_run(draft: Draft, cable: Cable, start: Point, panel: Point | None, tag: str) -> None:
    far = math.dist(start, panel) if panel is not None else 0.0
    toward = ((panel[0] - start[0]) / far, (panel[1] - start[1]) / far) if panel is not None and far else (0.0, -1.0)
    length = min(_ARROW, far * _PART) if far else _ARROW
    tip = (start[0] + toward[0] * length, start[1] + toward[1] * length)
    head = arrow_head(start, tip)
    name = name_of(cable)
    draft.used["home-run"] = None
    draft.draw("home-runs", group(title(f"Home run {name}"), _curve(start, tip, "np-home-run"), head, data_part=cable.pointer))
    place(draft, Label((f"HR {tag}",), _TAG, tip, 1.0, "np-tag", bold=True))


_PART: Final = 0.6
"""Of the way to the panel: an arrow near it stays short of it."""


# Cable routes


def draw_cables(draft: Draft, survey: Survey, level: Level) -> None:
    """Each stretch of each route on the level, and a ring where a cable goes straight up or down."""
    for cable in survey.plan.cables.values():
        route = route_of(survey, cable)
        drawn = list(_stretches(draft, route, level))
        if drawn:
            draft.draw("cables", group(title(cable_words(cable, route)), *drawn, data_part=cable.pointer))


def cable_words(cable: Cable, route: Route) -> str:
    """A cable for pointing at it, told apart where its route was worked out and not drawn."""
    return f"Cable {name_of(cable)}{', route worked out from its ends' if route.derived else ''}"


def _stretches(draft: Draft, route: Route, level: Level) -> Iterator[Markup]:
    for segment in route.segments:
        if not segment.knows("points", "level") or segment.level != level.id:
            continue
        points = draft.view.all(segment.points)
        if all(math.dist(each, segment.points[0]) <= _SAME for each in segment.points):
            draft.used["riser"] = None
            yield circle(points[0], 1.5, "np-riser")
        else:
            free = segment.how in OUTSIDE_FRAMING
            name = "cable-derived" if route.derived else "cable-free" if free else "cable"
            draft.used[name] = None
            yield polyline(points, f"np-{name}")
