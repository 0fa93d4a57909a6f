"""How the service starts: warm before its workers fork, and with a collector that leaves alone what stays for good."""

import gc
import subprocess
import sys

from nailplate import collector
from nailplate.web import create_app
from nailplate.web.warming import warm
from web.served import environment


def said_by(program: str) -> list[str]:
    """What a fresh process prints."""
    done = subprocess.run([sys.executable, "-c", program], env=environment({}), capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


READY = """
import gc
from types import SimpleNamespace
from nailplate.web import create_app, gunicorn_settings
app = create_app()
before = gc.get_freeze_count()
gunicorn_settings.when_ready(SimpleNamespace(app=SimpleNamespace(wsgi=lambda: app)))
print(before, gc.get_freeze_count() > 10_000, *gc.get_threshold())
"""


def test_before_the_fork_the_collector_is_told_what_stays() -> None:
    assert said_by(READY) == ["0", "True", *(str(each) for each in collector.THRESHOLDS)]


def test_an_application_of_somebody_else_keeps_its_own_collector() -> None:
    before = gc.get_threshold(), gc.get_freeze_count()
    warm(create_app())
    assert (gc.get_threshold(), gc.get_freeze_count()) == before
