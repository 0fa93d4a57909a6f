"""The tables of each code edition: one folder of TOML files per edition, each laid over the one before.

An edition is read once, when it is first asked for, since most plans ask for one; the service asks for all before it serves.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Final

from nailplate.codes.comparing import Difference, compare
from nailplate.codes.editions import Edition, Written, amended, read_written, typed
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


@cache
def edition(year: str) -> Edition:
    """The edition of ``year``, e.g. ``edition("2023")``. Raises CodeTableError for one that is not known here, or a table not sound."""
    if year not in EDITIONS:
        raise CodeTableError(unknown_name("code edition", year, EDITIONS))
    return typed(_written(year), f"nec_{year}")


@cache
def _written(year: str) -> Written:
    return read_written(files(__name__) / f"nec_{year}", _Earlier(year))


class _Earlier(Mapping[str, Written]):
    """What is written of the editions before a year, by id."""

    def __init__(self, year: str) -> None:
        self._years = {f"nec-{each}": each for each in EDITIONS if each < year}

    def __getitem__(self, name: str) -> Written:
        return _written(self._years[name])

    def __iter__(self) -> Iterator[str]:
        return iter(self._years)

    def __len__(self) -> int:
        return len(self._years)
