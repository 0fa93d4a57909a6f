"""The API description and the contract of a plan as pages to read: no script, no outside host."""

import json
from typing import Any

from flask import Blueprint, Flask, Response, current_app, render_template

from nailplate.web import contracts
from nailplate.web.answers import kept, text_answer
from nailplate.web.described import described
from nailplate.web.negotiation import HTML, check_parameters

routes = Blueprint("docs", __name__, template_folder="templates")


@routes.get("/docs")
@described(group="Reference", answer="The page.", gives={HTML: {"type": "string"}})
def show_docs() -> Response:
    """Show the API description as a page."""
    check_parameters()
    return kept(text_answer(current_app.extensions["nailplate.docs"], HTML))


@routes.get("/docs/plan")
@described(group="Reference", answer="The page.", gives={HTML: {"type": "string"}})
def show_plan_docs() -> Response:
    """Show what a plan may say, field by field, as a page."""
    check_parameters()
    return kept(text_answer(current_app.extensions["nailplate.docs.plan"], HTML))


def prepare(app: Flask) -> None:
    """Makes the pages once, before the service serves."""
    description = json.loads(app.extensions["nailplate.description"])
    with app.app_context():
        app.extensions["nailplate.docs"] = render_template("docs.html", api=description, named=_named, text=_text)
        app.extensions["nailplate.docs.plan"] = _plan_page()


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
