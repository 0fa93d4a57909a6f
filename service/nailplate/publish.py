"""Prints the published schemas: ``python -m nailplate.publish ROOT`` writes them below ROOT/schemas."""

import json
import sys
from pathlib import Path

from nailplate.wire.json_schema import plan_schema


def published() -> dict[str, str]:
    """Path below the project's root to the text that stands there."""
    return {"schemas/plan-1.json": json.dumps(plan_schema(), indent=2, ensure_ascii=False) + "\n"}


def main(root: Path) -> None:
    """Writes every published file."""
    for path, text in published().items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
