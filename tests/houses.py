"""The example houses with every fact in its part, as tests read and change them: the files state many facts once, as defaults.

A planted fault is a patch on the file as it stands; take ``as_written`` for it, and ``whole`` what comes of it.
"""

import copy
import json
from functools import cache
from importlib.resources import files
from typing import Any

from nailplate.survey import Survey
from nailplate.survey.rough_in import runs
from nailplate.wire import read_plan_value, resolved

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
    """The same plan with its defaults written into its parts, and the walls of its cables' stretches. Defaults of segments stay where
    routes are worked out."""
    value = {key: part for key, part in resolved(plan).items() if key != "derived"}
    for run in runs(Survey(read_plan_value(value))):
        if run.wall is not None:
            value["cables"][run.cable.id]["route"][run.place].setdefault("wall", run.wall.id)
    return value
