"""One figure without a plan: each module declares the body, the answer and an example; they are walked like rules."""

import importlib
import pkgutil
from collections.abc import Iterator, Mapping

from nailplate.calculations.asked import Calculation, Request, measure_value

__all__ = ["CALCULATIONS", "Calculation", "Request", "measure_value"]


def _declared() -> Iterator[Calculation]:
    for module in pkgutil.iter_modules(__path__, f"{__name__}."):
        yield from (each for each in vars(importlib.import_module(module.name)).values() if isinstance(each, Calculation))


CALCULATIONS: Mapping[str, Calculation] = {each.name: each for each in sorted(_declared(), key=lambda each: each.name)}
"""Name to calculation, in the order of their names."""
