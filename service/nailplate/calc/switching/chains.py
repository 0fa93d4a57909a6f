"""The order in which switches that work together are wired, so that each cable carries as few travelers as can be.

Travelers run from a three-way switch over every four-way switch to the other three-way switch. A walk over a tree crosses each
cable on the way between its two ends at least once and each cable off that way at least twice; the walk taken here crosses none
more often, so no other order needs fewer conductors in any cable.
"""

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise

from nailplate.calc.switching.layout import Control, Switch
from nailplate.calc.switching.tree import Edges, Tree
from nailplate.plan.words import Ways


@dataclass(frozen=True, slots=True)
class Chain:
    """The switches of a control in order, from the hot to the outlets."""

    control: Control
    switches: tuple[Switch, ...]

    @property
    def turned(self) -> "Chain":
        """The same travelers with hot and switched hot at the other ends."""
        return Chain(self.control, self.switches[::-1])

    def hot_edges(self, tree: Tree) -> Edges:
        """The cables by which the hot comes to the first switch."""
        return tree.to_feed([self.switches[0].box])

    def switched_edges(self, tree: Tree) -> Edges:
        """The cables by which the switched hot goes from the last switch to the outlets."""
        return tree.joining([self.switches[-1].box, *(outlet.box for outlet in self.control.outlets)])

    def traveler_spans(self, tree: Tree) -> list[Edges]:
        """The cables between each switch and the next."""
        return [frozenset(tree.path(one.box, other.box)) for one, other in pairwise(self.switches)]


def traveler_needs(chain: Chain, tree: Tree) -> Counter[int]:
    """How many travelers each cable carries."""
    return Counter(number for span in chain.traveler_spans(tree) for number in span for _ in range(2))


def chain_of(control: Control, tree: Tree) -> Chain:
    """The switches of a control in the order of least travelers, the first three-way switch named taking the hot."""
    if len(control.switches) == 1:
        return Chain(control, control.switches)
    first, last = (switch for switch in control.switches if switch.kind is Ways.THREE_WAY)
    between = [switch for switch in control.switches if switch.kind is Ways.FOUR_WAY]
    within = tree.joining([switch.box for switch in control.switches])
    in_box: dict[str, list[Switch]] = {}
    for switch in between:
        in_box.setdefault(switch.box, []).append(switch)
    ordered = [switch for box in tree.walk(first.box, last.box, within) for switch in in_box.get(box, ())]
    return Chain(control, (first, *ordered, last))
