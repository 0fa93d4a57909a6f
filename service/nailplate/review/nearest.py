"""How near a passing plan comes to a limit, so that a catalogue shows which model the next edit may break."""

from nailplate.review.engine import Judged
from nailplate.review.report import Nearest
from nailplate.units import Measure, Unit

_IN_STEPS = frozenset({Unit.AMPERE, Unit.VOLT, Unit.COUNT})
"""Ratings and counts come in steps."""


def nearer(known: Nearest | None, said: Judged, measured: Measure, limit: Measure) -> Nearest | None:
    """The nearer of the place known and one more.

    A limit of nothing has no share, and a rating or a count that is just the one required is met, not nearly missed.
    """
    if measured.unit is not limit.unit or not limit.value or (limit.unit in _IN_STEPS and measured.value == limit.value):
        return known
    margin = abs(measured.value - limit.value) / abs(limit.value)
    if known is not None and known.margin <= margin:
        return known
    return Nearest(said.part.pointer, measured, limit, margin)
