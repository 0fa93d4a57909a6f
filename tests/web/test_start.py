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


BARE = """
import sys
from nailplate.web import create_app
create_app()
print(*sorted(each for each in sys.modules if each.startswith("nailplate.") and each.count(".") == 1))
"""


def test_an_application_is_made_without_rules_or_tables() -> None:
    assert said_by(BARE) == ["nailplate.calc", "nailplate.web"]


UNSOUND = """
from nailplate.rulekit import PackError
from nailplate.web import Settings, create_app
try:
    create_app(Settings(packs=("acme",)))
except PackError as error:
    print("refused")
"""


def test_a_pack_that_is_not_there_stops_the_start() -> None:
    assert said_by(UNSOUND) == ["refused"]


def test_warm_is_every_view_imported() -> None:
    app = create_app()
    warm(app)
    assert all("function" in vars(view) for name, view in app.view_functions.items() if name != "static")
    assert "nailplate.catalog" in app.extensions
