"""The one shared index of a plan: who stands with whom. Built by single walks over the maps, each when first asked for."""

from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import cached_property
from typing import Self, TypeVar

from nailplate.calc.work import spend
from nailplate.codes import Edition, Figures, Limit, edition
from nailplate.plan import (
    Box,
    BoxEnd,
    Cable,
    Control,
    Counter,
    Device,
    DeviceEnd,
    Fixture,
    Opening,
    PanelEnd,
    Part,
    Plan,
    Room,
    Wall,
)
from nailplate.plan.wiring import Appliance

Member = TypeVar("Member", bound=Part)
Result = TypeVar("Result")


class Survey(Figures):
    """What follows from one plan under the edition in force. Everything is worked out once; ``once`` keeps what others work out.

    ``survey.inches("...")`` and ``survey.holds("...")`` ask for the edition's figures; without one it is that which the plan names.

    Much of what is kept refers back to the survey. ``with survey:`` lets it go at the end, so that no collector has to look for it;
    what is asked of it afterwards is worked out anew.
    """

    def __init__(self, plan: Plan, in_force: Edition | None = None) -> None:
        self.plan = plan
        self.edition = in_force or edition(plan.basis.edition)
        self._kept: dict[Hashable, object] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._kept.clear()

    def once(self, work_out: Callable[..., Result], *about: Hashable) -> Result:
        """``work_out(self, *about)``, worked out the first time and kept."""
        key = (work_out, *about)
        try:
            return self._kept[key]  # type: ignore[return-value]  # the key holds the function that made the value
        except KeyError:
            spend(1)
        made = self._kept[key] = work_out(self, *about)
        return made

    def shelf(self, work_out: Callable[..., Result]) -> dict[Hashable, Result]:
        """What is kept of ``work_out`` under keys of its own, with no step for each: for what is asked so often that ``once`` is dear."""
        return self._kept.setdefault(work_out, {})  # type: ignore[return-value]  # only ``work_out`` fills it

    def limit_entry(self, name: str) -> Limit:
        """The figure of that name in the edition in force. Raises CodeTableError."""
        return self.edition.limit_entry(name)

    def holds(self, name: str) -> bool:
        """Whether the edition in force has that provision. Raises CodeTableError."""
        return self.edition.holds(name)

    @cached_property
    def devices_in_box(self) -> Mapping[str, list[Device]]:
        """Box id to the devices in it, in the plan's order."""
        return _grouped(self.plan.devices.values(), "box")

    @cached_property
    def devices_on_circuit(self) -> Mapping[str, list[Device]]:
        """Circuit id to the devices on it; a split device stands under both its circuits."""
        found = _grouped(self.plan.devices.values(), "circuit")
        for device in self.plan.devices.values():
            if device.knows("second_circuit"):
                found.setdefault(device.second_circuit, []).append(device)
        return found

    @cached_property
    def appliances_on_circuit(self) -> Mapping[str, list[Appliance]]:
        """Circuit id to the appliances on it."""
        return _grouped(self.plan.appliances.values(), "circuit")

    @cached_property
    def cables_at_box(self) -> Mapping[str, list[Cable]]:
        """Box id to the cables that end in it; a cable with both ends there stands twice."""
        return self._cables_at(BoxEnd, "box")

    @cached_property
    def cables_at_panel(self) -> Mapping[str, list[Cable]]:
        """Panel id to the cables that end in it."""
        return self._cables_at(PanelEnd, "panel")

    @cached_property
    def cables_at_device(self) -> Mapping[str, list[Cable]]:
        """Device id to the cables that end at it, without a box."""
        return self._cables_at(DeviceEnd, "device")

    @cached_property
    def cables_through_box(self) -> Mapping[str, list[Cable]]:
        """Box id to the cables that pass it unbroken."""
        found: dict[str, list[Cable]] = {}
        for cable in self.plan.cables.values():
            for passing in cable.passes if cable.knows("passes") else ():
                found.setdefault(passing.box, []).append(cable)
        return found

    @cached_property
    def cables_on_circuit(self) -> Mapping[str, list[Cable]]:
        """Circuit id to the cables that carry it."""
        found = _grouped(self.plan.cables.values(), "circuit")
        for cable in self.plan.cables.values():
            if cable.knows("second_circuit"):
                found.setdefault(cable.second_circuit, []).append(cable)
        return found

    @cached_property
    def walls_on_level(self) -> Mapping[str, list[Wall]]:
        """Level id to its walls."""
        return _grouped(self.plan.walls.values(), "level")

    @cached_property
    def rooms_on_level(self) -> Mapping[str, list[Room]]:
        """Level id to its rooms."""
        return _grouped(self.plan.rooms.values(), "level")

    @cached_property
    def openings_in_wall(self) -> Mapping[str, list[Opening]]:
        """Wall id to its openings."""
        return _grouped(self.plan.openings.values(), "wall")

    @cached_property
    def counters_in_room(self) -> Mapping[str, list[Counter]]:
        """Room id to its counters."""
        return _grouped(self.plan.counters.values(), "room")

    @cached_property
    def fixtures_in_room(self) -> Mapping[str, list[Fixture]]:
        """Room id to its fixtures."""
        return _grouped(self.plan.fixtures.values(), "room")

    @cached_property
    def controls_of(self) -> Mapping[str, list[Control]]:
        """Device id to the controls it has a part in, as switch or outlet."""
        found: dict[str, list[Control]] = {}
        for control in self.plan.controls.values():
            for device in dict.fromkeys((*control.switches, *control.outlets)):
                found.setdefault(device, []).append(control)
        return found

    def box_of(self, device: Device) -> Box | None:
        """The box that a device is in, if the plan says one."""
        return self.plan.boxes[device.box] if device.knows("box") else None

    def _cables_at(self, kind: type, name: str) -> Mapping[str, list[Cable]]:
        found: dict[str, list[Cable]] = {}
        for cable in self.plan.cables.values():
            for end in cable.ends:
                if isinstance(end, kind):
                    found.setdefault(getattr(end, name), []).append(cable)
        return found


def _grouped(parts: Iterable[Member], name: str) -> dict[str, list[Member]]:
    found: dict[str, list[Member]] = {}
    for part in parts:
        if part.knows(name):
            found.setdefault(getattr(part, name), []).append(part)
    return found
