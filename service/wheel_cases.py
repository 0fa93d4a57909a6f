"""Build hook of the wheel: of a rule's cases only those that its page shows travel with the package, each written whole."""

import json
import shutil
import sys
import tempfile
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

SERVICE = Path(__file__).parent


class ShownCases(BuildHookInterface[Any]):
    """Writes the shown cases aside and has them packed in place of the files beside the rules."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Before a wheel is built; one that is editable points at the checkout and needs nothing."""
        if version == "editable":
            return
        self.aside = Path(tempfile.mkdtemp(prefix="shown-cases-"))
        cases = _cases_module()
        for number, file in enumerate(sorted((SERVICE / "nailplate" / "rules").rglob("*.json"))):
            shown = cases.shown_of(cases.read_cases(file.read_text(encoding="utf-8")))
            written = self.aside / f"{number}.json"
            written.write_text(json.dumps(shown, ensure_ascii=False), encoding="utf-8")
            build_data["force_include"][str(written)] = str(file.relative_to(SERVICE))

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """After it is built."""
        if version != "editable":
            shutil.rmtree(self.aside)


def _cases_module() -> ModuleType:
    """The reader of case files alone; the package around it may not be importable where a wheel is built."""
    spec = spec_from_file_location("nailplate_cases", SERVICE / "nailplate" / "rulekit" / "cases.py")
    if spec is None or spec.loader is None:
        raise ImportError("the reader of case files is not there")
    module = module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module
