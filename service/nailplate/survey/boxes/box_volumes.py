"""The volume of a box as drawn: marked or by its trade size, ganged, and with the ring on it."""

from typing import Final

from nailplate.calc.box_fill import trade_size_volume
from nailplate.codes import BoxShape, Edition
from nailplate.plan import Box
from nailplate.survey.index import Survey
from nailplate.units import CubicInches

GANGED: Final = (BoxShape.DEVICE, BoxShape.MASONRY, BoxShape.CAST)
"""Metal boxes whose volume is that of one gang; a square or round box has its whole volume, whatever cover is on it."""


def volume_of(survey: Survey, box: Box, edition: Edition) -> CubicInches:
    """The volume of a box with its ring. Raises UnknownFact."""
    own = box.volume if box.knows("volume") or not box.knows("trade_size") else _standard(survey, box, edition)
    return CubicInches(own + ring_volume(box, edition))


def ring_volume(box: Box, edition: Edition) -> CubicInches:
    """What an extension ring, plaster ring or domed cover adds."""
    if not box.knows("extension"):
        return CubicInches(0.0)
    ring = box.extension
    if ring.knows("trade_size") and not ring.knows("volume"):
        return trade_size_volume(ring.trade_size, edition.box_volumes)
    return ring.volume


def gangs_of(survey: Survey, box: Box) -> int:
    """The gangs of a box; one where it is not said and no more than one device is in it."""
    lone = len(survey.devices_in_box.get(box.id, [])) <= 1
    return 1 if lone and not box.knows("gangs") else box.gangs


def is_ganged(trade_size: str, edition: Edition) -> bool:
    """Whether boxes of that trade size are ganged, each with its own volume."""
    return shape_of(trade_size, edition) in GANGED


def shape_of(trade_size: str, edition: Edition) -> BoxShape:
    """The shape of a metal box of a trade size."""
    return next(shape for shape, boxes in edition.box_volumes.volumes.items() if trade_size in boxes)


def _standard(survey: Survey, box: Box, edition: Edition) -> CubicInches:
    one = trade_size_volume(box.trade_size, edition.box_volumes)
    return CubicInches(one * gangs_of(survey, box)) if is_ganged(box.trade_size, edition) else one
