"""The API description and the contract of a plan as pages to read: no script, no outside host."""

import json
from typing import Any

from flask import Response, render_template

from nailplate.web import contracts, description
from nailplate.web.answers import kept, text_answer
from nailplate.web.described import described
from nailplate.web.held import once
from nailplate.web.negotiation import HTML, check_parameters


@described(group="Reference", answer="The page.", gives={HTML: {"type": "string"}})
def show_docs() -> Response:
    """Show the API description as a page."""
    check_parameters()
    return kept(text_answer(once("nailplate.docs", _page), HTML))


@described(group="Reference", answer="The page.", gives={HTML: {"type": "string"}})
def show_plan_docs() -> Response:
    """Show what a plan may say, field by field, as a page."""
    check_parameters()
    return kept(text_answer(once("nailplate.docs.plan", _plan_page), HTML))


def _page() -> str:
    return render_template("docs.html", api=json.loads(description.text()), named=_named, text=_text)


_PLAN = "plan-1"


def _plan_page() -> str:
    """The contract out of its published schema; defaults are facts of the same kinds and are not told twice."""
    schema = contracts.schemas()[_PLAN]
    kinds = {"Plan": schema, **{name: each for name, each in schema["$defs"].items() if not name.endswith("Defaults")}}
    told = [(name, each) for name, each in kinds.items() if "properties" in each]
    return render_template("plan.html", schema=schema, name=_PLAN, kinds=told, named=_named, text=_text)


def _named(reference: str) -> str:
    """The component that a reference leads to, or whose field."""
    return reference.partition("/properties/")[0].rpartition("/")[2]


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, indent=2)
