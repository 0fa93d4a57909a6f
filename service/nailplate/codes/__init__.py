"""The tables of each code edition: one folder of TOML files per edition, each laid over the one before, read once at start."""

from importlib.resources import files
from typing import Final

from nailplate.codes.comparing import Difference, compare
from nailplate.codes.editions import Edition, amended, read_edition
from nailplate.codes.errors import CodeTableError
from nailplate.codes.figures import Figures, Limit, Limits, Provision, Provisions
from nailplate.codes.gfci_tables import GfciItem, GfciLocation, GfciLocations
from nailplate.codes.nearest import nearest, unknown_name
from nailplate.codes.overlay import TableChange
from nailplate.codes.tables import BoxShape, TextStatus
from nailplate.terms import Column, Material

__all__ = [
    "EDITIONS",
    "BoxShape",
    "CodeTableError",
    "Column",
    "Difference",
    "Edition",
    "Figures",
    "GfciItem",
    "GfciLocation",
    "GfciLocations",
    "Limit",
    "Limits",
    "Material",
    "Provision",
    "Provisions",
    "TableChange",
    "TextStatus",
    "amended",
    "compare",
    "edition",
    "nearest",
    "unknown_name",
]

EDITIONS: Final = tuple(
    sorted(each.name.removeprefix("nec_") for each in files(__name__).iterdir() if each.name.startswith("nec_"))
)
"""The editions known here, oldest first: one for each folder ``nec_YEAR``."""


def edition(year: str) -> Edition:
    """The edition of ``year``, e.g. ``edition("2023")``."""
    if year not in _READ:
        raise CodeTableError(unknown_name("code edition", year, _READ))
    return _READ[year]


def _read_all() -> dict[str, Edition]:
    by_id: dict[str, Edition] = {}
    for year in EDITIONS:
        one = read_edition(files(__name__) / f"nec_{year}", by_id)
        by_id[one.id] = one
    return {str(one.year): one for one in by_id.values()}


_READ: Final = _read_all()
