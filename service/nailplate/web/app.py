"""The application factory."""

import os

from flask import Flask

from nailplate.catalog import catalog
from nailplate.web import (
    batching,
    calculating,
    checking,
    coding,
    comparing,
    description,
    docs,
    fixing,
    health,
    home,
    metrics,
    origins,
    reference,
    resolving,
    sheets,
)
from nailplate.web.access import guard, read_tokens
from nailplate.web.problems import answer_problems
from nailplate.web.settings import Settings, read_settings
from nailplate.web.traffic import watch


def create_app(settings: Settings | None = None) -> Flask:
    """The service. Everything it needs is built here, before workers fork. Raises SettingsError and PackError."""
    chosen = settings or read_settings(os.environ)
    app = Flask("nailplate.web", static_folder=None)
    app.url_map.merge_slashes = False  # a redirect would lose the body of a POST
    app.extensions["nailplate.settings"] = chosen
    app.extensions["nailplate.catalog"] = catalog(chosen.packs)
    answer_problems(app)
    coding.deflate_answers(app)
    origins.allow(app, chosen.origins)
    if chosen.metrics:
        metrics.measure(app)
    watch(app)
    if chosen.tokens:
        guard(app, read_tokens(chosen.tokens))
    for room in (
        home,
        checking,
        batching,
        fixing,
        sheets,
        comparing,
        resolving,
        calculating,
        reference,
        description,
        docs,
        health,
        metrics,
    ):
        app.register_blueprint(room.routes)
    description.prepare(app)
    docs.prepare(app)
    return app


def openapi_text() -> str:
    """The API description as it is published: of the service with our own rule pack."""
    text: str = create_app(Settings()).extensions["nailplate.description"]
    return text
