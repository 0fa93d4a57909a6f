"""What is in force, as values: rules, editions of the code, units."""

from collections.abc import Iterator, Sequence
from typing import Any

from nailplate.catalog import Catalog
from nailplate.codes import EDITIONS, Edition, Limit, Provision, edition
from nailplate.codes.editions import table_types
from nailplate.plan import MAP_NAMES, Part
from nailplate.rulekit import Cite, Rule
from nailplate.survey.handedness import HANDEDNESS
from nailplate.units import CANONICAL, EXAMPLES, LONGEST_TEXT, SCALES

GRAMMAR = (
    f"A quantity is text of at most {LONGEST_TEXT} ASCII characters (the signs ′ ″ ° ² ³ are taken too): a number, a space or none, "
    "and one unit of the list for its dimension. A number is a decimal, a fraction or a whole number and a fraction: 7, 7.5, 1/2, "
    "3 1/2, 3-1/2. Feet and inches may stand together, the inches under 12: 7 ft 6 in, 7'-6\". There is no exponent, no comma "
    "and no arithmetic. A wire size (14 AWG) and a trade size (4 x 1-1/2 round) are names, not quantities."
)
_BARE = {
    "length": "the plan's units.length, inches unless it says otherwise",
    "current": "amperes",
    "voltage": "volts",
    "power": "volt-amperes",
}


def rules_value(catalog: Catalog, years: Sequence[str]) -> dict[str, Any]:
    """The rules that any of the editions has."""
    return {
        "rules": [_rule_head(rule, years) for rule in catalog.rules.values() if any(rule.is_in(int(year)) for year in years)]
    }


def rule_value(rule: Rule, years: Sequence[str]) -> dict[str, Any]:
    """All that a rule says of itself, with the cases shown for the editions requested and what every edition changed."""
    wanted = {f"nec-{year}" for year in years}
    cases = [case.value() for case in rule.cases if case.shown and wanted.intersection(case.editions)]
    changes = [
        {"edition": key.partition("-")[2], "document": key.partition("-")[0].upper(), "what": what}
        for key, what in sorted(rule.changes.items())
    ]
    value = {
        **_rule_head(rule, years),
        "why": rule.why,
        "fix": rule.fix,
        "changes": changes,
        "limits": [{"edition": year, **_limit(name, edition(year))} for name in rule.limits for year in years],
        "provisions": [{"edition": year, **_provision(name, edition(year))} for name in rule.provisions for year in years],
        "cases": cases,
    }
    further = {"trap": rule.trap, "does_not_judge": rule.does_not_judge}
    return {**value, **{name: text for name, text in further.items() if text}}


def _rule_head(rule: Rule, years: Sequence[str]) -> dict[str, Any]:
    return {
        "id": rule.id,
        "title": rule.title,
        "severity": rule.severity.value,
        "family": rule.family,
        "subjects": [subject.value for subject in rule.subjects],
        "judges": _judged(rule),
        "needs": list(rule.needs),
        "dwelling_only": rule.dwelling_only,
        "hazards": [{"name": hazard.value, "caution": hazard.caution} for hazard in rule.hazards],
        "citations": [*_nec(rule, years), *_irc(rule)],
    }


def _judged(rule: Rule) -> str:
    """The maps of a plan whose parts it judges; a rule over the whole plan judges ``plan``."""
    return ", ".join(MAP_NAMES[kind] if issubclass(kind, Part) else "plan" for kind in rule.over)


def _nec(rule: Rule, years: Sequence[str]) -> Iterator[dict[str, Any]]:
    for year in years:
        cite = rule.cite(int(year))
        if cite:
            yield _citation("NEC", int(year), cite)


def _irc(rule: Rule) -> Iterator[dict[str, Any]]:
    """Each edition of the residential code from which on another section is cited."""
    for key, cite in sorted(rule.cites.items()):
        if key.startswith("irc-") and cite:
            yield _citation("IRC", int(key.removeprefix("irc-")), cite)


def _citation(document: str, year: int, cite: Cite) -> dict[str, Any]:
    value = {"document": document, "edition": str(year), "section": cite.section, "text_status": cite.status(year).value}
    return {**value, "source": cite.note} if cite.note else value


def editions_value() -> dict[str, Any]:
    """The code editions, each with its tables and how sure their text is."""
    return {"editions": [_edition(year) for year in EDITIONS]}


def _edition(year: str) -> dict[str, Any]:
    one = edition(year)
    tables = [(name, getattr(one, name)) for name in table_types()]
    value = {
        "edition": year,
        "id": one.id,
        "tables": [
            {"name": name, "section": table.cite, "text_status": table.text_status.value, "source": table.source}
            for name, table in tables
        ],
        "limits": [_limit(name, one) for name in one.limits.entries],
        "provisions": [_provision(name, one) for name in one.provisions.entries],
    }
    return {**value, "based_on": one.based_on} if one.based_on else value


def _limit(name: str, one: Edition) -> dict[str, Any]:
    """A figure of a sentence, for people and, where it is a number, as a number."""
    entry = one.limits.entries[name]
    value = {"name": name, "what": entry.what, "figure": entry.shown, **_text_of(entry)}
    return {**value, "value": entry.value, "unit": entry.unit.value} if entry.value is not None and entry.unit else value


def _provision(name: str, one: Edition) -> dict[str, Any]:
    entry = one.provisions.entries[name]
    return {"name": name, "what": entry.what, "holds": entry.holds, **_text_of(entry)}


def _text_of(entry: Limit | Provision) -> dict[str, Any]:
    value = {"section": entry.section, "text_status": entry.text_status.value}
    return {**value, "source": entry.source} if entry.source else value


def units_value() -> dict[str, Any]:
    """How quantities are written."""
    return {
        "grammar": GRAMMAR,
        "directions": {"said": HANDEDNESS, "picture": "/v1/units/handedness"},
        "dimensions": [
            {
                "name": dimension.value,
                "canonical": unit.value,
                "spellings": [spelling for spelling, scale in SCALES.items() if scale.dimension is dimension],
                "example": EXAMPLES[dimension],
                "bare_number": _BARE.get(dimension.value, "refused: write the unit"),
            }
            for dimension, unit in CANONICAL.items()
        ],
    }
