"""What a sheet is asked for, and how a sheet says that it cannot be given."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from nailplate.sheets.drawing import Findings, Stamp
from nailplate.sheets.tables import Document
from nailplate.survey import Survey

TABLE_MEDIA: Final = ("application/json", "text/markdown", "text/html", "text/csv", "application/pdf")
"""What a sheet of tables comes as, the usual one first."""


@dataclass(frozen=True, slots=True)
class Order:
    """One sheet of one plan: the plan's survey, whose sheet it is, the media type wanted, and the parameters by name.

    ``findings`` are those of the plan's report where the sheet shows them.
    """

    survey: Survey
    stamp: Stamp
    media: str
    parameters: Mapping[str, str] = field(default_factory=dict)
    findings: Findings = field(default_factory=Findings)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet that there is: its title, the media types it comes as (the usual one first), its parameters, and what writes it."""

    title: str
    media: tuple[str, ...]
    write: Callable[[Order], bytes]
    parameters: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TableSheet:
    """A sheet of tables: its title, its parameters, and what makes it; it comes in every form that tables are rendered to."""

    title: str
    make: Callable[[Order], Document]
    parameters: Mapping[str, str] = field(default_factory=dict)
    media: tuple[str, ...] = TABLE_MEDIA


class OrderError(ValueError):
    """A sheet that cannot be given as it was asked for. ``parameter`` is the one to change, None where it is not one.

    OrderError (a parameter names nothing in the plan, or has a value that cannot be)
    └── ExtraMissing (the form wanted needs a package that is not installed)
    """

    def __init__(self, words: str, parameter: str | None = None) -> None:
        super().__init__(words)
        self.parameter = parameter


class ExtraMissing(OrderError):
    """The form wanted needs an optional package that is not installed."""
