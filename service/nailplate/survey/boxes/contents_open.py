"""Every fact left out by which the least and the most that a box can hold differ."""

from collections.abc import Collection, Iterator

from nailplate.codes import Edition
from nailplate.plan import Cable, Device, Pointer
from nailplate.plan.words import DeviceKind
from nailplate.survey.boxes.box_inside import GROUNDED, NO_GROUND, Inside, largest_on, may_be_wide


def open_facts(within: Inside, edition: Edition, wired: Collection[DeviceKind]) -> Iterator[Pointer]:
    """The pointers of those facts; ``wired`` are the kinds of device that bring wires of their own."""
    if not within.box.knows("clamps"):
        yield within.box.where("clamps")
    if not within.box.knows("support_fittings") and within.may_have_fittings:
        yield within.box.where("support_fittings")
    for cable in dict.fromkeys(within.every_cable):
        yield from _of_cable(cable, within)
    yield from (passing.where("loop") for _, passing in within.passing if not passing.knows("loop"))
    for device in within.devices:
        yield from _of_device(device, within, wired)
    yield from _of_own_grounds(within, edition)
    yield from open_circuits(within, edition)


def _of_cable(cable: Cable, within: Inside) -> Iterator[Pointer]:
    if not cable.knows("grounding"):
        yield cable.where("grounding")
    if not cable.knows("isolated_grounding") and within.wants_isolated_ground:
        yield cable.where("isolated_grounding")


def _of_device(device: Device, within: Inside, wired: Collection[DeviceKind]) -> Iterator[Pointer]:
    if not device.knows("fixture_wires") and device.kind in wired:
        yield device.where("fixture_wires")
    elif device.knows("fixture_wires") and not device.knows("domed_canopy") and device.kind is not DeviceKind.CONNECTION:
        yield device.where("domed_canopy")
    if device in within.yoked and not device.knows("gangs") and may_be_wide(device):
        yield device.where("gangs")


def _of_own_grounds(within: Inside, edition: Edition) -> Iterator[Pointer]:
    """The grounding conductor of a luminaire or of equipment, where one more would count."""
    unsaid = [device for device in within.devices if _ground_unsaid(device)]
    from_cables = sum(_most_grounds(cable) for cable in within.every_cable)
    own = sum(device.kind in GROUNDED for device in within.devices)
    together = edition.box_fill.grounding_counted_together
    if not from_cables or (together is not None and from_cables + own > together):
        yield from (device.fixture_wires.where("grounding") for device in unsaid)


def _most_grounds(cable: Cable) -> int:
    isolated = cable.knows("isolated_grounding") and cable.isolated_grounding
    return int(not cable.knows("grounding") or cable.grounding != NO_GROUND) + int(isolated)


def _ground_unsaid(device: Device) -> bool:
    domed = device.knows("domed_canopy") and device.domed_canopy
    stated = device.knows("fixture_wires") and not device.fixture_wires.knows("grounding")
    return device.kind in GROUNDED and stated and not domed


def open_circuits(within: Inside, edition: Edition) -> Iterator[Pointer]:
    """The circuits of devices and cables, where a device's largest conductor turns on them."""
    torn = [device for device in within.yoked if len(set(largest_on(device, within, edition) or ())) > 1]
    yield from (device.where("circuit") for device in torn if not device.knows("circuit"))
    if torn:
        yield from (cable.where("circuit") for cable in within.every_cable if not cable.knows("circuit"))
