"""How a rule is declared: everything that can be said of it without running it."""

import inspect
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Required, TypedDict, TypeVar, Unpack, overload

from nailplate.codes import EDITIONS, TextStatus, edition
from nailplate.plan import Facts, Part, Plan
from nailplate.plan.words import Regime, Severity
from nailplate.rulekit.cases import Case, cases_of
from nailplate.rulekit.figures_named import changes_of, names_in
from nailplate.rulekit.hazards import Hazard
from nailplate.rulekit.job import Job
from nailplate.rulekit.outcomes import Outcome
from nailplate.rulekit.subjects import Subject


@dataclass(frozen=True, slots=True)
class Cite:
    """A section of a code, and the editions in which a public source was seen to say so.

    ``seen`` holds years. An edition not among them is cited from memory; 2026 and later, unseen, is assumed unchanged.
    ``note`` names the public source.
    """

    section: str
    seen: tuple[int, ...] = ()
    note: str = ""

    def status(self, year: int) -> TextStatus:
        """How sure this citation is for an edition."""
        if year in self.seen:
            return TextStatus.VERIFIED
        return TextStatus.ASSUMED if year >= FIRST_UNSEEN else TextStatus.MEMORY


FIRST_UNSEEN = 2026
"""Year of the first edition whose text nobody here knows from use; it and those after it are assumed to say the same as before."""

Judge = Callable[[Any, Job], Outcome | Iterable[Outcome]]


@dataclass(frozen=True)
class Rule:
    """One requirement: its declaration, and the function that judges one part."""

    id: str
    over: tuple[type[Facts], ...]
    severity: Severity
    cites: Mapping[str, Cite | None]
    judge: Judge
    family: str
    subjects: tuple[Subject, ...] = ()
    needs: tuple[str, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    dwelling_only: bool = False
    also_for: tuple[Regime, ...] = ()
    title: str = ""
    why: str = ""
    fix: str = ""
    trap: str = ""
    stated_changes: Mapping[str, str] = field(default_factory=dict)
    stated_limits: tuple[str, ...] = ()
    stated_provisions: tuple[str, ...] = ()
    does_not_judge: str = ""
    module: str = ""

    @property
    def cases(self) -> tuple[Case, ...]:
        """The cases beside its module, read when first asked for: all in a checkout, those shown where it is installed."""
        return cases_of(self.module)

    @property
    def judges(self) -> str:
        """What it judges, for people: ``box``, ``circuit, plan``."""
        return ", ".join(kind.__name__.lower() for kind in self.over)

    @cached_property
    def limits(self) -> tuple[str, ...]:
        """The figures of the code that it names or declares, by name."""
        known = edition(EDITIONS[-1]).limits.entries
        return tuple(sorted({*self.stated_limits, *(names_in(self.module, self.judge) & known.keys())}))

    @cached_property
    def provisions(self) -> tuple[str, ...]:
        """The provisions of the code that it names or declares, by name."""
        known = edition(EDITIONS[-1]).provisions.entries
        return tuple(sorted({*self.stated_provisions, *(names_in(self.module, self.judge) & known.keys())}))

    @cached_property
    def changes(self) -> Mapping[str, str]:
        """What each edition changed of it, in sentences: of its limits and provisions, and what it declares besides."""
        found = changes_of(self.limits, self.provisions)
        return {
            key: " ".join(filter(None, (self.stated_changes.get(key), found.get(key))))
            for key in sorted({**self.stated_changes, **found})
        }

    def cite(self, year: int) -> Cite | None:
        """The section of the NEC edition of that year; None where the edition has no such rule."""
        keys = [key for key in self.cites if key.startswith("nec-") and int(key[4:]) <= year]
        return self.cites[max(keys, key=lambda key: int(key[4:]))] if keys else None

    def is_in(self, year: int) -> bool:
        """Whether it is in force beside the NEC edition of that year; what the residential code alone asks for always is."""
        return self.cite(year) is not None or not any(key.startswith("nec-") for key in self.cites)

    def residential_cite(self, year: int) -> Cite | None:
        """The section of the IRC edition of that year, if it has one."""
        keys = sorted(int(key[4:]) for key in self.cites if key.startswith("irc-") and int(key[4:]) <= year)
        return self.cites[f"irc-{keys[-1]}"] if keys else None


Judged = TypeVar("Judged", bound=Facts)
Other = TypeVar("Other", bound=Facts)
Third = TypeVar("Third", bound=Facts)
Answer = Outcome | Iterable[Outcome]


class Declared(TypedDict, total=False):
    """What a rule says of itself beside its id and what it judges; ``rule`` tells what each is."""

    severity: Required[Severity]
    cites: Required[Mapping[str, str | Cite | None]]
    subjects: tuple[Subject, ...]
    needs: tuple[str, ...]
    hazards: tuple[Hazard, ...]
    dwelling_only: bool
    also_for: tuple[Regime, ...]
    limits: tuple[str, ...]
    provisions: tuple[str, ...]
    changes: Mapping[str, str]


@overload
def rule(*, id: str, over: type[Judged], **said: Unpack[Declared]) -> Callable[[Callable[[Judged, Job], Answer]], Rule]: ...


@overload
def rule(
    *, id: str, over: tuple[type[Judged], type[Other]], **said: Unpack[Declared]
) -> Callable[[Callable[[Judged | Other, Job], Answer]], Rule]: ...


@overload
def rule(
    *, id: str, over: tuple[type[Judged], type[Other], type[Third]], **said: Unpack[Declared]
) -> Callable[[Callable[[Judged | Other | Third, Job], Answer]], Rule]: ...


def rule(
    *,
    id: str,  # noqa: A002 - the word that rule authors read
    over: type[Any] | tuple[type[Any], ...],
    **said: Unpack[Declared],
) -> Callable[[Callable[[Any, Job], Answer]], Rule]:
    """Declares the function under it as the rule ``id`` over one kind of part, over several, or over the whole plan.

    ``over=(Circuit, Plan)`` judges every circuit and then, once, the plan. ``subjects`` are what a report says was looked at.

    ``cites`` maps ``nec-<year>`` to a section, from that edition on; None ends the rule. A plain text is cited from memory.
    ``needs`` names facts of the part (dotted for details) without which the engine answers ``Undetermined`` by itself; a fact
    that is read and missing later on does the same. ``dwelling_only`` marks rules of the code that speak of dwelling units only;
    ``also_for`` names the other classes that a section of their own holds to them.
    What editions changed is told by the limits and provisions that the module names; ``limits`` and ``provisions`` add those that it
    asks for by way of other modules, and ``changes`` says, in a sentence for each ``nec-<year>`` or ``irc-<year>``, what no entry does.
    The module's docstring gives the title (first line), ``Why:``, ``Fix:`` and, where people go wrong, ``Trap:``.
    """
    kinds = over if isinstance(over, tuple) else (over,)
    for kind in kinds:
        if not (kind is Plan or issubclass(kind, Part)):
            raise TypeError(f"rule {id}: over is a kind of part, several, or Plan")
    for need in said.get("needs", ()):
        if not any(kind.may_state(need.partition(".")[0]) for kind in kinds):
            raise TypeError(f"rule {id}: nothing that it judges has a fact {need!r}")

    def declare(judge: Callable[[Any, Job], Answer]) -> Rule:
        module = inspect.getmodule(judge)
        return Rule(
            id=id,
            over=kinds,
            severity=said["severity"],
            cites={key: Cite(value) if isinstance(value, str) else value for key, value in said["cites"].items()},
            judge=judge,
            family=judge.__module__.split(".")[-2] if "." in judge.__module__ else "",
            needs=said.get("needs", ()),
            hazards=said.get("hazards", ()),
            dwelling_only=said.get("dwelling_only", False),
            also_for=said.get("also_for", ()),
            subjects=said.get("subjects", ()),
            stated_changes=dict(said.get("changes", {})),
            stated_limits=said.get("limits", ()),
            stated_provisions=said.get("provisions", ()),
            module=judge.__module__,
            **_page(inspect.getdoc(module) or ""),
        )

    return declare


KEYWORDS = {"Why": "why", "Fix": "fix", "Trap": "trap", "Does not judge": "does_not_judge"}
"""What opens a paragraph of a rule's docstring, and the field of the rule that it fills."""


def _page(docstring: str) -> dict[str, str]:
    """The paragraphs of a rule's page; what stands under no key word is for who reads the code."""
    first, *further = [" ".join(block.split()).replace("``", "`") for block in docstring.split("\n\n")]
    said = {KEYWORDS[key]: text.strip() for key, _, text in (block.partition(":") for block in further) if key in KEYWORDS}
    return {"title": first, **said}
