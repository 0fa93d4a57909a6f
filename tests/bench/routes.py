"""Prints, for each cable of the example houses, the length worked out from its ends against that of the route drawn by its author.

Run: ``PYTHONPATH=service python tests/bench/routes.py [house]``. The drawn routes are taken away first; ratios over or under the
band of the test come with what differs.
"""

import copy
import statistics
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from houses import house as whole_house
from nailplate.survey import Survey
from nailplate.survey.routing import Route, route_of
from nailplate.wire import read_plan_value

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


@dataclass(frozen=True)
class Compared:
    """One cable: what its author drew, and what was worked out."""

    cable: str
    drawn: Route
    derived: Route

    @property
    def ratio(self) -> float | None:
        """Derived over drawn; None where one of them has no length."""
        if self.drawn.along is None or self.derived.along is None:
            return None
        return self.derived.along / self.drawn.along


def compared(house: str) -> Iterator[Compared]:
    """Every cable of a house that has a drawn route."""
    value: Any = whole_house(house)
    bare = copy.deepcopy(value)
    for cable in bare["cables"].values():
        cable.pop("route", None)
    drawn, ends = Survey(read_plan_value(value)), Survey(read_plan_value(bare))
    for name, cable in drawn.plan.cables.items():
        if cable.knows("route"):
            yield Compared(name, route_of(drawn, cable), route_of(ends, ends.plan.cables[name]))


def main(houses: tuple[str, ...]) -> None:
    everything = []
    for house in houses:
        print(f"{house}\n{'cable':28} {'drawn':>8} {'derived':>8} {'ratio':>6}")
        for each in compared(house):
            said = f"{each.ratio:6.2f}" if each.ratio is not None else f"     - {each.derived.why_not or each.drawn.why_not}"
            lengths = [f"{route.along:8.1f}" if route.along is not None else " " * 8 for route in (each.drawn, each.derived)]
            print(f"{each.cable:28} {' '.join(lengths)} {said}")
            everything.append(each.ratio)
    ratios = sorted(ratio for ratio in everything if ratio is not None)
    print(
        f"{len(everything)} cables, {len(ratios)} routed, median {statistics.median(ratios):.3f}, from {ratios[0]:.2f} to {ratios[-1]:.2f}"
    )


if __name__ == "__main__":
    main(tuple(sys.argv[1:]) or HOUSES)
