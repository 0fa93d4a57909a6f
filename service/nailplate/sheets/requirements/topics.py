"""Which rules say what a house needs, and what that is in the words of a list. The rules themselves work out counts and places."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan.words import Purpose
from nailplate.sheets.requirements.items import RequiredTopic


@dataclass(frozen=True, slots=True)
class Asked:
    """What a rule asks of a place; ``by`` is the purpose of circuits that meet it; other parts are found by ``met_by``."""

    topic: RequiredTopic
    what: str
    by: Purpose | None = None


ASKED: Final[Mapping[str, Asked]] = {
    "wall-space": Asked("receptacles", "receptacles along the walls, so that none of the floor line is too far from one"),
    "loft-receptacles": Asked("receptacles", "receptacles along the walls of the loft"),
    "room-divider": Asked("receptacles", "receptacles along guards and fixed room dividers"),
    "wall-counter": Asked("receptacles", "receptacles over the counter along the wall"),
    "island-peninsula": Asked("receptacles", "receptacles for the island or peninsula, or provision for them"),
    "bath-receptacle": Asked("receptacles", "a receptacle beside the basin"),
    "hall-receptacle": Asked("receptacles", "a receptacle in the hallway"),
    "foyer-receptacles": Asked("receptacles", "receptacles in the foyer"),
    "laundry-receptacle": Asked("receptacles", "a receptacle for the laundry"),
    "basement-receptacle": Asked("receptacles", "a receptacle in the basement"),
    "garage-receptacles": Asked("receptacles", "receptacles in the garage, one for each vehicle bay"),
    "outdoor-receptacles": Asked("receptacles", "a receptacle outdoors that can be reached from grade"),
    "deck-receptacle": Asked("receptacles", "a receptacle at the deck, porch or balcony"),
    "equipment-receptacle": Asked("receptacles", "a service receptacle near the equipment"),
    "light-habitable": Asked("lights", "a light with a wall-mounted control"),
    "light-passages": Asked("lights", "a light with a wall-mounted control"),
    "light-storage": Asked("lights", "a light with a control at the entry"),
    "light-exterior-door": Asked("lights", "a light outside the door, with a wall-mounted control"),
    "stair-switching": Asked(
        "controls", "a light on the stair, controlled from every level and landing that it is entered from"
    ),
    "smoke-alarm-places": Asked("alarms", "a smoke alarm"),
    "co-alarm-places": Asked("alarms", "a carbon monoxide alarm"),
    "small-appliance-circuits": Asked(
        "circuits", "20 A small-appliance circuits for kitchen and dining receptacles", Purpose.SMALL_APPLIANCE
    ),
    "laundry-circuit": Asked("circuits", "a 20 A circuit for the laundry", Purpose.LAUNDRY),
    "bathroom-circuit": Asked("circuits", "a 20 A circuit for the bathroom receptacles", Purpose.BATHROOM),
    "garage-circuit": Asked("circuits", "a 20 A circuit for the garage receptacles", Purpose.GARAGE),
    "lighting-circuit-count": Asked("circuits", "circuits for general lighting and receptacles", Purpose.GENERAL),
    "individual-circuit": Asked("appliances", "a circuit of its own where its instructions or the code require one"),
    "range-circuit": Asked("appliances", "a circuit for the cooking equipment"),
    "water-heater-circuit": Asked("appliances", "a circuit for the water heater"),
    "fixed-heat-circuit": Asked("appliances", "a circuit for fixed electric heating"),
    "service-minimum": Asked("panel", "a service or supply of at least the least rating"),
    "service-size": Asked("panel", "a service or supply that carries the load"),
    "panel-spaces": Asked("panel", "a space in the panel for each pole"),
    "surge-protection": Asked("protection", "surge protection at the service"),
    "gfci-locations": Asked("protection", "GFCI protection of receptacles"),
    "gfci-appliances": Asked("protection", "GFCI protection of the appliance"),
    "afci-rooms": Asked("protection", "AFCI protection of the circuits"),
    "tamper-resistant": Asked("protection", "tamper-resistant receptacles"),
    "weather-resistant": Asked("protection", "weather-resistant receptacles"),
}
"""Id of the rule to what it asks. A rule that the selection leaves out requires nothing here."""
