"""How gunicorn runs the service: ``gunicorn --config python:nailplate.web.gunicorn_settings``. The one source of these settings.

Sync workers, one per core: a judgement is computation, so threads would only take turns, and a sync worker that hangs is
replaced after ``timeout``. A slow client holds a worker; put a buffering proxy in front where clients are not trusted.
"""

import os
from pathlib import Path
from typing import Any

from gunicorn.config import KNOWN_SETTINGS

from nailplate.web.settings import SettingsError, bind_address, check_binding, read_settings

try:
    _settings = read_settings(os.environ)
except SettingsError as error:
    raise SystemExit(f"nailplate: {error}") from None

wsgi_app = "nailplate.web:create_app()"
bind = bind_address(_settings.host, _settings.port)
workers = _settings.worker_count
worker_class = "sync"
preload_app = True
timeout = 30
graceful_timeout = 25
max_requests = 2000
max_requests_jitter = 200
limit_request_line = 4094
limit_request_fields = 100
# The heartbeat file of a worker must not wait for a disk.
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108 - gunicorn makes its own private file there
if any(setting.name == "control_socket_disable" for setting in KNOWN_SETTINGS):
    control_socket_disable = True


def on_starting(server: Any) -> None:
    """Refuses an address that others can reach without tokens, wherever the address was given."""
    for address in server.cfg.address:
        if isinstance(address, tuple):
            try:
                check_binding(address[0], _settings)
            except SettingsError as error:
                raise SystemExit(f"nailplate: {error}") from None
