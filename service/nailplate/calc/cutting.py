"""Which coils to open: pieces of cable, none spliced, cut from coils of the sizes that are sold, with the least left over.

All lengths are inches. Up to ``EXACT`` pieces the answer is the best there is, by every division into coils; beyond, the best of
several runs of first-fit decreasing, with a bound below which no purchase can be.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from nailplate.units import Inches

FOOT: Final = 12.0
COILS: Final = tuple(Inches(feet * FOOT) for feet in (25, 50, 100, 250))
"""Lengths that cable is sold in on coils (common practice)."""
EXACT: Final = 8
_DUST: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Coil:
    """A coil to open, and the pieces to cut from it, as places in the list that was asked about, longest first."""

    size: Inches
    pieces: tuple[int, ...]
    used: Inches

    @property
    def left(self) -> Inches:
        """What is left over."""
        return Inches(max(0.0, self.size - self.used))


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """The coils to open. ``bound`` is a length than which no purchase is shorter; ``from_reel`` are pieces longer than any coil."""

    coils: tuple[Coil, ...]
    from_reel: tuple[int, ...]
    bound: Inches
    exact: bool

    @property
    def bought(self) -> Inches:
        """All coils together, reels left aside."""
        return Inches(sum(coil.size for coil in self.coils))

    @property
    def left(self) -> Inches:
        """What is left over of all coils."""
        return Inches(sum(coil.left for coil in self.coils))


def cutting_plan(pieces: Sequence[float], sizes: Sequence[Inches] = COILS) -> CuttingPlan:
    """The coils for these pieces: the least bought, and among as much bought the fewest coils."""
    sizes = sorted(sizes)
    reel = tuple(place for place, piece in enumerate(pieces) if piece > sizes[-1] + _DUST)
    places = sorted((place for place in range(len(pieces)) if place not in set(reel)), key=lambda place: -pieces[place])
    exact = len(places) <= EXACT
    coils = _exact(pieces, places, sizes) if exact else _heuristic(pieces, places, sizes)
    bound = Inches(sum(coil.size for coil in coils)) if exact else _bound([pieces[place] for place in places], sizes)
    return CuttingPlan(tuple(sorted(coils, key=lambda coil: -coil.size)), reel, bound, exact)


def _smallest(length: float, sizes: Sequence[Inches]) -> Inches | None:
    return next((size for size in sizes if length <= size + _DUST), None)


def _coil(pieces: Sequence[float], places: Sequence[int], sizes: Sequence[Inches]) -> Coil | None:
    used = sum(pieces[place] for place in places)
    size = _smallest(used, sizes)
    return Coil(size, tuple(places), Inches(used)) if size is not None else None


def _exact(pieces: Sequence[float], places: Sequence[int], sizes: Sequence[Inches]) -> list[Coil]:
    """Every set of pieces as one coil, put together by their lowest piece: at most 3 to the power of ``EXACT`` looks."""
    number = len(places)
    single = [
        _coil(pieces, [places[bit] for bit in range(number) if mask >> bit & 1], sizes) if mask else None
        for mask in range(1 << number)
    ]
    best: list[tuple[float, int, int]] = [(0.0, 0, 0)] + [(math.inf, 0, 0)] * ((1 << number) - 1)
    for mask in range(1, 1 << number):
        lowest, part = mask & -mask, mask
        while part:
            coil = single[part]
            if part & lowest and coil is not None:
                bought, opened, _ = best[mask ^ part]
                best[mask] = min(best[mask], (bought + coil.size, opened + 1, part))
            part = (part - 1) & mask
    coils, mask = [], (1 << number) - 1
    while mask:
        part = best[mask][2]
        coil = single[part]
        if coil is not None:
            coils.append(coil)
        mask ^= part
    return coils


def _heuristic(pieces: Sequence[float], places: Sequence[int], sizes: Sequence[Inches]) -> list[Coil]:
    """First-fit decreasing into coils opened at each size; the last coil's pieces are tried again on smaller coils."""
    tried = [coils for size in sizes for coils in _with_tail(pieces, _first_fit(pieces, places, size, sizes), sizes)]
    return min(tried, key=lambda coils: (sum(coil.size for coil in coils), len(coils)))


def _with_tail(pieces: Sequence[float], coils: list[Coil], sizes: Sequence[Inches]) -> Iterator[list[Coil]]:
    yield coils
    tail = coils[-1].pieces
    smaller = [size for size in sizes if size < coils[-1].size]
    if smaller and max(pieces[place] for place in tail) <= smaller[-1] + _DUST:
        best = _exact(pieces, tail, smaller) if len(tail) <= EXACT else _heuristic(pieces, tail, smaller)
        yield [*coils[:-1], *best]


def _first_fit(pieces: Sequence[float], places: Sequence[int], opened: Inches, sizes: Sequence[Inches]) -> list[Coil]:
    free: list[float] = []
    held: list[list[int]] = []
    for place in places:
        piece = pieces[place]
        fits = next((number for number, left in enumerate(free) if piece <= left + _DUST), None)
        if fits is None:
            fits = len(free)
            free.append(max(opened, _smallest(piece, sizes) or opened))
            held.append([])
        free[fits] -= piece
        held[fits].append(place)
    return [coil for each in held if (coil := _coil(pieces, each, sizes)) is not None]


def _bound(lengths: Sequence[float], sizes: Sequence[Inches]) -> Inches:
    """No less than all of it, rounded up to a sum of coils, and than a coil that holds the longest piece."""
    step = math.gcd(*(round(size) for size in sizes))
    whole = math.ceil(sum(lengths) / step - _DUST) * step
    return Inches(max(whole, _smallest(max(lengths, default=0.0), sizes) or 0.0))
