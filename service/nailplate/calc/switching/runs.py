"""Every net of a layout with the terminals that it joins, once the order of the switches is settled."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from nailplate.calc.switching.chains import Chain
from nailplate.calc.switching.checks import two_hots
from nailplate.calc.switching.layout import Layout, Outlet, Supply, Switch
from nailplate.calc.switching.tree import Tree
from nailplate.calc.switching.wiring import HOT, NEUTRAL, SECOND_HOT, Net, Role, Run, Terminal
from nailplate.plan.words import Ways

Placed = tuple[str, Terminal]
"""A terminal with the box that it is in."""

SUPPLY_NETS = {Supply.HOT: HOT, Supply.SECOND_HOT: SECOND_HOT, Supply.NEUTRAL: NEUTRAL}
SWITCHED_TERMINAL = "switched hot"
_ENTRANCES = {
    Ways.SINGLE_POLE: "line",
    Ways.DOUBLE_POLE: "line 1",
    Ways.THREE_WAY: "common",
}
_EXITS = {Ways.SINGLE_POLE: "load", Ways.DOUBLE_POLE: "load 1", Ways.THREE_WAY: "common"}
_OTHER_HOT = {Supply.HOT: Supply.SECOND_HOT, Supply.SECOND_HOT: Supply.HOT}


def runs(layout: Layout, chains: Sequence[Chain], tree: Tree) -> list[Run]:
    """Every net that is used: hots and neutral first, then control by control, then signals."""
    found = [*_supply_runs(layout, chains, tree)]
    for chain in chains:
        found += _switched_runs(chain, tree)
        found += _traveler_runs(chain, tree)
    for signal in layout.signals:
        joined = tuple((box, Terminal(device, "signal")) for device, box in signal.joins)
        found.append(Run(Net(Role.SIGNAL, signal.id), tree.joining(box for box, _ in joined), joined))
    return found


# Hots and neutral


def _supply_runs(layout: Layout, chains: Sequence[Chain], tree: Tree) -> Iterator[Run]:
    for supply, net in SUPPLY_NETS.items():
        terminals = tuple(dict.fromkeys(supply_terminals(layout, chains, supply)))
        kept = layout.neutral_at if supply is Supply.NEUTRAL else ()
        if terminals or kept:
            feed = (layout.feed, Terminal("", supply.value))
            yield Run(net, tree.to_feed((*(box for box, _ in terminals), *kept)), (feed, *terminals))


def supply_terminals(layout: Layout, chains: Iterable[Chain], supply: Supply) -> Iterator[Placed]:
    """What takes this conductor of the supply straight: loads, the first switch of each control, the way back of each outlet."""
    for load in layout.loads:
        if supply in load.needs:
            yield load.box, Terminal(load.id, supply.value)
    for chain in chains:
        first = chain.switches[0]
        if chain.control.hot is supply:
            yield first.box, Terminal(first.id, _ENTRANCES[first.kind])
        if two_hots(chain.control):
            if _OTHER_HOT[chain.control.hot] is supply:
                yield first.box, Terminal(first.id, "line 2")
            continue
        yield from ((outlet.box, _back(outlet, chain.control.id)) for outlet in chain.control.outlets if outlet.back is supply)


def _back(outlet: Outlet, control: str) -> Terminal:
    return Terminal(outlet.id, outlet.back.value, control)


# Switched hots and travelers


def _switched_runs(chain: Chain, tree: Tree) -> Iterator[Run]:
    last, control = chain.switches[-1], chain.control
    both = two_hots(control)
    joined = [(last.box, Terminal(last.id, _EXITS[last.kind]))]
    joined += [(outlet.box, Terminal(outlet.id, SWITCHED_TERMINAL, control.id)) for outlet in control.outlets]
    yield _switched(control.id, 1 if both else 0, joined, tree)
    if both:
        joined = [(last.box, Terminal(last.id, "load 2"))]
        joined += [(outlet.box, _back(outlet, control.id)) for outlet in control.outlets]
        yield _switched(control.id, 2, joined, tree)


def _switched(control: str, number: int, joined: list[Placed], tree: Tree) -> Run:
    return Run(Net(Role.SWITCHED_HOT, control, number), tree.joining(box for box, _ in joined), tuple(joined))


def _traveler_runs(chain: Chain, tree: Tree) -> Iterator[Run]:
    for span, (one, other) in enumerate(pairwise(chain.switches)):
        edges = frozenset(tree.path(one.box, other.box))
        for number in (1, 2):
            joined = ((one.box, _onward(one, number)), (other.box, _inward(other, number)))
            yield Run(Net(Role.TRAVELER, chain.control.id, 2 * span + number), edges, joined)


def _onward(switch: Switch, number: int) -> Terminal:
    return Terminal(switch.id, f"{'out' if switch.kind is Ways.FOUR_WAY else 'traveler'} {number}")


def _inward(switch: Switch, number: int) -> Terminal:
    return Terminal(switch.id, f"{'in' if switch.kind is Ways.FOUR_WAY else 'traveler'} {number}")
