"""What can hurt someone or something, each with the one sentence of caution that findings carry."""

from enum import StrEnum


class Hazard(StrEnum):
    """A way in which a fault does harm."""

    SHOCK = "shock"
    FIRE = "fire"
    OVERHEATING = "overheating"
    ARCING = "arcing"
    PINCHED_INSULATION = "pinched_insulation"
    OVERLOAD = "overload"
    CHILD_SHOCK = "child_shock"
    TRIP = "trip"
    CORDS = "cords"
    DARKNESS = "darkness"
    LOST_NEUTRAL = "lost_neutral"
    UNDETECTED_SMOKE = "undetected_smoke"
    CARBON_MONOXIDE = "carbon_monoxide"
    FALLING_LOAD = "falling_load"
    PIERCED_CABLE = "pierced_cable"
    WEAKENED_FRAME = "weakened_frame"
    WATER = "water"
    NO_WAY_OUT = "no_way_out"
    BURIED = "buried"
    MOVING_PARTS = "moving_parts"

    @property
    def caution(self) -> str:
        """The sentence that goes with every finding of this hazard."""
        return _CAUTIONS[self]


_CAUTIONS = {
    Hazard.SHOCK: "Current through a person can kill; do not energize this until it is corrected.",
    Hazard.FIRE: "A fault here can start a fire inside a closed wall.",
    Hazard.OVERHEATING: "Conductors that run too hot lose their insulation long before anything is noticed.",
    Hazard.ARCING: "An arc in a damaged cable or loose joint can light what is around it.",
    Hazard.PINCHED_INSULATION: "Crowded conductors get cut or squeezed when a device is pushed in.",
    Hazard.OVERLOAD: "A circuit that is loaded past its rating trips at best and overheats at worst.",
    Hazard.CHILD_SHOCK: "Children push things into receptacles.",
    Hazard.TRIP: "Cords across a floor make people fall.",
    Hazard.CORDS: "Where receptacles are missing, extension cords come; they are damaged and overloaded easily.",
    Hazard.DARKNESS: "People fall where they cannot switch on a light before they walk.",
    Hazard.LOST_NEUTRAL: "A lost or overloaded neutral puts wrong voltages on everything that it serves.",
    Hazard.UNDETECTED_SMOKE: "Smoke that no alarm detects kills people in their sleep.",
    Hazard.CARBON_MONOXIDE: "Carbon monoxide gives no warning of its own.",
    Hazard.FALLING_LOAD: "What hangs from an unfit box can fall on someone.",
    Hazard.PIERCED_CABLE: "A screw or nail through a cable can energize metal or start a fire later.",
    Hazard.WEAKENED_FRAME: "Cut framing may no longer carry its load; ask a designer before cutting.",
    Hazard.WATER: "Water and electricity together make a shock far more likely and far worse.",
    Hazard.NO_WAY_OUT: "A person must be able to reach and leave electrical equipment that fails.",
    Hazard.BURIED: "What is covered up cannot be inspected or repaired without opening the wall.",
    Hazard.MOVING_PARTS: "Blades that turn within reach of a raised hand hurt people.",
}
