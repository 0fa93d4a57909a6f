"""The framing of one level as a graph: in each wall a drill line and a line over it, joined at corners, openings and box drops.

Built once for a level, from its walls and from the places that cables without routes end at. Its size grows with the walls, their
openings and those places alone.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import point_on_wall
from nailplate.survey.routing.ends import Stand
from nailplate.survey.routing.openings import CLEAR, Gap, gaps_of
from nailplate.survey.routing.overhead import over_wall

DRILL_HEIGHT: Final = 20.0
"""Inches above the floor at which studs are bored for a run between boxes (common practice)."""
LOWEST_DRILL: Final = 2.5
UNDER_SILL: Final = 1.5
"""Inches that the drill line keeps below the framing of a low sill."""
PLATES: Final = 3.0
"""Inches of the two plates on top of a wall."""
CORNER: Final = 1.0
"""Inches that the end of a wall may miss another and still meet it; lines in plans differ by less."""
NEXT_BOXES: Final = 2
"""Boxes on along a wall to which a run may go straight; past them it takes the drill line."""

Node = int


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a wall: along it, above the floor, and in the plane of its level."""

    wall: Wall
    along: float
    height: float
    point: tuple[float, float]


@dataclass(slots=True)
class Frame:
    """The graph. ``links`` go both ways, with inches of cable; ``tops`` are the places from which a run goes on overhead."""

    level: str
    spots: list[Spot] = field(default_factory=list)
    links: list[list[tuple[Node, float]]] = field(default_factory=list)
    tops: dict[Node, None] = field(default_factory=dict)
    feet: dict[Node, None] = field(default_factory=dict)
    boxes: dict[tuple[str, float, float], Node] = field(default_factory=dict)
    _box_nodes: set[Node] = field(default_factory=set)
    _grids: dict[str, geometry.Grid[Node]] = field(default_factory=dict)

    def add(self, wall: Wall, along: float, height: float) -> Node:
        """One more place."""
        self.spots.append(Spot(wall, along, height, point_on_wall(wall, along)))
        self.links.append([])
        return len(self.spots) - 1

    def box_nodes(self) -> set[Node]:
        """The places of boxes, through which no run goes on."""
        if len(self._box_nodes) != len(self.boxes):
            self._box_nodes = set(self.boxes.values())
        return self._box_nodes

    def top_grid(self) -> geometry.Grid[Node]:
        """The tops by where they lie."""
        return self._grid("tops", self.tops)

    def foot_grid(self) -> geometry.Grid[Node]:
        """The places on drill lines by where they lie; there a run comes up through the floor."""
        return self._grid("feet", self.feet)

    def _grid(self, name: str, nodes: Iterable[Node]) -> geometry.Grid[Node]:
        if name not in self._grids:
            points = ((node, self.spots[node].point) for node in nodes)
            self._grids[name] = geometry.Grid((((*point, *point), node) for node, point in points), cell=60.0)
        return self._grids[name]

    def join(self, one: Node, other: Node, inches: float) -> None:
        """A run may go between the two."""
        self.links[one].append((other, inches))
        self.links[other].append((one, inches))


def frame_of(survey: Survey, level: str, stands: Iterable[Stand], passing: Iterable[Stand] = ()) -> Frame:
    """The framing of a level with the places of these ends in it; runs to those that are ``passing`` only go through it, over or under them."""
    frame = Frame(level)
    walls = [
        wall for wall in survey.walls_on_level.get(level, []) if wall.kind in FRAMED_WALLS and _length(wall) > geometry.DUST
    ]
    meetings = list(_meetings(walls))
    drops: dict[str, list[Stand]] = {}
    for stand in stands:
        if stand.wall is not None:
            drops.setdefault(stand.wall.id, []).append(stand)
    meets: dict[str, list[float]] = {}
    for one, along, other, there in meetings:
        meets.setdefault(one.id, []).append(along)
        meets.setdefault(other.id, []).append(there)
    for wall, along in _over(walls, {stand.point for stand in passing}):
        meets.setdefault(wall.id, []).append(along)
    places = {wall.id: _wall(survey, frame, wall, meets.get(wall.id, []), drops.get(wall.id, [])) for wall in walls}
    for one, along, other, there in meetings:
        _corner(frame, places[one.id][along], places[other.id][there])
    return frame


def _length(wall: Wall) -> float:
    return geometry.distance(wall.start, wall.end)


# Where walls meet


def _meetings(walls: list[Wall]) -> Iterator[tuple[Wall, float, Wall, float]]:
    """Each end of a wall that stands at another: how far along the one, and how far along the other."""
    grid = _grid(walls)
    for wall in walls:
        for end, along in ((wall.start, 0.0), (wall.end, _length(wall))):
            for other in grid.near((*end, *end)):
                if other is not wall and (there := _meets(end, other)) is not None:
                    yield wall, along, other, there


def _grid(walls: list[Wall]) -> geometry.Grid[Wall]:
    boxes = [geometry.grown(geometry.bounding_box((wall.start, wall.end)), _half(wall) + CORNER) for wall in walls]
    return geometry.Grid(zip(boxes, walls, strict=True), cell=60.0)


def _over(walls: list[Wall], points: Collection[tuple[float, float]]) -> Iterator[tuple[Wall, float]]:
    """Walls that stand over or under a point of another level, and where along them."""
    grid = _grid(walls) if points else None
    for point in sorted(points):
        for wall in grid.near((*point, *point)) if grid is not None else ():
            along = _meets(point, wall)
            if along is not None:
                yield wall, along


def _meets(end: tuple[float, float], other: Wall) -> float | None:
    reach = _half(other) + CORNER
    seen = geometry.project(end, (other.start, other.end))
    length = _length(other)
    if abs(seen.offset) > reach or not -reach <= seen.along <= length + reach:
        return None
    return min(max(seen.along, 0.0), length)


def _half(wall: Wall) -> float:
    return wall.thickness / 2 if wall.knows("thickness") else 0.0


def _corner(frame: Frame, one: list[Node], other: list[Node]) -> None:
    """At a corner a run goes from one wall into the other, line by line."""
    for a, b in zip(one, other, strict=False):
        frame.join(a, b, _apart(frame.spots[a], frame.spots[b]))


def _apart(one: Spot, other: Spot) -> float:
    return sum(abs(a - b) for a, b in zip(one.point, other.point, strict=True)) + abs(one.height - other.height)


# One wall


def _wall(survey: Survey, frame: Frame, wall: Wall, meets: list[float], stands: list[Stand]) -> dict[float, list[Node]]:
    """The lines of a wall: by place, the node on the drill line and the one overhead (where there is one)."""
    gaps, length = gaps_of(survey, wall), _length(wall)
    beside = [at for gap in gaps for at in (gap.left - CLEAR, gap.right + CLEAR) if 0 < at < length]
    places = sorted({0.0, length, *meets, *beside, *(stand.along for stand in stands)})
    drill = _drill_height(wall, gaps)
    columns = {along: _column(survey, frame, wall, along, drill, gaps) for along in places}
    for (left, one), (right, other) in pairwise(columns.items()):
        for a, b in zip(one, other, strict=False):
            low, high = sorted((frame.spots[a].height, frame.spots[b].height))
            if not any(gap.bars(left, right, low, high) for gap in gaps):
                frame.join(a, b, _apart(frame.spots[a], frame.spots[b]))
    drops = [_drop(frame, stand, columns[stand.along], gaps) for stand in stands]
    _between_boxes(frame, wall, sorted({frame.spots[node].along: node for node in drops}.items()), gaps)
    return columns


def _drill_height(wall: Wall, gaps: Iterable[Gap]) -> float:
    """Below every sill that leaves room for it, and below the plates of a low wall."""
    sills = [gap.low - UNDER_SILL for gap in gaps if gap.low - UNDER_SILL >= LOWEST_DRILL]
    top = [wall.height - PLATES - LOWEST_DRILL] if wall.knows("height") else []
    return max(min((DRILL_HEIGHT, *sills, *top)), 0.0)


def _column(survey: Survey, frame: Frame, wall: Wall, along: float, drill: float, gaps: tuple[Gap, ...]) -> list[Node]:
    foot = frame.add(wall, along, drill)
    frame.feet[foot] = None
    top = over_wall(survey, wall, along) if wall.kind is not WallKind.HALF else None
    if top is None or top <= drill:
        return [foot]
    head = frame.add(wall, along, top)
    frame.tops[head] = None
    if not any(gap.stands_over(along, drill, top) for gap in gaps):
        frame.join(foot, head, top - drill)
    return [foot, head]


def _drop(frame: Frame, stand: Stand, column: list[Node], gaps: tuple[Gap, ...]) -> Node:
    wall = frame.spots[column[0]].wall
    key = (wall.id, stand.along, stand.height)
    if key in frame.boxes:
        return frame.boxes[key]
    node = frame.boxes[key] = frame.add(wall, stand.along, stand.height)
    for each in column:
        low, high = sorted((stand.height, frame.spots[each].height))
        if not any(gap.stands_over(stand.along, low, high) for gap in gaps):
            frame.join(node, each, high - low)
    return node


def _between_boxes(frame: Frame, wall: Wall, boxes: list[tuple[float, Node]], gaps: tuple[Gap, ...]) -> None:
    """From box to box at their own height, or under what is between: shorter than down to the drill line and up again."""
    for place, (left, one) in enumerate(boxes):
        for right, other in boxes[place + 1 : place + 1 + NEXT_BOXES]:
            heights = (frame.spots[one].height, frame.spots[other].height)
            under = [gap.low - UNDER_SILL for gap in gaps if gap.bars(left, right, min(heights), min(heights))]
            line = min((*heights, *under))
            clear = not any(gap.bars(left, right, line, line) for gap in gaps) and not any(
                gap.stands_over(along, line, height)
                for along, height in zip((left, right), heights, strict=True)
                for gap in gaps
            )
            if clear and line >= LOWEST_DRILL:
                turns = [frame.add(wall, along, line) for along in (left, right)]
                frame.join(one, turns[0], heights[0] - line)
                frame.join(turns[0], turns[1], right - left)
                frame.join(turns[1], other, heights[1] - line)
