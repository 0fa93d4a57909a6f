"""Every module is held to the promises about figures, editions and handlers, but those of ``codes``, which hold them."""

from pathlib import Path

import nailplate

ROOT = Path(nailplate.__file__).parent


def converted_files() -> list[Path]:
    """Every module of the package outside ``codes``."""
    return [file for file in sorted(ROOT.rglob("*.py")) if file.relative_to(ROOT).parts[0] != "codes"]
