"""What is made when first asked for, asked for before anybody waits."""

from datetime import UTC, datetime
from importlib.resources import files
from typing import Final

from flask import Flask

from nailplate.catalog import Catalog
from nailplate.review import Options
from nailplate.wire import read_json, report_json, report_on

_PLAN: Final = "tamarack-wren.json"


def warm(app: Flask) -> None:
    """Checks the smallest example house once by the rules of ``app``; its first caller then waits no longer than the next."""
    packs: Catalog = app.extensions["nailplate.catalog"]
    plan = files("nailplate").joinpath("examples", _PLAN).read_bytes()
    report_json(report_on(read_json(plan), packs, Options(today=datetime.now(UTC).date().isoformat())))
    app.url_map.update()
