"""Marshmallow fields of single values that take what a plan may say and nothing near it: no coercion, no null, bounds in canonical units.

Every refusal is a ``Problem``; ``faults`` gives it its pointer. Each field also says what it takes as JSON Schema.
"""

import difflib
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from marshmallow import Schema, ValidationError, fields

from nailplate.plan import Facts, FaultCode
from nailplate.plan.facts import AtLeast, AtMost, MoreThan
from nailplate.plan.faults import UNITS_HINT
from nailplate.terms import Column
from nailplate.units import (
    CANONICAL,
    EXAMPLES,
    LONGEST_TEXT,
    SCALES,
    WHOLE,
    Dimension,
    Measure,
    QuantityError,
    like,
    read_quantity,
    shown,
    within,
)
from nailplate.wire.limits import LARGEST, LONGEST_LINE

LENGTH_FACTOR: ContextVar[float | None] = ContextVar("length_factor", default=1.0)
"""What a bare number for a length is multiplied by: the plan's own unit. None where a length has its unit: in a calculation."""

UNITS_UNSAID: ContextVar[bool] = ContextVar("units_unsaid", default=False)
"""Whether what is read is a plan that states no unit of its bare numbers."""

DEFAULTED: ContextVar[Mapping[type[Facts], tuple[str, ...]]] = ContextVar("defaulted", default=MappingProxyType({}))
"""Of each kind the needed facts that the plan's defaults state: parts may leave them out."""

ID_PATTERN = "[A-Za-z0-9][A-Za-z0-9._:-]{0,63}"
ID = re.compile(ID_PATTERN, re.ASCII)
BARE_NUMBERS = frozenset({Dimension.LENGTH, Dimension.CURRENT, Dimension.VOLTAGE, Dimension.POWER})
"""Dimensions whose bare numbers can mean only one thing: lengths in the plan's unit, A, V and VA."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with one value. ``in_full`` adds the choices and the likely one; it is asked for the first of many only."""

    code: FaultCode
    detail: str
    in_full: Callable[[], str] | None = None


def refuse(code: FaultCode, detail: str, in_full: Callable[[], str] | None = None) -> ValidationError:
    """The error that a field raises."""
    return ValidationError([Problem(code, detail, in_full)])


def found(value: object) -> str:
    """A value as an error tells it, cut short."""
    names = {dict: "an object", list: "a list", bool: str(value).lower(), type(None): "null"}
    if type(value) in names:
        return names[type(value)]
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 44 else text[:40] + "…" + text[-1]


def meant(wrong: str, known: Iterable[str]) -> str:
    """``; did you mean "x"?`` or nothing."""
    names = list(known)
    by_trade = _OTHER_WORDS.get(wrong.lower(), ())
    close = [each for each in by_trade if each in names] or difflib.get_close_matches(wrong[:64], names, n=1, cutoff=_ALIKE)
    one_off = [each for each in names if len(each) == len(wrong) and sum(a != b for a, b in zip(each, wrong, strict=True)) == 1]
    return f"; did you mean {(close or one_off)[0]!r}?" if close or one_off else ""


_ALIKE = 0.8
"""How much alike two names are, of 1, for one to be a slip of the other; less alike, a suggestion only misleads."""
_OTHER_WORDS = {
    "amps": ("rating",), "light": ("luminaire",), "lights": ("devices",), "outlet": ("receptacle",), "outlets": ("devices",),
    "position": ("at",), "receptacles": ("devices",), "switches": ("devices",), "type": ("kind", "type"),
}  # fmt: skip
"""What callers write for a name of the plan, by the trade's other words for it."""


NEEDED = [Problem(FaultCode.MISSING_FIELD, "this must be stated")]
NO_NULL = [Problem(FaultCode.WRONG_TYPE, "null says nothing; leave out what is not known")]


class PlanField(fields.Field[Any], ABC):
    """A field of a plan: strict, never null. ``same_as`` is where the published schema describes it, if it does so elsewhere."""

    same_as: str | None = None
    default_error_messages = {"required": NEEDED, "null": NO_NULL}  # noqa: RUF012 - marshmallow's own way

    @abstractmethod
    def json_schema(self, refer: "Callable[[type[Schema]], dict[str, Any]]") -> dict[str, Any]:
        """What it takes, as JSON Schema 2020-12."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """Least and greatest value, in the canonical unit."""

    more_than: float | None = None
    at_least: float | None = None
    at_most: float | None = None

    @classmethod
    def of(cls, marks: Iterable[object]) -> "Bounds":
        """The bounds among the marks of an annotation."""
        listed = list(marks)[::-1]  # the outermost of a kind is the one meant
        return cls(
            *(next((mark.limit for mark in listed if isinstance(mark, kind)), None) for kind in (MoreThan, AtLeast, AtMost))
        )

    def check(self, value: float, say: Callable[[float], str], hint: str = "") -> None:
        """Raises where ``value`` is out of bounds; ``hint`` says what makes a value too great."""
        if self.more_than is not None and value <= self.more_than:
            raise refuse(FaultCode.BAD_VALUE, f"{say(value)} was found; more than {say(self.more_than)} was wanted")
        if self.at_least is not None and value < self.at_least:
            raise refuse(FaultCode.BAD_VALUE, f"{say(value)} was found; at least {say(self.at_least)} was wanted")
        if self.at_most is not None and (value > 2 * LARGEST or not within(value, self.at_most)):
            raise refuse(FaultCode.BAD_VALUE, f"{say(value)} was found; at most {say(self.at_most)} was wanted{hint}")

    def json_schema(self) -> dict[str, float]:
        """The bounds as JSON Schema says them."""
        said = {"exclusiveMinimum": self.more_than, "minimum": self.at_least, "maximum": self.at_most}
        return {key: value for key, value in said.items() if value is not None}


class Quantity(PlanField):
    """A number in the unit understood, or text with a unit."""

    def __init__(self, dimension: Dimension, bounds: Bounds, **more: Any) -> None:
        super().__init__(**more)
        self.dimension, self.bounds = dimension, bounds
        self._unit = CANONICAL[dimension]

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> float:
        return self.figure(value)

    def figure(self, value: Any) -> float:
        """The value in the canonical unit. Raises ValidationError."""
        number = self._read(value)
        self.bounds.check(
            number,
            lambda figure: shown(Measure(figure, self._unit)) if abs(figure) <= LARGEST else found(value),
            self._hint(value),
        )
        if abs(number) > LARGEST:
            raise refuse(FaultCode.BAD_VALUE, f"{found(value)} is no measure of a house")
        return number

    def _hint(self, value: Any) -> str:
        """Bare millimeters taken for inches are the usual reason why a length is too great."""
        bare = self.dimension is Dimension.LENGTH and type(value) is not str
        return UNITS_HINT if bare and UNITS_UNSAID.get() else ""

    def _read(self, value: Any) -> float:
        if type(value) is str:
            try:
                return read_quantity(value, self.dimension)
            except QuantityError as error:
                raise refuse(FaultCode.BAD_QUANTITY, f"{found(value)}: {error}") from None
        if type(value) not in (int, float):
            raise refuse(
                FaultCode.WRONG_TYPE,
                f"{found(value)} was found; a {self.dimension} like {EXAMPLES[self.dimension]!r} was wanted",
            )
        factor = self._factor()
        if factor is None:
            raise refuse(FaultCode.BAD_QUANTITY, f"{found(value)} has no unit; write it like {like(self.dimension)}")
        return float(value) * factor

    def _factor(self) -> float | None:
        """What a bare number is multiplied by; none where it would not tell its unit."""
        if self.dimension is Dimension.LENGTH:
            return LENGTH_FACTOR.get()
        return 1.0 if self.dimension in BARE_NUMBERS else None

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        units = [spelling for spelling, scale in SCALES.items() if scale.dimension is self.dimension]
        text = {
            "type": "string",
            "maxLength": LONGEST_TEXT,
            "pattern": quantity_pattern(self.dimension),
            "examples": [EXAMPLES[self.dimension]],
            "description": f"a number and a unit: {', '.join(units)}",
        }
        if self._factor() is None:
            return text
        unit = "the plan's units.length" if self.dimension is Dimension.LENGTH else self._unit.value
        number = {"type": "number", "description": f"in {unit}", **self.bounds.json_schema()}
        return {"anyOf": [number, text], "examples": text["examples"]}


_WHOLE = r"(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})"
_FIGURE = r"(?:(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})(?:[ -][0-9]{1,4}/[1-9][0-9]{0,3})?|[0-9]{1,4}/[1-9][0-9]{0,3})"
_SPELLED_POWERS = {"2": r"(?:(?:\*\*|\^)?2|²)", "3": r"(?:(?:\*\*|\^)?3|³)"}


def quantity_pattern(dimension: Dimension) -> str:
    """What a quantity looks like, as a pattern that also ECMA-262 reads. A few more than are read: ``7 ft 13 in``."""
    spellings = [spelling for spelling, scale in SCALES.items() if scale.dimension is dimension]
    units = "|".join(
        spelling[:-1] + _SPELLED_POWERS[spelling[-1]] if spelling[-1].isdigit() else spelling for spelling in spellings
    )
    plain = f"-?{_WHOLE if dimension in WHOLE else _FIGURE} ?(?:{units})"
    if dimension is not Dimension.LENGTH:
        return f"^{plain}$"
    feet = rf"-?[0-9]{{1,9}} ?(?:ft|foot|feet|'|′)(?: ?- ?| )?{_FIGURE} ?(?:in|inch|inches|\"|″)"
    return f"^(?:{plain}|{feet})$"


class Number(PlanField):
    """A plain number."""

    def __init__(self, bounds: Bounds, *, whole: bool, **more: Any) -> None:
        super().__init__(**more)
        self.bounds, self.whole = bounds, whole

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> float:
        if type(value) not in ((int,) if self.whole else (int, float)):
            wanted = "a whole number" if self.whole else "a number"
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; {wanted} was wanted")
        self.bounds.check(value, lambda figure: f"{figure:.12g}" if abs(figure) <= LARGEST else found(figure))
        if abs(value) > LARGEST:
            raise refuse(FaultCode.BAD_VALUE, f"{found(value)} is too large")
        number: float = value
        return number

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "integer" if self.whole else "number", **self.bounds.json_schema()}


class YesNo(PlanField):
    """true or false."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> bool:
        if type(value) is not bool:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; true or false was wanted")
        return value

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "boolean"}


LINE_END = re.compile("[\t\n\r\u2028\u2029]")


class Text(PlanField):
    """A text of one or more characters: a single line, unless it is a note, which may be longer."""

    def __init__(self, longest: int = LONGEST_LINE, **more: Any) -> None:
        super().__init__(**more)
        self.longest = longest

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> str:
        if type(value) is not str:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; text was wanted")
        if not 0 < len(value) <= self.longest:
            raise refuse(FaultCode.BAD_VALUE, f"this text has 1 to {self.longest} characters; {len(value)} were found")
        if self.longest == LONGEST_LINE and LINE_END.search(value):
            raise refuse(FaultCode.BAD_VALUE, f"{found(value)} has a tab or a line end in it; a single line was wanted")
        return value

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "string", "minLength": 1, "maxLength": self.longest}


class Day(Text):
    """A calendar date."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> str:
        text = super()._deserialize(value, attr, data, **more)
        try:
            if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
                raise ValueError(text)
            date.fromisoformat(text)
        except ValueError:
            raise refuse(FaultCode.BAD_VALUE, f"{found(value)} is no calendar date like '2026-03-01'") from None
        return text

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "string", "format": "date"}


_SPELLED: dict[type[StrEnum], dict[str, StrEnum]] = {
    Column: {
        text: column
        for column, celsius, fahrenheit in ((Column.C60, 60, 140), (Column.C75, 75, 167), (Column.C90, 90, 194))
        for text in (f"{celsius} degC", f"{fahrenheit} degF")
    }
}
"""Temperature ratings as quantities are written elsewhere in a plan."""


class Choice(PlanField):
    """One of a closed list of names."""

    def __init__(self, choices: Mapping[str, str], what: str, **more: Any) -> None:
        super().__init__(**more)
        self.choices, self.what = choices, what

    @classmethod
    def of(cls, choices: type[StrEnum], **more: Any) -> "Choice":
        """A choice among the members of an enum."""
        named = {member.value: member for member in choices}
        return cls({**named, **_SPELLED.get(choices, {})}, "choice", **more)

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> str:
        if type(value) is not str:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; a name like {next(iter(self.choices))!r} was wanted")
        chosen = self.choices.get(value)
        if chosen is None:
            raise refuse(
                FaultCode.BAD_CHOICE,
                f"{found(value)} is none of {', '.join(self.choices)}",
                lambda: f"{found(value)} is none of {', '.join(self.choices)}{meant(value, self.choices)}",
            )
        return chosen

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"enum": list(self.choices)}


class Id(PlanField):
    """The id of a part of one map; whether it exists is looked up when the whole plan is read."""

    def __init__(self, map_name: str, **more: Any) -> None:
        super().__init__(**more)
        self.map_name = map_name

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> str:
        if type(value) is not str:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; the id of one of the {self.map_name} was wanted")
        check_id(value)
        return value

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "string", "pattern": f"^{ID_PATTERN}$", "description": f"id of one of the {self.map_name}"}


def is_id(value: str) -> bool:
    """Whether a text can be the id of a part."""
    return ID.fullmatch(value) is not None


def check_id(value: str) -> None:
    """Raises where a text is no id."""
    if not is_id(value):
        raise refuse(
            FaultCode.BAD_ID,
            f"{found(value)} is no id; an id has 1 to 64 letters, digits or . _ : - and begins with a letter or digit",
        )


class Free(PlanField):
    """The caller's own data."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> dict[str, Any]:
        if type(value) is not dict:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; an object was wanted")
        free: dict[str, Any] = value
        return free

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "object"}
