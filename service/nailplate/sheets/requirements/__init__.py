"""What this house needs: by room and for the house, with the place, the section, and the part that meets it already."""

from nailplate.sheets.requirements.items import (
    LoadMover,
    LoadRange,
    RequiredPlace,
    Requirement,
    Requirements,
    Said,
)
from nailplate.sheets.requirements.required import requirements_of
from nailplate.sheets.requirements.topics import ASKED

__all__ = ["ASKED", "LoadMover", "LoadRange", "RequiredPlace", "Requirement", "Requirements", "Said", "requirements_of"]
