"""The cables of a layout as a tree below its feed, and the cables that a conductor takes to join some boxes."""

from collections.abc import Iterable

from nailplate.calc.switching.layout import Layout

Edges = frozenset[int]
"""Cables by their number in the layout."""


class OverBudget(Exception):
    """The work has grown past what is spent on one layout."""


class Budget:
    """Counts steps, so that no drawing keeps the service busy for long."""

    def __init__(self, steps: int) -> None:
        self.left = steps

    def spend(self, steps: int) -> None:
        """Raises OverBudget when nothing is left."""
        self.left -= steps
        if self.left < 0:
            raise OverBudget


class Tree:
    """A layout without loops, seen from its feed. Boxes that no cable joins to the feed are not in it."""

    def __init__(self, layout: Layout, budget: Budget) -> None:
        self._budget = budget
        self._beside: dict[str, list[tuple[int, str]]] = {}
        for number, cable in enumerate(layout.cables):
            one, other = cable.ends
            self._beside.setdefault(one, []).append((number, other))
            self._beside.setdefault(other, []).append((number, one))
        self._up: dict[str, tuple[int, str]] = {}
        self._depth = {layout.feed: 0}
        self.order = [layout.feed]
        for box in self.order:
            for number, next_box in self._beside.get(box, ()):
                if next_box not in self._depth:
                    self._depth[next_box] = self._depth[box] + 1
                    self._up[next_box] = (number, box)
                    self.order.append(next_box)

    def to_feed(self, boxes: Iterable[str]) -> Edges:
        """The cables that join the boxes with each other and with the feed."""
        found: set[int] = set()
        for start in boxes:
            box = start
            while box in self._up and self._up[box][0] not in found:
                self._budget.spend(1)
                number, box = self._up[box]
                found.add(number)
        return frozenset(found)

    def path(self, start: str, end: str) -> list[int]:
        """The cables from box to box, in order from neither end."""
        found = []
        while start != end:
            self._budget.spend(1)
            if self._depth[start] < self._depth[end]:
                start, end = end, start
            number, start = self._up[start]
            found.append(number)
        return found

    def joining(self, boxes: Iterable[str]) -> Edges:
        """The cables that join the boxes with each other."""
        first, *others = boxes
        return frozenset(number for other in dict.fromkeys(others) for number in self.path(first, other))

    def walk(self, start: str, end: str, within: Edges) -> list[str]:
        """The boxes that ``within`` joins, from ``start``, the branch with ``end`` last of each: every cable off the way is walked twice, every other once."""
        last = set(self.path(start, end))
        found: list[str] = []
        left = [(start, -1)]
        while left:
            box, came_by = left.pop()
            found.append(box)
            self._budget.spend(1)
            onward = [each for each in self._beside.get(box, ()) if each[0] in within and each[0] != came_by]
            onward.sort(key=lambda each: each[0] not in last)  # the one to the end lies lowest on the stack
            left += [(next_box, number) for number, next_box in onward[:1] + onward[:0:-1]]
        return found
