"""The law that a plan is checked by, when the command line names another than the plan does."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click


def with_basis(plan: Any, edition: str | None, permit_date: str | None, amendments: Sequence[Path]) -> Any:
    """The plan with the edition, permit date and local amendments asked for; one that is no plan is left to the reader to refuse."""
    if not isinstance(plan, dict) or not isinstance(plan.get("basis"), dict):
        return plan
    asked = {"edition": edition, "permit_date": permit_date}
    basis = {**plan["basis"], **{name: value for name, value in asked.items() if value is not None}}
    for file in amendments:
        basis |= _amended(basis, file)
    return {**plan, "basis": basis}


def _amended(basis: dict[str, Any], file: Path) -> dict[str, Any]:
    """A file of amendments holds ``amendments`` as a plan's basis does, and the ``jurisdiction`` whose they are."""
    try:
        local = json.loads(file.read_text(encoding="utf-8"))
        return {"amendments": {**basis.get("amendments", {}), **local["amendments"]}, "jurisdiction": local["jurisdiction"]}
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise click.UsageError(f"--amendments {file}: no file of amendments with its jurisdiction: {error!r}") from None
