"""Facts as a plan states them: a fact left out stays out, and reading it raises ``UnknownFact``.

How a part is declared: a class marked ``@drawn`` whose annotations are its fields. The annotations are also the contract with
callers: ``wire`` makes the JSON schema of a part out of them. ``Annotated`` carries what a type cannot say:

    volume: Annotated[CubicInches, Doc("the volume marked in the box"), MoreThan(0), Needed]

``Key("from")`` gives the JSON name where Python has no such word; ``Needed`` marks what no plan may leave out.
"""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, TypeVar, get_type_hints

from nailplate.plan.faults import UnknownFact
from nailplate.plan.pointer import Pointer


class Stage(StrEnum):
    """How far the author of a plan has come."""

    LAYOUT = "layout"
    CIRCUITS = "circuits"
    ROUGH_IN = "rough_in"


@dataclass(frozen=True, slots=True)
class Doc:
    """What a field says, for the published schema."""

    text: str


@dataclass(frozen=True, slots=True)
class Key:
    """The JSON name of a field whose Python name differs."""

    name: str


@dataclass(frozen=True, slots=True)
class MoreThan:
    """An exclusive minimum, in the canonical unit."""

    limit: float


@dataclass(frozen=True, slots=True)
class AtLeast:
    """An inclusive minimum, in the canonical unit."""

    limit: float


@dataclass(frozen=True, slots=True)
class AtMost:
    """An inclusive maximum, in the canonical unit."""

    limit: float


@dataclass(frozen=True, slots=True)
class Items:
    """How many items a list holds."""

    at_least: int = 0
    at_most: int = 1000


class _OrAlone:
    """Marks a list of which one item may stand without the list."""


OrAlone = _OrAlone()


@dataclass(frozen=True, slots=True)
class Refers:
    """The map of the plan that an id refers to."""

    map_name: str


@dataclass(frozen=True, slots=True)
class Due:
    """The stage at which an author is expected to state this fact, where it is not that of its map."""

    stage: Stage


class _Needed:
    """Marks a field that every such part states."""


Needed = _Needed()


class _Note:
    """Marks a field that is its author's note: kept and handed back, and read by no rule, calculation or sheet."""


Note = _Note()

Drawn = TypeVar("Drawn", bound="Facts")

drawn: Callable[[type[Drawn]], type[Drawn]] = dataclass(frozen=True, slots=True, init=False, repr=False, eq=False)
"""Makes a class of facts frozen and slotted; a slot left unset is an unknown fact."""


NOWHERE_ELSE: Mapping[str, Pointer] = MappingProxyType({})
WHOLE = ""
"""The key in ``said_at`` of an object that no part states: the default that it comes from whole."""


@drawn
class Facts:
    """Something the plan says, and where it says it. Only the facts given are set.

    ``said_at`` holds the pointers of facts that the plan states elsewhere for this part too: in one of the author's defaults.
    """

    pointer: Pointer
    stated: frozenset[str]
    said_at: Mapping[str, Pointer]

    def __init__(self, pointer: Pointer, facts: Mapping[str, object], said_at: Mapping[str, Pointer] = NOWHERE_ELSE) -> None:
        state = _SETTERS.get(type(self)) or _setters(type(self))
        state["pointer"](self, pointer)
        state["stated"](self, frozenset(facts))
        state["said_at"](self, said_at)
        for name, value in facts.items():
            state[name](self, value)

    if not TYPE_CHECKING:  # a checker that saw this would take every misspelt field for a fact

        def __getattr__(self, name):
            """Only reached when the slot is unset: the plan leaves this fact out."""
            if name.startswith("__") or name not in json_names(type(self)):
                raise AttributeError(name)
            raise UnknownFact(self.pointer / json_names(type(self))[name])

    def knows(self, name: str, *more: str) -> bool:
        """Whether the plan states every one of these facts. A name that this kind of part lacks raises AttributeError."""
        if name in self.stated and (not more or self.stated.issuperset(more)):
            return True
        if more or name not in (_NAMES.get(type(self)) or json_names(type(self))):
            _check_names(self, (name, *more))
        return False

    def is_(self, **facts: object) -> bool:
        """Whether the plan states these facts and states them so: ``circuit.is_(purpose=Purpose.LAUNDRY)``. Unsaid is False.

        Where a fact left out has to be stated, read it plainly: ``circuit.purpose is Purpose.LAUNDRY`` raises UnknownFact.
        """
        stated = self.stated
        for name, value in facts.items():
            if name not in stated:
                _check_names(self, facts)
                return False
            if getattr(self, name) != value:
                return False
        return True

    def isnt(self, **facts: object) -> bool:
        """Whether the plan states one of these facts otherwise: ``device.isnt(mount=Mount.CEILING)``. Unsaid is False."""
        stated = self.stated
        for name, value in facts.items():
            if name not in stated:
                _check_names(self, facts)
            elif getattr(self, name) != value:
                return True
        return False

    def is_among(self, **facts: Container[object]) -> bool:
        """Whether the plan states these facts as one of a set: ``device.is_among(kind=SWITCHES)``. Unsaid is False."""
        stated = self.stated
        for name, values in facts.items():
            if name not in stated:
                _check_names(self, facts)
                return False
            if getattr(self, name) not in values:
                return False
        return True

    @classmethod
    def may_state(cls, name: str) -> bool:
        """Whether this kind of part has a fact of that name at all, for questions put to parts of any kind."""
        return name in json_names(cls)

    def where(self, name: str) -> Pointer:
        """The pointer of one of this part's facts, stated or not: the default's own where a default states it."""
        elsewhere = self.said_at.get(name)
        return self.own(name) if elsewhere is None else elsewhere

    def own(self, name: str) -> Pointer:
        """Where the part itself states this fact, or would."""
        return self.pointer / json_names(type(self))[name]

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.pointer}>"


def _check_names(facts: Facts, names: Iterable[str]) -> None:
    """Refuses a name that this kind of part has no such fact for: a misspelt question would be answered with silence."""
    known = json_names(type(facts))
    for name in names:
        if name not in known:
            raise AttributeError(f"a {type(facts).__name__} has no fact {name!r}")


_SETTERS: dict[type, Mapping[str, Callable[[object, object], None]]] = {}


def _setters(kind: type[Facts]) -> Mapping[str, Callable[[object, object], None]]:
    """What fills each slot of a frozen kind, looked up once: a plan has thousands of facts."""
    _SETTERS[kind] = {name: getattr(kind, name).__set__ for name in json_names(kind)}
    return _SETTERS[kind]


_NAMES: dict[type, Mapping[str, str]] = {}


def json_names(kind: type[Facts]) -> Mapping[str, str]:
    """Python name to JSON name, for every field of a kind of facts."""
    names = _NAMES.get(kind)
    if names is None:
        hints = get_type_hints(kind, include_extras=True)
        names = _NAMES[kind] = {name: _json_name(name, hint) for name, hint in hints.items()}
    return names


def _json_name(name: str, hint: object) -> str:
    marks = getattr(hint, "__metadata__", ())
    return next((mark.name for mark in marks if isinstance(mark, Key)), name)


@drawn
class Part(Facts):
    """One entry of one of the plan's maps, known by the id its author chose."""

    id: str
    label: Annotated[str, Doc("a name for people, shown in reports")]
    extra: Annotated[dict[str, object], Doc("the caller's own data; nothing reads it"), Note]

    def __init__(self, pointer: Pointer, facts: Mapping[str, object], said_at: Mapping[str, Pointer] = NOWHERE_ELSE) -> None:
        Facts.__init__(self, pointer, facts, said_at)
        object.__setattr__(self, "id", pointer.member)
