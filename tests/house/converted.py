"""The families whose figures, editions and handlers are held to the house's promises. It ends as every family there is."""

from collections.abc import Iterator
from pathlib import Path

import nailplate

ROOT = Path(nailplate.__file__).parent
FAMILIES = ("box_fill", "placement", "rough_in", "circuits", "loads", "switching")
ROOMS = ("calc", "calculations", "render", "web", "wire")
"""Rooms besides rules and survey, whole."""
NOT_YET: tuple[str, ...] = ("survey/receptacles/bath_zones.py", "remedies/changed_breakers.py")
"""Modules of those that are still to come."""
SURVEY_WINGS: tuple[str, ...] = (
    "boxes",
    "equipment",
    "outdoors",
    "receptacles",
    "remedies",
    "rough_in",
    "space",
    "wiring",
    "loads",
)
"""Folders of ``survey`` and of ``remedies`` (as ``remedies``) that are converted whole."""


def converted_files() -> list[Path]:
    """Every module that is held to the promises."""
    return [file for file in _files() if str(file.relative_to(ROOT)) not in NOT_YET]


def _files() -> Iterator[Path]:
    for family in FAMILIES:
        yield from sorted((ROOT / "rules" / family).rglob("*.py"))
    for room in ROOMS:
        yield from sorted((ROOT / room).rglob("*.py"))
    for wing in SURVEY_WINGS:
        yield from sorted((ROOT / "remedies" if wing == "remedies" else ROOT / "survey" / wing).rglob("*.py"))
