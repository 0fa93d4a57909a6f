"""The smallest larger box, or ring on it, that holds what a box counts for."""

import math
from typing import Final

from nailplate.calc.box_fill import smallest_by_shape
from nailplate.codes import BoxShape, Edition
from nailplate.plan import Box
from nailplate.survey.boxes import gangs_of, is_ganged, ring_volume, shape_of, trade_size_depth, volume_of
from nailplate.survey.index import Survey
from nailplate.units import CubicInches, Inches, reaches

USUAL_VOLUMES: Final = {1: (18.0, 20.0, 22.5), 2: (25.0, 32.0, 35.0), 3: (44.0, 54.0), 4: (60.0, 68.0, 75.0)}
"""Marked volumes that nonmetallic boxes usually come in, by gangs (common practice); the marked figure governs."""
_RINGED: Final = (BoxShape.ROUND, BoxShape.SQUARE)
"""Standard metal boxes for which extension rings of the same face are made."""


def larger_trade_size(survey: Survey, box: Box, counted: CubicInches, edition: Edition) -> str | None:
    """The smallest standard metal box of the same shape, by the gang where it is ganged, that holds ``counted`` with its ring."""
    wanted = counted - ring_volume(box, edition)
    one = wanted / gangs_of(survey, box) if is_ganged(box.trade_size, edition) else wanted
    return smallest_by_shape(CubicInches(one), edition.box_volumes).get(shape_of(box.trade_size, edition))


def larger_marking(box: Box, counted: CubicInches, edition: Edition) -> CubicInches:
    """The smallest volume, of those that marked boxes usually have, that holds ``counted`` with the ring."""
    wanted = counted - ring_volume(box, edition)
    usual = USUAL_VOLUMES.get(box.gangs, ()) if box.knows("gangs") else sum(USUAL_VOLUMES.values(), ())
    return CubicInches(next((volume for volume in sorted(usual) if reaches(volume, wanted)), rounded_up(wanted)))


def deeper_trade_size(box: Box, depth: Inches, edition: Edition) -> str | None:
    """The smallest standard metal box of the same face that is at least so deep inside, and no smaller than this one."""
    boxes = edition.box_volumes.volumes[shape_of(box.trade_size, edition)]
    fitting = [
        name
        for name, volume in boxes.items()
        if _face(name) == _face(box.trade_size)
        and reaches(trade_size_depth(name), depth)
        and reaches(volume, boxes[box.trade_size])
    ]
    return min(fitting, key=boxes.__getitem__, default=None)


def _face(trade_size: str) -> str:
    """A trade size without its depth, which stands last."""
    return trade_size.rpartition(" x ")[0]


def ring_trade_size(survey: Survey, box: Box, counted: CubicInches, edition: Edition) -> str | None:
    """The smallest standard ring of the box's own face that makes it hold ``counted``."""
    shape = shape_of(box.trade_size, edition)
    if shape not in _RINGED:
        return None
    missing = counted - _without_ring(survey, box, edition)
    rings = edition.box_volumes.volumes[shape]
    fitting = [name for name, volume in rings.items() if _face(name) == _face(box.trade_size) and reaches(volume, missing)]
    return min(fitting, key=rings.__getitem__, default=None)


def ring_marking(survey: Survey, box: Box, counted: CubicInches, edition: Edition) -> CubicInches:
    """The volume, marked on a ring, that makes the box hold ``counted``."""
    return CubicInches(rounded_up(counted - _without_ring(survey, box, edition)))


def rounded_up(volume: float) -> float:
    """Up to a half cubic inch, so that the figure shown is never short of the one meant."""
    return math.ceil(volume * 2) / 2


def _without_ring(survey: Survey, box: Box, edition: Edition) -> float:
    return volume_of(survey, box, edition) - ring_volume(box, edition)
