"""The application factory."""

import os

from flask import Flask

from nailplate.web import coding, origins
from nailplate.web.access import guard, read_tokens
from nailplate.web.problems import answer_problems
from nailplate.web.routes import route
from nailplate.web.settings import Settings, read_settings
from nailplate.web.traffic import watch


def create_app(settings: Settings | None = None) -> Flask:
    """The service. Raises SettingsError, and PackError for a rule pack that is named and not installed, or not sound.

    Our own rules and what else a request needs are read when first needed; ``warming.warm`` has them read before workers fork.
    """
    chosen = settings or read_settings(os.environ)
    app = Flask("nailplate.web", static_folder=None)
    app.url_map.merge_slashes = False  # a redirect would lose the body of a POST
    app.extensions["nailplate.settings"] = chosen
    answer_problems(app)
    coding.deflate_answers(app)
    origins.allow(app, chosen.origins)
    if chosen.metrics:
        from nailplate.web import metrics

        metrics.measure(app)
    watch(app)
    if chosen.tokens:
        guard(app, read_tokens(chosen.tokens))
    route(app)
    if chosen.packs:
        from nailplate.web.checking import in_force

        with app.app_context():
            in_force()
    return app


def openapi_text() -> str:
    """The API description as it is published: of the service with our own rule pack."""
    from nailplate.web import description

    with create_app(Settings()).app_context():
        return description.text()
