"""The parts of the plan that enter one box, and the largest conductor that each device in it may have on its terminals."""

from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from typing import Final

from nailplate.codes import Edition
from nailplate.plan import Box, Cable, Device
from nailplate.plan.cables import Passing
from nailplate.plan.trade import LIGHTS_AND_FANS, YOKED
from nailplate.plan.words import BoxMaterial, DeviceKind
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.wiring import NodeKind, ends_of
from nailplate.units import reaches

GROUNDED: Final = LIGHTS_AND_FANS | {DeviceKind.CONNECTION}
"""What brings a grounding conductor of its own into the box."""
WIDE_FROM: Final = 30.0
"""Amperes from which a receptacle may be wider than one gang (common practice: range and dryer receptacles); `gangs` tells."""
NO_GROUND: Final = "none"


@record(frozen=True)
class Inside:
    """The parts of the plan that enter one box; a cable with both ends in it stands twice among ``cables``.

    Limited-energy cables are left out: Article 725 does not send them here. ``largest`` keeps what ``largest_on`` finds.
    """

    survey: Survey
    box: Box
    cables: tuple[Cable, ...]
    passing: tuple[tuple[Cable, Passing], ...]
    devices: tuple[Device, ...]
    largest: dict[str, tuple[str, str] | None] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def every_cable(self) -> tuple[Cable, ...]:
        """Those that end in the box and those that pass it."""
        return (*self.cables, *(cable for cable, _ in self.passing))

    @cached_property
    def yoked(self) -> list[Device]:
        """One device for each yoke. What is built into an appliance or luminaire is mounted on that, not on the box."""
        return [each for each in self.devices if _is_on_a_yoke(each) and not self._shares(each)]

    def yoke_of(self, device: Device) -> list[Device]:
        """Everything on the yoke of a device: itself, and the other halves of a combination device."""
        return [device, *(each for each in self.devices if _is_on_a_yoke(each) and each.is_(yoke_with=device.id))]

    def _shares(self, device: Device) -> bool:
        return device.knows("yoke_with") and any(each.id == device.yoke_with and _is_on_a_yoke(each) for each in self.devices)

    @property
    def may_have_fittings(self) -> bool:
        """Studs and hickeys hold what hangs from a metal box (common practice)."""
        return not self.box.is_(material=BoxMaterial.NONMETALLIC) and any(
            device.kind in LIGHTS_AND_FANS for device in self.devices
        )

    @property
    def wants_isolated_ground(self) -> bool:
        """Whether a device here is of the isolated-ground type."""
        return any(device.is_(isolated_ground=True) for device in self.devices)


def inside(survey: Survey, box: Box) -> Inside:
    """What enters ``box``."""
    return survey.once(_inside, box.id)


def _inside(survey: Survey, box_id: str) -> Inside:
    through = [cable for cable in dict.fromkeys(survey.cables_through_box.get(box_id, [])) if _counts(cable)]
    return Inside(
        survey,
        survey.plan.boxes[box_id],
        survey.once(_cables_by_box).get(box_id, ()),
        tuple((cable, passing) for cable in through for passing in cable.passes if passing.box == box_id),
        tuple(survey.devices_in_box.get(box_id, [])),
    )


def _cables_by_box(survey: Survey) -> Mapping[str, tuple[Cable, ...]]:
    """A cable that is drawn to a device in a box ends in that box."""
    found: dict[str, list[Cable]] = {}
    for cable in survey.plan.cables.values():
        for node in ends_of(survey, cable) if _counts(cable) else ():
            if node.kind is NodeKind.BOX:
                found.setdefault(node.id, []).append(cable)
    return {box_id: tuple(cables) for box_id, cables in found.items()}


def _counts(cable: Cable) -> bool:
    return not cable.is_(low_voltage=True)


def _is_on_a_yoke(device: Device) -> bool:
    return device.kind in YOKED and not device.knows("part_of")


def may_be_wide(device: Device) -> bool:
    """Whether a device whose width is not said may take more than one gang."""
    return device.kind is DeviceKind.RECEPTACLE and device.knows("rating") and reaches(device.rating, WIDE_FROM)


def largest_on(device: Device, within: Inside, edition: Edition) -> tuple[str, str] | None:
    """The largest conductor that ends on the yoke of a device, the least and the most that the plan can mean; None without a cable.

    It is looked for among its circuits' cables, else among all in the box.
    """
    kept = within.largest
    if device.id not in kept:
        kept[device.id] = _largest_on_yoke(device, within, edition)
    return kept[device.id]


def _largest_on_yoke(device: Device, within: Inside, edition: Edition) -> tuple[str, str] | None:
    halves = [sizes for each in within.yoke_of(device) if (sizes := _largest_on(each, within, edition))]
    if not halves:
        return None
    rising = edition.conductors.rising
    return rising(least for least, _ in halves)[-1], rising(most for _, most in halves)[-1]


def _largest_on(device: Device, within: Inside, edition: Edition) -> tuple[str, str] | None:
    every = edition.conductors.rising(cable.size for cable in within.every_cable)
    if not every:
        return None
    if not device.knows("circuit"):
        return every[0], every[-1]
    own = edition.conductors.rising(cable.size for cable in within.every_cable if _circuits(cable) & _circuits(device))
    maybe = edition.conductors.rising(cable.size for cable in within.every_cable if not cable.knows("circuit"))
    least = own[-1] if own else (maybe or every[-1:])[0]
    return least, edition.conductors.rising([least, *maybe])[-1]


def _circuits(part: Cable | Device) -> frozenset[str]:
    return frozenset(getattr(part, name) for name in ("circuit", "second_circuit") if part.knows(name))
