"""Lengths in the words of a finding as a metric plan's author measures them, with feet and inches beside what may be the code's.

Rules write lengths in one form, that of ``units.shown``. Here each is found again in a message and told in the plan's unit; a figure
that the rule measured on the plan stands alone, any other keeps its feet and inches, since it may be a limit of the code.
A test holds over all cases of all rules that exactly the lengths are found, and no other words.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from nailplate.plan import Facts
from nailplate.plan.words import LengthUnit
from nailplate.review.report import Finding
from nailplate.survey import Survey
from nailplate.units import Measure, Unit, inches, shown, shown_in

METRIC: Final = frozenset({LengthUnit.MM, LengthUnit.CM, LengthUnit.M})

NOTHING_STATED: Final[Mapping[str, float]] = MappingProxyType({})
_WHOLE = r"(?:[0-9]+(?:\.[0-9]+)?)"
_PART = r"(?:[0-9]+/[0-9]+)"
_INCHES = rf"(?P<inches>{_WHOLE}(?:[ -]{_PART})?|{_PART}) in"
_AS_PREPOSITION = (
    r"(?! (?:the|a|an|this|that|it|its|one|each|all|any|every|either|both|series|parallel|which|there|use|place)\b)"
)
LENGTH: Final = re.compile(
    rf"(?<![\w./-])(?P<minus>-?)(?:(?P<feet>[0-9]+) ft(?: {_INCHES.replace('inches', 'left')})?|{_INCHES}{_AS_PREPOSITION})(?![\w²³/])"
)
"""A length as ``shown`` writes it, and as words of the code are written: ``7 ft 6 1/2 in``, ``1-1/4 in``."""
_QUOTED = re.compile(r"(?<!\w)'[^']*'(?!\w)")


def as_measured(finding: Finding, survey: Survey) -> Finding:
    """A finding in the words of a plan with a metric unit of length; of any other plan the finding itself."""
    plan = survey.plan
    unit = plan.units.length if plan.knows("units") and plan.units.knows("length") else None
    if unit not in METRIC:
        return finding
    measured, stated = finding.measured, survey.once(_stated)
    return replace(
        finding,
        message=in_own_unit(finding.message, unit, measured, stated),
        readings=tuple(replace(each, words=in_own_unit(each.words, unit, measured, stated)) for each in finding.readings),
        remedies=tuple(replace(each, words=in_own_unit(each.words, unit, None, stated)) for each in finding.remedies),
        figures_shown=_figures(measured, finding.limit, unit),
    )


def _figures(measured: Measure | None, limit: Measure | None, unit: LengthUnit) -> str | None:
    if measured is None or limit is None or Unit.INCH not in (measured.unit, limit.unit):
        return None
    beside = f" ({shown(limit)})" if limit.unit is Unit.INCH else ""
    return f"measured {shown_in(measured, unit)}, limit {shown_in(limit, unit)}{beside}"


def _stated(survey: Survey) -> Mapping[str, float]:
    """What the plan states, by how it is shown in feet and inches: an author finds the own figure again, not its sixteenths."""
    found: dict[str, set[float]] = {}
    for part in survey.plan.parts():
        for value in _numbers(part):
            found.setdefault(shown(inches(value)), set()).add(round(value, 6))
    return {text: values.pop() for text, values in found.items() if len(values) == 1}


def _numbers(value: object) -> Iterator[float]:
    if isinstance(value, Facts):
        for name in value.stated:
            yield from _numbers(getattr(value, name))
    elif isinstance(value, tuple):
        for each in value:
            yield from _numbers(each)
    elif isinstance(value, float):
        yield value


def in_own_unit(
    words: str, unit: LengthUnit | None, measured: Measure | None = None, stated: Mapping[str, float] = NOTHING_STATED
) -> str:
    """The words with lengths in a metric plan's unit. What an author named, between quotes, stays as it is.

    ``stated`` gives the figure behind a length that the plan states; others come from sixteenths of an inch.
    """
    if unit not in METRIC:
        return words
    alone = shown(measured) if measured is not None and measured.unit is Unit.INCH else None
    kept, told = 0, []
    for quoted in _QUOTED.finditer(words):
        told += [_rewritten(words[kept : quoted.start()], unit, measured, alone, stated), quoted.group()]
        kept = quoted.end()
    return "".join((*told, _rewritten(words[kept:], unit, measured, alone, stated)))


def lengths_in(words: str) -> Iterator[str]:
    """Every length that stands in words, what is quoted left out."""
    yield from (match.group() for match in LENGTH.finditer(_QUOTED.sub("''", words)))


def _rewritten(
    words: str, unit: LengthUnit | None, measured: Measure | None, alone: str | None, stated: Mapping[str, float]
) -> str:
    def told(match: re.Match[str]) -> str:
        if unit is None:
            return match.group()
        if match.group() == alone and measured is not None:
            return shown_in(measured, unit)
        value = stated.get(match.group(), _value(match))
        return f"{shown_in(inches(value), unit)} ({match.group()})"

    return LENGTH.sub(told, words)


def _value(match: re.Match[str]) -> float:
    feet = int(match.group("feet") or 0)
    text = match.group("left") or match.group("inches") or "0"
    value = 12 * feet + sum(Fraction(each) for each in re.split("[ -]", text))
    return float(-value if match.group("minus") else value)
