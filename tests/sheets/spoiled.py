"""An example house spoiled in a way that many rules in many rooms speak of, and that remedies answer with new devices."""

from typing import Any

from houses import house


def spoiled(name: str) -> Any:
    """No protection from ground or arc faults anywhere, no smoke alarm, and a 30 A breaker on every second circuit."""
    value = house(name)
    for number, circuit in enumerate(value["circuits"].values()):
        circuit["breaker"]["protects"] = "none"
        circuit["breaker"]["rating"] = 30 if number % 2 else circuit["breaker"]["rating"]
    for device in value["devices"].values():
        device.pop("gfci", None)
        device.pop("afci", None)
        if device["kind"] == "receptacle":
            device["gfci"] = False
    value["devices"] = {key: each for key, each in value["devices"].items() if each["kind"] != "smoke_alarm"}
    return value
