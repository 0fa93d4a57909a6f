"""How gunicorn runs the service: ``gunicorn --config python:nailplate.web.gunicorn_settings``. The one source of these settings.

One worker per core, each with threads: idle and slow connections wait without holding anybody up, connections are kept alive, and
one thread of a worker computes at a time, within ``time_limit``. A worker whose main loop hangs is replaced after ``timeout``.
"""

import gc
import os
import tempfile
from pathlib import Path
from typing import Any

from gunicorn.config import KNOWN_SETTINGS

from nailplate import collector
from nailplate.web.settings import SettingsError, bind_address, check_binding, read_settings

collector.collect_seldom()
try:
    _settings = read_settings(os.environ)
except SettingsError as error:
    raise SystemExit(f"nailplate: {error}") from None

wsgi_app = "nailplate.web:create_app()"
bind = bind_address(_settings.host, _settings.port)
workers = _settings.worker_count
worker_class = "nailplate.web.worker.Worker"
threads = _settings.threads
keepalive = 15
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


if _settings.metrics:
    from nailplate.web.metrics import FOLDER

    os.environ.setdefault(FOLDER, tempfile.mkdtemp(prefix="nailplate-metrics-"))


def child_exit(server: Any, worker: Any) -> None:
    """Gauges of a worker that has gone are counted no more."""
    if _settings.metrics:
        from prometheus_client import multiprocess

        multiprocess.mark_process_dead(worker.pid)  # type: ignore[no-untyped-call]


def when_ready(server: Any) -> None:
    """One check before the workers fork: what it makes on its way is theirs in common, and no caller waits for it."""
    from nailplate.web.warming import warm

    warm(server.app.wsgi())
    gc.collect()
    collector.keep_for_good()


def post_worker_init(worker: Any) -> None:
    """One more in each worker, so that its first caller waits no longer than the next."""
    from nailplate.web.warming import check_once

    check_once(worker.wsgi)


def on_starting(server: Any) -> None:
    """Refuses an address that others can reach without tokens, wherever the address was given."""
    for address in server.cfg.address:
        if isinstance(address, tuple):
            try:
                check_binding(address[0], _settings)
            except SettingsError as error:
                raise SystemExit(f"nailplate: {error}") from None
