"""What a wall is made of, as far as its plan says it: plates, studs by their spacing, openings, counters, cables and drill lines."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Cable, Opening, Segment, Wall
from nailplate.plan.words import How, Plates
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, place
from nailplate.sheets.drawing.measures import BY_TAPE, dimension
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.svg import Markup, Point, group, line, polyline, rectangle, title
from nailplate.sheets.drawing.wall_face import Face
from nailplate.sheets.drawing.walls import half_of
from nailplate.sheets.drawing.wires import cable_words
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import STUDLESS, states_studs, stud_centers
from nailplate.survey.routing import route_of

MEMBER: Final = 1.5
"""Inches: the thickness of a 2x stud or plate (dressed size, PS 20)."""
_LEVEL: Final = 0.5
"""Inches by which a stretch that is bored through studs may rise and still be on one drill line."""
_BESIDE: Final = 3.0


def draw_framing(draft: Draft, survey: Survey, face: Face) -> tuple[float, ...]:
    """The face, its plates, studs and openings; gives the studs' centers, inches from the wall's ``from`` end."""
    draft.draw("rooms", block(draft, 0.0, face.length, 0.0, face.height, "np-wall-face"))
    openings = survey.openings_in_wall.get(face.wall.id, [])
    studs = _studs(draft, face.wall)
    for along in studs:
        draft.draw("built", *_stud(draft, face, along, openings))
    if studs:
        draft.used["stud" if states_studs(face.wall) else "stud-assumed"] = None
        top = face.height - 2 * MEMBER
        for low, high in ((0.0, MEMBER), (top, top + MEMBER), (top + MEMBER, face.height)):
            draft.draw("built", block(draft, 0.0, face.length, low, high, "np-stud"))
    draft.draw("openings", *(_opening(draft, face, each) for each in openings))
    draft.draw("openings", *_counters(draft, survey, face))
    return studs


def block(draft: Draft, start: float, end: float, low: float, high: float, class_: str, *inside: Markup) -> Markup:
    """An upright rectangle of the face."""
    one, other = draft.view((start, low)), draft.view((end, high))
    left, right = sorted((one[0], other[0]))
    return rectangle(left, other[1], right - left, one[1] - other[1], class_, *inside)


def _studs(draft: Draft, wall: Wall) -> tuple[float, ...]:
    framing = wall.framing if wall.knows("framing") else None
    studs = stud_centers(wall)
    if framing is not None and framing.is_among(material=STUDLESS):
        draft.notes.append(f"No studs: the wall is built of {framing.material.upper()}.")
    elif framing is None or not studs:
        draft.notes.append("The plan does not state the stud spacing; no studs are drawn.")
    elif states_studs(wall):
        draft.notes.append("Studs stand as the plan states them; those at the ends, and beside openings, are not all drawn.")
    else:
        draft.notes.append(
            f"Stud places assumed from the corner at the wall's from end, {dimension(framing.spacing, draft.unit, BY_TAPE)} on center; "
            "find each stud on site."
        )
    return studs


def _stud(draft: Draft, face: Face, along: float, openings: list[Opening]) -> Iterator[Markup]:
    """A stud between its plates, with openings cut out of it."""
    pieces = [(MEMBER, face.height - 2 * MEMBER)]
    for each in openings:
        if each.along - MEMBER / 2 < along < each.along + each.width + MEMBER / 2:
            sill = each.sill if each.knows("sill") else 0.0
            head = each.head if each.knows("head") else face.height
            pieces = [part for low, high in pieces for part in ((low, min(high, sill)), (max(low, head), high))]
    for low, high in pieces:
        if high - low > MEMBER:
            yield block(draft, along - MEMBER / 2, along + MEMBER / 2, low, high, "np-stud")


def _opening(draft: Draft, face: Face, opening: Opening) -> Markup:
    sill = opening.sill if opening.knows("sill") else 0.0
    head = opening.head if opening.knows("head") else face.height
    name = title(name_of(opening))
    return block(draft, opening.along, opening.along + opening.width, sill, head, "np-pane", name)


def _counters(draft: Draft, survey: Survey, face: Face) -> Iterator[Markup]:
    """Counters that stand along this face, by their outlines."""
    middle, sign = (face.wall.start, face.wall.end), 1 if face.mirrored else -1
    for counter in survey.plan.counters.values():
        if not counter.knows("back", "height") or survey.plan.rooms[counter.room].level != face.wall.level:
            continue
        for edge in pairwise(counter.back):
            seen = [geometry.project(end, middle) for end in edge]
            if all(abs(each.offset * sign - half_of(face.wall)) <= _BESIDE for each in seen):
                start, end = sorted(each.along for each in seen)
                yield block(draft, start, end, 0.0, counter.height, "np-counter-line", title(name_of(counter)))


# Cables


def draw_runs(draft: Draft, survey: Survey, face: Face, studs: tuple[float, ...]) -> None:
    """Cables in the wall, and a drill line at each height that studs are bored at."""
    drilled: dict[float, list[tuple[float, float, Cable]]] = {}
    for cable in survey.plan.cables.values():
        shapes, route = [], route_of(survey, cable)
        class_ = "np-cable-derived" if route.derived else "np-cable"
        for segment in route.segments:
            if segment.knows("wall", "points", "heights") and segment.wall == face.wall.id:
                points = _on_face(face, segment)
                shapes.append(polyline(draft.view.all(points), class_))
                _note_drilling(drilled, cable, segment, points)
                _nail_plates(draft, segment, points, studs)
        if shapes:
            draft.used[class_.removeprefix("np-")] = None
            draft.draw("cables", group(title(cable_words(cable, route)), *shapes, data_part=cable.pointer))
    for height, runs in sorted(drilled.items()):
        _drill_line(draft, height, runs)


def _on_face(face: Face, segment: Segment) -> list[Point]:
    """A stretch's course as distance along the wall and height. Raises no error where heights are too few: the last one holds on."""
    middle, heights = (face.wall.start, face.wall.end), segment.heights
    return [
        (geometry.project(point, middle).along, heights[min(number, len(heights) - 1)])
        for number, point in enumerate(segment.points)
    ]


def _note_drilling(
    drilled: "dict[float, list[tuple[float, float, Cable]]]", cable: Cable, segment: Segment, points: list[Point]
) -> None:
    if segment.how is not How.BORED:
        return
    for one, other in pairwise(points):
        if abs(one[1] - other[1]) <= _LEVEL and abs(one[0] - other[0]) > MEMBER:
            drilled.setdefault(one[1], []).append((min(one[0], other[0]), max(one[0], other[0]), cable))


def _nail_plates(draft: Draft, segment: Segment, points: list[Point], studs: tuple[float, ...]) -> None:
    if not segment.knows("plates") or segment.plates is Plates.NONE or segment.how is not How.BORED:
        return
    for one, other in pairwise(points):
        for along in studs:
            if min(one[0], other[0]) < along < max(one[0], other[0]):
                draft.used["nail-plate"] = None
                draft.draw("openings", block(draft, along - 0.7, along + 0.7, one[1] - 2.5, one[1] + 2.5, "np-steel"))


def _drill_line(draft: Draft, height: float, runs: "list[tuple[float, float, Cable]]") -> None:
    draft.used["drill-line"] = None
    for start, end, _ in runs:
        draft.draw("switch-legs", line(draft.view((start, height)), draft.view((end, height)), "np-drill"))
    cables = len({each[2].id for each in runs})
    said = f"drill {dimension(height, draft.unit, BY_TAPE)}, {cables} cable{'s' if cables > 1 else ''}"
    start, end, _ = max(runs, key=lambda each: each[1] - each[0])
    place(draft, Label((said,), 6.2, draft.view(((start + end) / 2, height)), 2.0, "np-drill-words"))
