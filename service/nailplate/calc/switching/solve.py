"""Works out what each conductor of each cable carries, for any tree of cables.

The way of it: the cables form a tree below the feed, so each net (the hot, the neutral, a control's switched hot) takes the only
cables that join what it serves. Open are the order of the switches of a control, and which end takes the hot: ``chains`` settles
the first once and for all, ``search`` weighs the second. In a tree every current comes back through each cable that it went out
by, so 300.3(B) holds of itself; a loop of cables is refused.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from nailplate.calc.switching.chains import Chain, chain_of
from nailplate.calc.switching.checks import LayoutRefused, layout_faults
from nailplate.calc.switching.colors import conductors_of
from nailplate.calc.switching.layout import Layout, Supply
from nailplate.calc.switching.runs import runs, supply_terminals
from nailplate.calc.switching.search import Given, best_ways
from nailplate.calc.switching.tree import Budget, Edges, OverBudget, Tree
from nailplate.calc.switching.wiring import (
    NEUTRAL,
    CableEnd,
    CableWiring,
    Joint,
    Net,
    NotWorkedOut,
    Run,
    Shortage,
    Terminal,
    Wiring,
    usual_cable,
)

STEPS = 400_000
"""What is spent on one layout at most."""


def solve(layout: Layout, steps: int = STEPS) -> Wiring | NotWorkedOut:
    """The wiring of a layout. Raises LayoutRefused where it cannot be wired whatever the cables."""
    faults = layout_faults(layout)
    if faults:
        raise LayoutRefused(faults)
    budget = Budget(steps)
    try:
        return _solved(layout, Tree(layout, budget), budget)
    except OverBudget:
        return NotWorkedOut("too many switches hang together on one circuit to weigh every way of wiring them")


def _solved(layout: Layout, tree: Tree, budget: Budget) -> Wiring:
    chains = [chain_of(control, tree) for control in layout.controls]
    chains = best_ways(chains, layout, tree, _given(layout, chains, tree), budget)
    needed = runs(layout, chains, tree)
    needs = Counter(edge for run in needed for edge in run.edges)
    drawn = [_with_wished(run, layout, tree, needs) if run.net is NEUTRAL else run for run in needed]
    cables = _cables(layout, drawn, needs)
    return Wiring(
        layout=layout,
        cables=cables,
        joints=tuple(_joints(layout, drawn, cables)),
        orders={chain.control.id: tuple(switch.id for switch in chain.switches) for chain in chains},
        shortages=tuple(_shortages(cables.values())),
    )


def _given(layout: Layout, chains: Sequence[Chain], tree: Tree) -> Given:
    """What lies the same whichever end of each chain takes the hot."""
    lone = [chain for chain in chains if len(chain.switches) == 1]
    several = [chain for chain in chains if len(chain.switches) > 1]
    hots: dict[Supply, Edges] = {}
    for supply in (Supply.HOT, Supply.SECOND_HOT):
        boxes = [box for box, _ in supply_terminals(layout, lone, supply)]
        boxes += (each.box for chain in several for each in chain.control.outlets if each.back is supply)
        either = [chain for chain in several if chain.control.hot is supply]
        hots[supply] = tree.to_feed(boxes).union(*(each.hot_edges(tree) & each.turned.hot_edges(tree) for each in either))
    neutral = tree.to_feed((*(box for box, _ in supply_terminals(layout, chains, Supply.NEUTRAL)), *layout.neutral_at))
    others = (run.edges for run in runs(replace(layout, loads=()), lone, tree) if run.net.of)
    needs = Counter(edge for edges in (*hots.values(), neutral, *others) for edge in edges)
    return Given(needs, hots, tree.to_feed(layout.neutral_wished) - neutral)


# A neutral for what may come


def _with_wished(run: Run, layout: Layout, tree: Tree, needs: Mapping[int, int]) -> Run:
    """The neutral carried on to the boxes where it is wished, wherever each cable on the way has a conductor to spare."""
    found = set(run.edges)
    for box in layout.neutral_wished:
        further = tree.to_feed([box]) - found
        if all(_spares(layout, edge, needs[edge]) for edge in further):
            found |= further
    return replace(run, edges=frozenset(found))


def _spares(layout: Layout, edge: int, needs: int) -> bool:
    cable = layout.cables[edge]
    return not cable.white_marked and (cable.insulated is None or cable.insulated > needs)


# Cables and boxes


def _cables(layout: Layout, drawn: Iterable[Run], needs: Mapping[int, int]) -> dict[str, CableWiring]:
    in_cable: dict[int, list[Run]] = {}
    for run in drawn:
        for edge in run.edges:
            in_cable.setdefault(edge, []).append(run)
    return {
        cable.id: CableWiring(
            cable.id,
            cable.insulated,
            needs[number],
            conductors_of(cable, tuple(run.net for run in in_cable.get(number, ()))),
        )
        for number, cable in enumerate(layout.cables)
    }


def _joints(layout: Layout, drawn: Iterable[Run], cables: Mapping[str, CableWiring]) -> list[Joint]:
    """Box by box in the layout's order, the nets of each in theirs."""
    colors = {(each.cable, each.net): each.color for cable in cables.values() for each in cable.conductors}
    found = [Joint(box, run.net, tuple(ends)) for run in drawn for box, ends in _ends(layout, run, colors).items()]
    place = {box: number for number, box in enumerate(layout.boxes)}
    return sorted(found, key=lambda joint: place[joint.box])


def _ends(layout: Layout, run: Run, colors: Mapping[tuple[str, Net], str]) -> dict[str, list[CableEnd | Terminal]]:
    found: dict[str, list[CableEnd | Terminal]] = {}
    for box, terminal in run.terminals:
        found.setdefault(box, []).append(terminal)
    for edge in sorted(run.edges):
        cable = layout.cables[edge]
        for box in cable.ends:
            found.setdefault(box, []).append(CableEnd(cable.id, colors[cable.id, run.net]))
    return found


def _shortages(cables: Iterable[CableWiring]) -> Iterator[Shortage]:
    for cable in cables:
        if cable.has is not None and cable.has < cable.needs:
            yield Shortage(cable.cable, cable.has, cable.needs, usual_cable(cable.needs))
