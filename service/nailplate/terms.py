"""Terms that plans and code tables share: what conductors are made of, and the temperatures that they are rated for."""

from enum import StrEnum


class Material(StrEnum):
    """What a conductor is made of."""

    COPPER = "copper"
    ALUMINUM = "aluminum"
    COPPER_CLAD_ALUMINUM = "copper_clad_aluminum"


class Column(StrEnum):
    """A temperature rating of an insulation or terminal, and the column of the ampacity table that goes with it."""

    C60 = "60 C"
    C75 = "75 C"
    C90 = "90 C"
