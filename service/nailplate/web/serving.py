"""The command that serves."""

import os
import sys

from nailplate.web.settings import bind_address, check_binding, read_settings


def serve_command(host: str | None = None, port: int | None = None, workers: int | None = None) -> list[str]:
    """The command that runs the service with gunicorn; what is not given comes from the environment. Raises SettingsError."""
    settings = read_settings(os.environ)
    check_binding(host or settings.host, settings)
    bind = bind_address(host or settings.host, settings.port if port is None else port)
    config = ["--config", "python:nailplate.web.gunicorn_settings"]
    return [sys.executable, "-m", "gunicorn", *config, "--bind", bind, "--workers", str(workers or settings.worker_count)]
