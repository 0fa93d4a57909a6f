"""What callers look up: rules, editions, units, schemas, problems, versions, example plans. It changes only with the service."""

from collections.abc import Sequence
from typing import Any

from flask import Response, request

from nailplate import __version__
from nailplate.codes import EDITIONS, nearest
from nailplate.render import rule_html, rule_page
from nailplate.web import contracts
from nailplate.web.answers import json_answer, kept, text_answer
from nailplate.web.catalogue import editions_value, rule_value, rules_value, units_value
from nailplate.web.checking import in_force
from nailplate.web.described import Parameter, described, refer
from nailplate.web.handedness import PICTURE
from nailplate.web.held import settings
from nailplate.web.negotiation import HTML, JSON, MARKDOWN, SVG, check_parameters, chosen, format_parameter
from nailplate.web.problems import BAD_PARAMETER, PROBLEM_TYPES, Problem, ProblemType, not_found
from nailplate.wire import read_plan_value

LIMITS = ("max_body", "max_findings", "max_batch", "max_records", "check_budget", "time_limit")
"""Settings that callers are told: bytes, findings, bytes, records, steps and seconds."""
SCHEMA = "application/schema+json"
_MOST_LISTED = 1000
_EDITION = {"edition": Parameter("only this edition of the NEC", tuple(EDITIONS))}
_FILTERS = {
    "family": Parameter("only this family of rules"),
    "severity": Parameter("only this severity", ("danger", "code", "advice")),
    "subject": Parameter("only rules about this subject"),
    "limit": Parameter("how many to give at most", most=_MOST_LISTED),
    "after": Parameter("go on behind the rule of this id"),
}
_TEXT = {"type": "string"}


def _years() -> Sequence[str]:
    wanted = request.args.get("edition")
    if wanted is None:
        return EDITIONS
    if wanted not in EDITIONS:
        raise Problem(BAD_PARAMETER, f"There is no edition {wanted[:40]!r}; known are {', '.join(EDITIONS)}.")
    return (wanted,)


@described(
    group="Reference",
    answer="The rules in force, by id.",
    gives={JSON: refer("Rules")},
    parameters={**_EDITION, **_FILTERS},
    problems=("bad-parameter", "not-acceptable"),
)
def list_rules() -> Response:
    """List the rules in force.

    With `edition`, only the rules that this edition of the NEC has, with their citations in it; `family`, `severity` and `subject`
    leave out the others. `limit` gives so many at most, and `after` goes on behind the rule of that id; `total` counts all that fit.
    """
    check_parameters("edition", *_FILTERS)
    chosen((JSON,))
    value = rules_value(in_force(), _years())
    fitting = [each for each in value["rules"] if _fits(each)]
    return kept(json_answer({**value, "rules": _page(fitting), "total": len(fitting)}))


def _fits(rule: dict[str, Any]) -> bool:
    wanted = request.args
    return (
        wanted.get("family", rule["family"]) == rule["family"]
        and wanted.get("severity", rule["severity"]) == rule["severity"]
        and ("subject" not in wanted or wanted["subject"] in rule["subjects"])
    )


def _page(rules: list[dict[str, Any]]) -> list[dict[str, Any]]:
    after = request.args.get("after")
    limit = request.args.get("limit", "")
    if "limit" in request.args and not (limit.isascii() and limit.isdigit() and 1 <= int(limit[:6]) <= _MOST_LISTED):
        raise Problem(BAD_PARAMETER, f"limit is a whole number from 1 to {_MOST_LISTED}.")
    rest = [each for each in rules if after is None or each["id"] > after]
    return rest[: int(limit)] if limit else rest


@described(
    group="Reference",
    answer="The rule: what it asks, why, how to fix it, its citations and cases.",
    gives={JSON: refer("Rule"), MARKDOWN: _TEXT, HTML: _TEXT},
    parameters={**_EDITION, "format": format_parameter((JSON, MARKDOWN, HTML))},
    problems=("bad-parameter", "not-found", "not-acceptable"),
)
def show_rule(rule_id: str) -> Response:
    """Explain one rule.

    Ids of a pack from elsewhere hold a slash, which is written as it is: `/v1/rules/acme/box-yokes`. The cases can be run by a
    client in any language: each holds the parts of a plan that matter and what is expected of the check.
    """
    check_parameters("edition", "format")
    media, years = chosen(), _years()
    rule = in_force().rules.get(rule_id)
    if rule is None:
        raise not_found("rule", rule_id, in_force().nearest_id(rule_id[:80]))
    match media:
        case "text/markdown":
            return kept(text_answer(rule_page(rule, years, in_force(), read_plan_value), MARKDOWN))
        case "text/html":
            return kept(text_answer(rule_html(rule, years, in_force(), read_plan_value), HTML))
        case _:
            return kept(json_answer(rule_value(rule, years)))


@described(group="Reference", answer="The editions, oldest first.", gives={JSON: refer("Editions")})
def list_editions() -> Response:
    """List the editions of the NEC, with their tables and how sure the text of each is."""
    check_parameters()
    return kept(json_answer(editions_value()))


@described(group="Reference", answer="The grammar, and every unit by dimension.", gives={JSON: refer("Units")})
def list_units() -> Response:
    """Tell how quantities are written."""
    check_parameters()
    return kept(json_answer(units_value()))


@described(group="Reference", answer="A picture.", gives={SVG: {"type": "string"}})
def show_handedness() -> Response:
    """Show which way x, y, left and right run in a plan."""
    check_parameters()
    return kept(text_answer(PICTURE, SVG))


@described(group="Reference", answer="The names.", gives={JSON: refer("Names")})
def list_schemas() -> Response:
    """List the JSON Schemas."""
    check_parameters()
    return kept(json_answer({"names": sorted(contracts.schemas())}))


@described(
    group="Reference", answer="The schema, JSON Schema 2020-12.", gives={SCHEMA: {"type": "object"}}, problems=("not-found",)
)
def show_schema(name: str) -> Response:
    """Give one JSON Schema."""
    check_parameters()
    known = contracts.schemas()
    if name not in known:
        raise not_found("schema", name, nearest(name[:80], known))
    return kept(json_answer(known[name], SCHEMA))


@described(group="Reference", answer="The names.", gives={JSON: refer("Names")})
def list_examples() -> Response:
    """List the example plans."""
    check_parameters()
    return kept(json_answer({"names": sorted(contracts.examples())}))


@described(group="Reference", answer="The plan.", gives={JSON: refer("Plan")}, problems=("not-found",))
def show_example(name: str) -> Response:
    """Give one example plan of a whole house."""
    check_parameters()
    known = contracts.examples()
    if name not in known:
        raise not_found("example", name, nearest(name[:80], known))
    return kept(text_answer(known[name], JSON))


@described(group="Reference", answer="The problem types.", gives={JSON: refer("ProblemTypes")})
def list_problems() -> Response:
    """List the kinds of error."""
    check_parameters()
    return kept(json_answer({"problems": [_problem_value(kind) for kind in PROBLEM_TYPES.values()]}))


@described(group="Reference", answer="What it means.", gives={JSON: refer("ProblemKind")}, problems=("not-found",))
def show_problem(name: str) -> Response:
    """Tell what one kind of error means; the `type` of every problem is the address of this."""
    check_parameters()
    if name not in PROBLEM_TYPES:
        raise not_found("problem type", name, nearest(name[:80], PROBLEM_TYPES))
    return kept(json_answer(_problem_value(PROBLEM_TYPES[name])))


def _problem_value(kind: ProblemType) -> dict[str, object]:
    return {"type": kind.uri, "status": int(kind.status), "title": kind.title, "meaning": kind.meaning}


@described(group="Reference", answer="Versions, rule packs and limits.", gives={JSON: refer("Version")})
def show_version() -> Response:
    """Tell the versions and limits in force."""
    check_parameters()
    chosen_by_operator = settings()
    limits = {name: getattr(chosen_by_operator, name) for name in LIMITS}
    packs = [{"name": pack.name, "version": pack.version, "rules": len(pack.rules)} for pack in in_force().packs]
    return kept(json_answer({"version": __version__, "packs": packs, "editions": list(EDITIONS), "limits": limits}))
