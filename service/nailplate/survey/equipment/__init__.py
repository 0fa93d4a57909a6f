"""Space around panels and equipment, what takes it up, and the receptacles for servicing."""

from nailplate.survey.equipment.clearances import (
    DEEPEST_PANEL,
    SLACK,
    Front,
    Piece,
    clear_depth,
    clear_width,
    front_of,
    lowest_ceiling,
    pieces_in_front,
)
from nailplate.survey.equipment.equipment_receptacles import (
    ForService,
    Near,
    receptacles_around,
    same_level,
    service_receptacles,
    serviced_equipment,
    unplaced_receptacles,
)
from nailplate.survey.equipment.obstacles import undrawn_in

__all__ = [
    "DEEPEST_PANEL",
    "SLACK",
    "ForService",
    "Front",
    "Near",
    "Piece",
    "clear_depth",
    "clear_width",
    "front_of",
    "lowest_ceiling",
    "pieces_in_front",
    "receptacles_around",
    "same_level",
    "service_receptacles",
    "serviced_equipment",
    "undrawn_in",
    "unplaced_receptacles",
]
