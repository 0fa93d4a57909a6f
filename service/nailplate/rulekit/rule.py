"""How a rule is declared: everything that can be said of it without running it."""

import inspect
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, TypeVar

from nailplate.plan import Facts, Part, Plan
from nailplate.rulekit.hazards import Hazard
from nailplate.rulekit.job import Job
from nailplate.rulekit.outcomes import Outcome


class Severity(StrEnum):
    """How much a violation matters, whatever was seen."""

    DANGER = "danger"
    CODE = "code"
    ADVICE = "advice"


class TextStatus(StrEnum):
    """How sure a citation is."""

    VERIFIED = "verified"
    MEMORY = "memory"
    ASSUMED = "assumed"


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

Judge = Callable[[Any, Job], Outcome | Iterable[Outcome]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One requirement: its declaration, and the function that judges one part."""

    id: str
    over: type[Facts]
    severity: Severity
    cites: Mapping[str, Cite | None]
    judge: Judge
    family: str
    needs: tuple[str, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    dwelling_only: bool = False
    title: str = ""
    why: str = ""
    fix: str = ""
    trap: str = ""
    changes: Mapping[str, str] = field(default_factory=dict)
    module: str = ""
    cases: tuple[Mapping[str, object], ...] = field(default=(), compare=False)

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


def rule(
    *,
    id: str,  # noqa: A002 - the word that rule authors read
    over: type[Judged],
    severity: Severity,
    cites: Mapping[str, str | Cite | None],
    needs: tuple[str, ...] = (),
    hazards: tuple[Hazard, ...] = (),
    dwelling_only: bool = False,
    changes: Mapping[str, str] | None = None,
) -> Callable[[Callable[[Judged, Job], Outcome | Iterable[Outcome]]], Rule]:
    """Declares the function under it as the rule ``id`` over one kind of part, or over the whole plan.

    ``cites`` maps ``nec-<year>`` to a section, from that edition on; None ends the rule. A plain text is cited from memory.
    ``needs`` names facts of the part (dotted for details) without which the engine answers ``Undetermined`` by itself; a fact
    that is read and missing later on does the same. ``dwelling_only`` marks rules of the code that speak of dwelling units only.
    ``changes`` says, in a sentence for each ``nec-<year>`` or ``irc-<year>``, what that edition changed of this requirement.
    The module's docstring gives the title (first line), ``Why:``, ``Fix:`` and, where people go wrong, ``Trap:``.
    """
    if not (over is Plan or issubclass(over, Part)):
        raise TypeError(f"rule {id}: over is a kind of part or Plan")

    def declare(judge: Callable[[Judged, Job], Outcome | Iterable[Outcome]]) -> Rule:
        module = inspect.getmodule(judge)
        title, why, fix, trap = _page(inspect.getdoc(module) or "")
        return Rule(
            id=id,
            over=over,
            severity=severity,
            cites={key: Cite(value) if isinstance(value, str) else value for key, value in cites.items()},
            judge=judge,
            family=judge.__module__.split(".")[-2] if "." in judge.__module__ else "",
            needs=needs,
            hazards=hazards,
            dwelling_only=dwelling_only,
            title=title,
            why=why,
            fix=fix,
            trap=trap,
            changes=dict(changes or {}),
            module=judge.__module__,
        )

    return declare


def _page(docstring: str) -> tuple[str, str, str, str]:
    paragraphs = [" ".join(block.split()) for block in docstring.split("\n\n")]
    said = {
        key: text[len(key) + 1 :].strip() for text in paragraphs for key in ("Why", "Fix", "Trap") if text.startswith(f"{key}:")
    }
    return paragraphs[0], said.get("Why", ""), said.get("Fix", ""), said.get("Trap", "")
