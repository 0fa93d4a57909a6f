"""The example houses with every fact in its part, as tests read and change them: the files state many facts once, as defaults.

A planted fault is a patch on the file as it stands; take ``as_written`` for it, and ``whole`` what comes of it.
"""

import copy
import json
from functools import cache
from importlib.resources import files
from typing import Any

from nailplate.wire import resolved

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


def as_written(name: str) -> Any:
    """A JSON file of the examples."""
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def house(name: str) -> Any:
    """An example house, whole."""
    return copy.deepcopy(_house(name))


@cache
def _house(name: str) -> Any:
    return whole(as_written(name))


def whole(plan: Any) -> Any:
    """The same plan with its defaults written into its parts. Those of segments stay where routes are worked out."""
    return {key: value for key, value in resolved(plan).items() if key != "derived"}
