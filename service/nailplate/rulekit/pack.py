"""A rule pack: rules gathered out of a package's modules. Their cases are left unread until somebody asks a rule for them.

Errors: ``PackError`` for a package that is no sound pack; it stops the start, since a rule that is quietly left out would read
as a pass.
"""

import importlib
import pkgutil
from dataclasses import dataclass
from types import ModuleType

from nailplate.rulekit.rule import Rule


class PackError(ValueError):
    """A package that is no sound rule pack."""


@dataclass(frozen=True, slots=True)
class RulePack:
    """Rules that are put in force together. Ids of a pack from elsewhere begin with its name and a slash."""

    name: str
    version: str
    rules: tuple[Rule, ...]

    @classmethod
    def from_package(cls, name: str, package: str, version: str) -> "RulePack":
        """Every rule in the modules of ``package``, in the order of their ids. Raises PackError."""
        found = [rule for module in _modules(importlib.import_module(package)) for rule in _rules(module)]
        rules = tuple(sorted(found, key=lambda rule: rule.id))
        _check(name, rules)
        return cls(name, version, rules)


def _modules(package: ModuleType) -> list[ModuleType]:
    walk = pkgutil.walk_packages(package.__path__, f"{package.__name__}.")
    return [importlib.import_module(module.name) for module in walk if not module.ispkg]


def _rules(module: ModuleType) -> list[Rule]:
    return [value for value in vars(module).values() if isinstance(value, Rule) and value.module == module.__name__]


def _check(name: str, rules: tuple[Rule, ...]) -> None:
    ids = [rule.id for rule in rules]
    doubled = {rule_id for rule_id in ids if ids.count(rule_id) > 1}
    if doubled:
        raise PackError(f"pack {name}: doubled rule ids {sorted(doubled)}")
    if name != "nailplate" and any(not rule_id.startswith(f"{name}/") for rule_id in ids):
        raise PackError(f"pack {name}: every rule id begins with {name}/")
    for rule in rules:
        if rule.id.rpartition("/")[2] != rule.module.rpartition(".")[2].replace("_", "-"):
            raise PackError(f"pack {name}: rule {rule.id} stands in {rule.module}; the id is the file's stem")
