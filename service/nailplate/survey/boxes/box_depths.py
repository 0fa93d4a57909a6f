"""How deep a box is inside, and how deep it has to be for the devices in it (314.24)."""

import math
from dataclasses import dataclass
from typing import Final

from nailplate.codes import Edition
from nailplate.plan import ROOT, Box, Device, Pointer
from nailplate.plan.trade import SHALLOW
from nailplate.plan.words import BoxShape
from nailplate.survey.boxes.box_inside import Inside, largest_on
from nailplate.survey.boxes.contents_open import open_circuits
from nailplate.units import Dimension, Inches, read_quantity, within

_WITH_CLEARANCE: Final = frozenset({"12 AWG", "10 AWG"})
_DEEPEST_USUAL: Final = Inches(2.0)
"""No wiring device of 15 A or 20 A on one yoke reaches farther behind it (common practice)."""
_USUAL_AMPERES: Final = 20.0
_MOUTH: Final = 7.0
"""Square inches across the inside of a device box, for each gang: about 2 in by 3 1/2 in (common practice)."""
_CAST: Final = {"FS": Inches(1.75), "FD": Inches(2.375)}


@dataclass(frozen=True, slots=True)
class DepthFor:
    """How deep a box must be for one device: the least and the most that the plan can mean, and the facts that would tell."""

    device: Device
    size: str
    least: Inches
    most: Inches
    open: tuple[Pointer, ...]


def depth_of(box: Box) -> Inches:
    """The inside depth of the box itself, as stated or by its trade size. Raises UnknownFact."""
    if not box.knows("depth") and box.knows("trade_size"):
        return trade_size_depth(box.trade_size)
    return box.depth


def surely_deep(box: Box, edition: Edition) -> Inches:
    """The depth that a box has at the least where none is stated: a device box by its volume, any other the least of all."""
    least = edition.inches("box_depth_without_devices")
    if box.is_(shape=BoxShape.DEVICE) and box.knows("volume", "gangs"):
        return Inches(max(least, box.volume / (_MOUTH * box.gangs)))
    return least


def trade_size_depth(trade_size: str) -> Inches:
    """The depth that a trade size names last; cast boxes have a least depth in the table."""
    kind = trade_size.partition(" ")[0]
    if kind in _CAST:
        return _CAST[kind]
    depth = trade_size.rpartition(" x ")[2].partition(" ")[0]
    return Inches(read_quantity(f"{depth} in", Dimension.LENGTH))


def depth_for(device: Device, inside: Inside, edition: Edition) -> DepthFor:
    """The depth wanted for one device on a yoke."""
    sizes = largest_on(device, inside, edition) or _limited_energy(inside)
    if sizes is None:
        return DepthFor(device, "", min(edition.box_depths.by_size.values()), _deepest(device, edition), (ROOT / "cables",))
    least = _least(device, sizes[0], edition, inside.box, at_rear=False)
    most = _most(device, sizes[1], edition, inside.box)
    return DepthFor(device, sizes[0], least, most, tuple(_open(device, sizes, edition, inside)))


def _limited_energy(inside: Inside) -> tuple[str, str] | None:
    """A thermostat or chime button on a limited-energy cable, whose conductors are small."""
    return ("18 AWG", "18 AWG") if inside.survey.cables_at_box.get(inside.box.id) else None


def _least(device: Device, size: str, edition: Edition, box: Box, *, at_rear: bool) -> Inches:
    """314.24(B): by the conductor, and with clearance behind the device."""
    by_size = edition.box_depths.by_size.get(size, edition.inches("box_depth_without_devices"))
    if not device.knows("depth"):
        return by_size
    return Inches(max(by_size, device.depth + _clearance(device, size, edition, box, at_rear=at_rear)))


def _most(device: Device, size: str, edition: Edition, box: Box) -> Inches:
    if device.knows("depth"):
        return _least(device, size, edition, box, at_rear=True)
    return _deepest(device, edition)


def _deepest(device: Device, edition: Edition) -> Inches:
    """What the largest device of its kind asks for; of one that is no usual wiring device nothing is known."""
    usual = device.kind in SHALLOW and device.knows("rating") and within(device.rating, _USUAL_AMPERES)
    return Inches(_DEEPEST_USUAL + edition.inches("clearance_at_rear_entry")) if usual else Inches(math.inf)


def _clearance(device: Device, size: str, edition: Edition, box: Box, *, at_rear: bool) -> float:
    """What must be free behind the device; minus its own depth where nothing is asked."""
    if _asks_of_rear_entry(device, size, edition) and (box.rear_entry if box.knows("rear_entry") else at_rear):
        return edition.inches("clearance_at_rear_entry")
    return edition.inches("clearance_behind_device") if _projects(device, size, edition) else -device.depth


def _projects(device: Device, size: str, edition: Edition) -> bool:
    limit = edition.inches("device_projection_on_12_and_10" if size in _WITH_CLEARANCE else "large_device_projection")
    return not within(device.depth, limit)


def _asks_of_rear_entry(device: Device, size: str, edition: Edition) -> bool:
    asked = edition.holds("clearance_where_wiring_enters_behind") and size in _WITH_CLEARANCE
    return asked and _projects(device, size, edition)


def _open(device: Device, sizes: tuple[str, str], edition: Edition, inside: Inside) -> list[Pointer]:
    if not device.knows("depth"):
        found = [device.where("depth")]
    elif _asks_of_rear_entry(device, sizes[1], edition) and not inside.box.knows("rear_entry"):
        found = [inside.box.where("rear_entry")]
    else:
        found = []
    return [*found, *(open_circuits(inside, edition) if sizes[0] != sizes[1] else ())]
