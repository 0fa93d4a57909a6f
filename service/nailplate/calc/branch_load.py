"""What a circuit's load asks of its conductors and overcurrent device where a part of it is continuous."""

from dataclasses import dataclass

from nailplate.calc.ampacity import AmpacityFigures
from nailplate.calc.overcurrent import next_standard
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Edition
from nailplate.units import Amperes, amperes, reaches

CONTINUOUS_SHARE = 1.25
"""A load of three hours or more counts for a quarter more, both for the conductor and for its device; no edition changed it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchLoad:
    """``counted`` is the load with the quarter added; ``device`` the smallest standard rating for it, None beyond the largest.

    ``carried`` says whether the conductor bears it: the counted load before any factor, and the load itself after them.
    """

    counted: Amperes
    device: Amperes | None
    carried: bool
    steps: tuple[Step, ...]


def branch_load(continuous: Amperes, noncontinuous: Amperes, conductor: AmpacityFigures, edition: Edition) -> BranchLoad:
    """The load against ``conductor``, whose ampacity before and after factors is given."""
    if not (continuous >= 0 and noncontinuous >= 0):
        raise CalculationError("a load may not be negative")
    counted = Amperes(noncontinuous + CONTINUOUS_SHARE * continuous)
    load = Amperes(noncontinuous + continuous)
    device = next_standard(counted, edition.overcurrent) if counted > 0 else None
    before, after = reaches(conductor.before_factors, counted), reaches(conductor.ampacity, load)
    return BranchLoad(
        counted=counted,
        device=device,
        carried=before and after,
        steps=(
            Step("load, its continuous part by 1.25", amperes(counted), "210.20(A)", _device_note(device)),
            Step("ampacity before any factor", amperes(conductor.before_factors), _conductor_cite(edition), _note(before)),
            Step("load itself, against the usable ampacity", amperes(load), _conductor_cite(edition), _note(after)),
        ),
    )


def _conductor_cite(edition: Edition) -> str:
    return edition.limit_entry("continuous_load_share").section


def _device_note(device: Amperes | None) -> str:
    return "" if device is None else f"smallest standard rating {device:g} A"


def _note(enough: bool) -> str:
    return "enough" if enough else "too little"
