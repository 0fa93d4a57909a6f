"""Devices that a remedy adds, as a plan writes them."""

from collections.abc import Mapping
from typing import Final

from nailplate.plan import ROOT, Plan
from nailplate.remedies.added_receptacles import Added
from nailplate.remedies.patches import Operation, add
from nailplate.units import inches, written

FOR_OUTDOORS: Final = {
    "rating": "20 A",
    "gfci": True,
    "weather_resistant": True,
    "cover": "extra_duty_in_use",
    "exposure": "wet",
    "readily_accessible": True,
}
"""What a receptacle outdoors has beside what every receptacle has."""


def added_devices(plan: Plan, new: Mapping[str, object]) -> tuple[Operation, ...]:
    """Adds devices under ids that the plan does not use; a plan that has no devices yet gets the map with them."""
    devices = plan.devices
    named = {name if name not in devices else f"{name}-new": value for name, value in new.items()}
    if not devices:
        return (add(ROOT / "devices", named),)
    return tuple(add(ROOT / "devices" / name, value) for name, value in named.items())


def new_receptacle(place: Added) -> dict[str, object]:
    """A tamper-resistant 15 A duplex receptacle on a wall, as a plan writes it."""
    return {
        "kind": "receptacle",
        "mount": "wall",
        "at": {
            "wall": place.wall.id,
            "along": written(inches(place.along)),
            "height": written(inches(place.height)),
            "side": place.side.value,
        },
        "rating": "15 A",
        "voltage": "125 V",
        "contacts": 2,
        "switched_half": "none",
        "tamper_resistant": True,
    }
