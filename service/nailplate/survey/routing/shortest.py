"""Dijkstra's shortest ways through a frame, no further than they are needed."""

import heapq
from collections.abc import Mapping
from dataclasses import dataclass

from nailplate.calc.work import spend
from nailplate.survey.routing.frames import Frame, Node

NOWHERE = -1
"""Where a start comes from; a number, so that equal entries of the queue can be told apart."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way through a frame: its inches, and the places along it."""

    inches: float
    nodes: tuple[Node, ...]


def nearest(frame: Frame, starts: Mapping[Node, float], wanted: Mapping[Node, None], most: int, limit: float) -> list[Way]:
    """The shortest ways from the starts to the nearest of the wanted places, at most so many and no longer than the limit."""
    found: list[Way] = []
    before: dict[Node, Node] = {}
    boxes = frame.box_nodes()
    queue: list[tuple[float, Node, Node]] = [(inches, node, NOWHERE) for node, inches in starts.items()]
    heapq.heapify(queue)
    while queue and len(found) < most:
        spend(1)
        inches, node, came_from = heapq.heappop(queue)
        if node in before:
            continue
        if inches > limit:
            break
        before[node] = came_from
        if node in wanted:
            found.append(Way(inches, _back(before, node)))
        if node in boxes and came_from != NOWHERE:
            continue  # a run ends at a box, and goes through no other
        for other, more in frame.links[node]:
            if other not in before:
                heapq.heappush(queue, (inches + more, other, node))
    return found


def _back(before: Mapping[Node, Node], node: Node) -> tuple[Node, ...]:
    way = []
    while node != NOWHERE:
        way.append(node)
        node = before[node]
    return tuple(reversed(way))
