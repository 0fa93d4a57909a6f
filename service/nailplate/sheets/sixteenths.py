"""Limits as a tape shows them: a most is rounded down, a least up, so that what is read off is never past the limit."""

import math

from nailplate.units import inches, shown

_SIXTEENTHS = 16
_DUST = 1e-6


def at_most(value: float) -> str:
    """A limit that must not be passed, in inches."""
    return shown(inches(math.floor(value * _SIXTEENTHS + _DUST) / _SIXTEENTHS))


def at_least(value: float) -> str:
    """A limit that must be reached, in inches."""
    return shown(inches(math.ceil(value * _SIXTEENTHS - _DUST) / _SIXTEENTHS))
