"""Which rule packs there are: ours and those that others install, and which of them are in force."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from importlib.metadata import entry_points

from nailplate import rules
from nailplate.codes import nearest
from nailplate.rulekit import PackError, Rule, RulePack

GROUP = "nailplate.rulepacks"


@dataclass(frozen=True)
class Catalog:
    """The packs in force, ours first."""

    packs: tuple[RulePack, ...]

    @cached_property
    def rules(self) -> dict[str, Rule]:
        """Rule id to rule, sorted by id."""
        return {
            rule.id: rule for rule in sorted((rule for pack in self.packs for rule in pack.rules), key=lambda rule: rule.id)
        }

    def nearest_id(self, wrong: str) -> str | None:
        """The rule id that a misspelt one probably meant."""
        return nearest(wrong, self.rules)


def installed() -> tuple[str, ...]:
    """Names of the packs that other packages bring; being installed does not put them in force."""
    return tuple(sorted({entry.name for entry in entry_points(group=GROUP)} - {"nailplate"}))


def catalog(extra: Sequence[str] = ()) -> Catalog:
    """Our pack and those named. Raises PackError for a name that is not installed, or a pack that is not sound."""
    others = [_load(name) for name in dict.fromkeys(extra) if name != "nailplate"]
    return Catalog((rules.pack(), *others))


def _load(name: str) -> RulePack:
    found = list(entry_points(group=GROUP, name=name))
    if not found:
        raise PackError(f"no rule pack {name!r} is installed; installed are: {', '.join(installed()) or 'none'}")
    pack = found[0].load()
    pack = pack() if callable(pack) else pack
    if not isinstance(pack, RulePack) or pack.name != name:
        raise PackError(f"the entry point {name!r} gives no rule pack of that name")
    return pack
