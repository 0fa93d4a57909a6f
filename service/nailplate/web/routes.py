"""Every address of the service, and the view that answers it. A view's module is imported when it is first called.

So the service starts without what no one has needed yet; ``warming`` reads all before the workers fork.
"""

from functools import cached_property
from importlib import import_module
from typing import Any, Final

from flask import Flask
from flask.typing import ResponseReturnValue
from werkzeug.routing import Rule

from nailplate.web.described import Viewed

ROUTES: Final = (
    ("GET", "/", "home.home"),
    ("POST", "/v1/checks", "checking.check_plan"),
    ("POST", "/v1/plan-lints", "checking.lint_plan"),
    ("POST", "/v1/batch-checks", "batching.check_batch"),
    ("POST", "/v1/fix-previews", "fixing.preview_fixes"),
    ("GET", "/v1/sheets", "sheets.list_sheets"),
    ("POST", "/v1/sheets/<name>", "sheets.make_sheet"),
    ("POST", "/v1/comparisons", "comparing.compare_plans"),
    ("POST", "/v1/resolved-plans", "resolving.resolve_plan"),
    ("GET", "/v1/calculations", "calculating.list_calculations"),
    ("POST", "/v1/calculations/<name>", "calculating.work_out"),
    ("GET", "/v1/rules", "reference.list_rules"),
    ("GET", "/v1/rules/<path:rule_id>", "reference.show_rule"),
    ("GET", "/v1/editions", "reference.list_editions"),
    ("GET", "/v1/units", "reference.list_units"),
    ("GET", "/v1/units/handedness", "reference.show_handedness"),
    ("GET", "/v1/schemas", "reference.list_schemas"),
    ("GET", "/v1/schemas/<name>", "reference.show_schema"),
    ("GET", "/v1/examples", "reference.list_examples"),
    ("GET", "/v1/examples/<name>", "reference.show_example"),
    ("GET", "/v1/problems", "reference.list_problems"),
    ("GET", "/v1/problems/<name>", "reference.show_problem"),
    ("GET", "/v1/version", "reference.show_version"),
    ("GET", "/openapi.json", "description.show_description"),
    ("GET", "/docs", "docs.show_docs"),
    ("GET", "/docs/plan", "docs.show_plan_docs"),
    ("GET", "/healthz", "health.healthz"),
    ("GET", "/readyz", "health.readyz"),
    ("GET", "/metrics", "metrics.show_metrics"),
)
"""Method, address, and the view as ``module.function`` of this package; in the order of the API description."""


class View:
    """A view by its name."""

    def __init__(self, name: str) -> None:
        self._name = name

    @cached_property
    def function(self) -> Viewed:
        """The function, its module imported."""
        room, _, name = self._name.partition(".")
        found: Viewed = getattr(import_module(f"{__package__}.{room}"), name)
        return found

    def __call__(self, **arguments: str) -> ResponseReturnValue:
        """The answer to a request."""
        return self.function(**arguments)


def route(app: Flask) -> None:
    """Gives ``app`` its addresses."""
    for method, address, name in ROUTES:
        app.add_url_rule(address, name, View(name), methods=[method])


def view_of(app: Flask, rule: Rule) -> Viewed:
    """The function that answers an address of ``app``."""
    view: Any = app.view_functions[rule.endpoint]
    return view.function if isinstance(view, View) else view
