"""The service over HTTP: takes bytes, checks their size and kind, and decides nothing else.

Start it with ``nailplate serve``, or with gunicorn and ``python:nailplate.web.gunicorn_settings``.
"""

from nailplate.web.app import create_app, openapi_text
from nailplate.web.serving import serve_command
from nailplate.web.settings import Settings, SettingsError, read_settings

__all__ = ["Settings", "SettingsError", "create_app", "openapi_text", "read_settings", "serve_command"]
