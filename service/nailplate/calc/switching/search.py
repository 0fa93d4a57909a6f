"""Which end of each chain of switches takes the hot: fewest conductors short, then fewest without a neutral, then least copper.

A control's travelers lie the same whichever end takes the hot, so only hot and switched hot are weighed. Controls that share no
cable for them are weighed apart.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from nailplate.calc.switching.chains import Chain, traveler_needs
from nailplate.calc.switching.layout import Layout, Supply
from nailplate.calc.switching.tree import Budget, Edges, OverBudget, Tree

MOST_TOGETHER = 12
"""Controls that are weighed against each other at once."""


@dataclass(frozen=True, slots=True)
class _Choice:
    """A chain and its two ways round: the cables that the hot takes beyond those it takes anyway, and the switched hot's."""

    chain: Chain
    hots: tuple[Edges, Edges]
    switched: tuple[Edges, Edges]

    @property
    def edges(self) -> Edges:
        return frozenset().union(*self.hots, *self.switched)


@dataclass(frozen=True, slots=True)
class Given:
    """What each cable carries whichever way the chains are wired: conductors by cable, and the cables where the hots run."""

    needs: Counter[int]
    hots: Mapping[Supply, Edges]
    wished: Edges


def best_ways(chains: Sequence[Chain], layout: Layout, tree: Tree, given: Given, budget: Budget) -> list[Chain]:
    """Each chain, turned or not, in the order given."""
    choices = _choices([chain for chain in chains if len(chain.switches) > 1], tree, given)
    needs = Counter(given.needs)
    for choice in choices:
        needs.update(traveler_needs(choice.chain, tree))
    turned: dict[str, bool] = {}
    for group in _groups(choices, budget):
        for choice, way in zip(group, _best_of(group, layout, needs, given.wished, budget), strict=True):
            turned[choice.chain.control.id] = way
    return [chain.turned if turned.get(chain.control.id) else chain for chain in chains]


def _choices(chains: Iterable[Chain], tree: Tree, given: Given) -> list[_Choice]:
    found = []
    for chain in chains:
        anyway = given.hots.get(chain.control.hot, frozenset())
        hots = (chain.hot_edges(tree) - anyway, chain.turned.hot_edges(tree) - anyway)
        found.append(_Choice(chain, hots, (chain.switched_edges(tree), chain.turned.switched_edges(tree))))
    return found


def _groups(choices: Iterable[_Choice], budget: Budget) -> list[list[_Choice]]:
    """Choices that share cables, directly or through others."""
    groups: list[tuple[set[int], list[_Choice]]] = []
    for choice in choices:
        budget.spend(len(groups))
        touching = [group for group in groups if not group[0].isdisjoint(choice.edges)]
        edges = set(choice.edges).union(*(group[0] for group in touching))
        members = [member for group in touching for member in group[1]]
        groups = [group for group in groups if group not in touching] + [(edges, [*members, choice])]
    return [members for _, members in groups]


def _best_of(group: Sequence[_Choice], layout: Layout, needs: Counter[int], wished: Edges, budget: Budget) -> tuple[bool, ...]:
    if len(group) > MOST_TOGETHER:
        raise OverBudget
    edges = sorted(frozenset().union(*(choice.edges for choice in group)))
    ways = list(product((False, True), repeat=len(group)))
    budget.spend(len(ways) * (len(edges) + sum(len(choice.edges) for choice in group)))
    return min(ways, key=lambda way: _cost(group, way, edges, layout, needs, wished))


def _cost(
    group: Sequence[_Choice],
    way: Sequence[bool],
    edges: Iterable[int],
    layout: Layout,
    needs: Counter[int],
    wished: Edges,
) -> tuple[int, int, float]:
    here = _needs_of(group, way)
    short = without = 0
    copper = 0.0
    for edge in edges:
        cable, number = layout.cables[edge], needs[edge] + here[edge]
        copper += here[edge] * cable.length
        if cable.insulated is not None:
            short += max(0, number - cable.insulated)
            without += max(0, number + (edge in wished) - cable.insulated)
    return short, without, copper


def _needs_of(group: Sequence[_Choice], way: Sequence[bool]) -> Counter[int]:
    here: Counter[int] = Counter()
    hots: dict[Supply, set[int]] = {}
    for choice, turned in zip(group, way, strict=True):
        here.update(choice.switched[turned])
        hots.setdefault(choice.chain.control.hot, set()).update(choice.hots[turned])
    for edges in hots.values():
        here.update(edges)
    return here
