"""Prints the published schemas and the API description: ``python -m nailplate.publish ROOT`` writes them below ROOT."""

import json
import sys
from pathlib import Path

from nailplate.web import openapi_text
from nailplate.wire.case_schema import case_schema
from nailplate.wire.comparison import comparison_schema
from nailplate.wire.json_schema import plan_schema
from nailplate.wire.report_schema import report_schema


def published() -> dict[str, str]:
    """Path below the project's root to the text that stands there."""
    schemas = {
        "plan-1": plan_schema(),
        "report-1": report_schema(),
        "comparison-1": comparison_schema(),
        "cases-1": case_schema(),
    }
    printed = {
        f"schemas/{name}.json": json.dumps(schema, indent=2, ensure_ascii=False) + "\n" for name, schema in schemas.items()
    }
    return {**printed, "openapi/openapi.json": openapi_text()}


def main(root: Path) -> None:
    """Writes every published file."""
    for path, text in published().items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
