"""Records kept in a folder by the content of what they rest on: the plan, the options, the packs, and the code that judged.

A file that cannot be read or written is as good as none: a cache never changes a result. The day counts only where a suppression
has a last one.
"""

import hashlib
import json
import os
import tempfile
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nailplate import __version__
from nailplate.wire import plan_digest

if TYPE_CHECKING:
    from nailplate.batch.expansion import Case
    from nailplate.batch.record import Work


@dataclass(frozen=True)
class Cache:
    """A folder of records."""

    folder: Path

    def find(self, value: Any, case: "Case", work: "Work") -> dict[str, Any] | None:
        """What was kept for a case, with today's date; None where nothing was."""
        try:
            kept: Any = json.loads(self._path(value, case, work).read_bytes())
        except (OSError, ValueError):
            return None
        if not isinstance(kept, dict):
            return None
        if "report" in kept:
            kept["report"]["made"]["date"] = work.today
        return kept

    def keep(self, value: Any, case: "Case", work: "Work", record: dict[str, Any]) -> None:
        """Keeps what was worked out; whole or not at all."""
        path = self._path(value, case, work)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with tempfile.NamedTemporaryFile("w", dir=path.parent, delete=False, encoding="utf-8") as file:
                json.dump(record, file, ensure_ascii=False, separators=(",", ":"))
            os.replace(file.name, path)
        except OSError:
            return

    def _path(self, value: Any, case: "Case", work: "Work") -> Path:
        said = [
            plan_digest(value),
            case.options,
            case.suppressions,
            case.baseline,
            work.detail,
            work.most_findings,
            work.budget,
            _code(work.packs),
        ]
        said += [work.today] if _ends(value, case) else []
        digest = hashlib.sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()
        return self.folder / digest[:2] / f"{digest}.json"


def _ends(value: Any, case: "Case") -> bool:
    """Whether a suppression of the plan or beside it has a last day."""
    own = value.get("suppressions") if isinstance(value, dict) else None
    every = [*(own.values() if isinstance(own, dict) else ()), *case.suppressions.values()]
    return any(isinstance(each, dict) and "until" in each for each in every)


@cache
def _code(packs: tuple[str, ...]) -> str:
    """What judges: our version and the content of our code and tables, and name, version and cases of every pack in force."""
    from nailplate.catalog import catalog

    digest = hashlib.sha256(__version__.encode())
    root = Path(str(files("nailplate")))
    for path in sorted(path for path in root.rglob("*") if path.suffix in (".py", ".toml")):
        digest.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    for pack in catalog(packs).packs:
        digest.update(f"{pack.name}\0{pack.version}\0{len(pack.rules)}".encode())
    return digest.hexdigest()
