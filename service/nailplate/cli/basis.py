"""The law that a plan is checked by, when the command line names another than the plan does."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

Local = Mapping[str, Any]
"""A file of amendments: ``amendments`` as a plan's basis has them, and the ``jurisdiction`` whose they are."""


def read_amendments(file: Path) -> Local:
    """A file of amendments. Raises UsageError."""
    try:
        local = json.loads(file.read_text(encoding="utf-8"))
        return {"amendments": {**local["amendments"]}, "jurisdiction": local["jurisdiction"]}
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise click.UsageError(f"--amendments {file}: no file of amendments with its jurisdiction: {error!r}") from None


def with_basis(plan: Any, edition: str | None, permit_date: str | None, amendments: Sequence[Local]) -> Any:
    """The plan with the edition, permit date and local amendments requested; one that is no plan is left to the reader to refuse."""
    if not isinstance(plan, dict) or not isinstance(plan.get("basis"), dict):
        return plan
    asked = {"edition": edition, "permit_date": permit_date}
    basis = {**plan["basis"], **{name: value for name, value in asked.items() if value is not None}}
    for local in amendments:
        own = basis.get("amendments", {})
        if not isinstance(own, dict):
            return plan
        basis |= {"amendments": {**own, **local["amendments"]}, "jurisdiction": local["jurisdiction"]}
    return {**plan, "basis": basis}
