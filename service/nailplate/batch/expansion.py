"""The cases of one model: every jurisdiction, edition and combination of options that it is to be checked in.

Errors: ``BatchRefused`` where there are more than the most that one model may have.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import Any

from nailplate.batch.items import Batch, BatchRefused, Item
from nailplate.plan import ROOT, Fault, FaultCode

MOST_CASES = 2000
"""Cases of one model."""


@dataclass(frozen=True)
class Case:
    """One check: a base plan, the patches that make it this variant, and the law."""

    item: str
    plan: Any
    patches: tuple[tuple[Any, ...], ...] = ()
    model_options: tuple[str, ...] = ()
    edition: str | None = None
    jurisdiction: str | None = None
    local: Any = None
    options: Any = field(default_factory=dict)
    suppressions: Any = field(default_factory=dict)
    baseline: Any = None

    @property
    def key(self) -> str:
        """What names its record."""
        return key_of(self.item, self.model_options, self.edition, self.jurisdiction)


def key_of(item: str, model_options: tuple[str, ...] = (), edition: str | None = None, jurisdiction: str | None = None) -> str:
    """``item[option+option]@edition/jurisdiction``, each part where there is one."""
    options = f"[{'+'.join(model_options)}]" if model_options else ""
    return f"{item}{options}" + (f"@{edition}" if edition else "") + (f"/{jurisdiction}" if jurisdiction else "")


def cases_of(item: Item, head: Batch) -> Iterator[Case]:
    """The cases, jurisdiction by jurisdiction, edition by edition, the base first. Raises BatchRefused before the first of them."""
    chosen = list(_combinations(item))
    laws = [(local, edition) for local in item.jurisdictions or (None,) for edition in item.editions or (None,)]
    if len(chosen) * len(laws) > MOST_CASES:
        said = (
            f"this model makes {len(chosen) * len(laws)} cases or more; at most {MOST_CASES} are taken: list its combinations"
        )
        raise BatchRefused([Fault(ROOT / "combinations", FaultCode.LIMIT_EXCEEDED, said)])
    return (
        _with_baseline(
            Case(
                item=item.key,
                plan=item.plan,
                patches=(item.patch, *(item.model_options[name].patch for name in names)),
                model_options=names,
                edition=edition,
                jurisdiction=local,
                local=None if local is None else head.jurisdictions[local],
                options=item.options,
                suppressions=item.suppressions,
            ),
            item.baseline,
        )
        for local, edition in laws
        for names in chosen
    )


def _with_baseline(case: Case, baseline: Any) -> Case:
    """The case with the part of the baseline that is its own: of one of several plans, what stands under its key."""
    if baseline is None:
        return case
    plans = baseline.get("plans")
    return replace(case, baseline=plans.get(case.key, {"findings": []}) if isinstance(plans, dict) else baseline)


_SIZES = {"base": 0, "each": 1, "pairs": 2, "all": None}


def _combinations(item: Item) -> Iterator[tuple[str, ...]]:
    """Sets of options that go together, the smallest first; what an option needs comes with it."""
    if not isinstance(item.combinations, str):
        yield from item.combinations
        return
    names = list(item.model_options)
    most = _SIZES[item.combinations]
    seen: set[tuple[str, ...]] = set()
    for size in range((len(names) if most is None else min(most, len(names))) + 1):
        for picked in combinations(names, size):
            whole = _with_needs(item, picked)
            if whole not in seen and _go_together(item, whole):
                seen.add(whole)
                yield whole
            if len(seen) > MOST_CASES:
                return


def _with_needs(item: Item, picked: tuple[str, ...]) -> tuple[str, ...]:
    wanted, found = list(picked), set(picked)
    while wanted:
        for name in item.model_options[wanted.pop()].needs:
            if name not in found:
                found.add(name)
                wanted.append(name)
    return tuple(name for name in item.model_options if name in found)


def _go_together(item: Item, picked: tuple[str, ...]) -> bool:
    return not any(other in picked for name in picked for other in item.model_options[name].excludes)
