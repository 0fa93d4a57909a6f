"""What is made when first needed, made before anybody waits."""

from datetime import UTC, datetime
from importlib.resources import files
from typing import Final

from flask import Flask

from nailplate.codes import EDITIONS, edition
from nailplate.review import Options
from nailplate.web.checking import in_force
from nailplate.web.routes import view_of
from nailplate.wire import read_json, report_json, report_on

_PLAN: Final = "tamarack-wren.json"


def warm(app: Flask) -> None:
    """Imports every view, reads every edition and makes one check. Raises CodeTableError for tables that are not sound."""
    for rule in app.url_map.iter_rules():
        view_of(app, rule)
    for year in EDITIONS:
        edition(year)
    check_once(app)
    app.url_map.update()


def check_once(app: Flask) -> None:
    """Checks the smallest example house by the rules of ``app``.

    In a process just forked, the pages of memory that a check writes to become its own by it, before a caller waits for that.
    """
    with app.app_context():
        packs = in_force()
    plan = files("nailplate").joinpath("examples", _PLAN).read_bytes()
    report_json(report_on(read_json(plan), packs, Options(today=datetime.now(UTC).date().isoformat())))
