"""What an application holds: its settings, and what is made when first needed and then kept, the same for every request."""

from collections.abc import Callable
from threading import RLock
from typing import TypeVar

from flask import current_app

from nailplate.web.settings import Settings

Made = TypeVar("Made")

_MAKING = RLock()
"""One thread makes what others wait for; what is being made may ask for something else."""


def settings() -> Settings:
    """The settings in force."""
    held: Settings = current_app.extensions["nailplate.settings"]
    return held


def once(name: str, make: Callable[[], Made]) -> Made:
    """What ``make`` gives, made the first time that this application needs ``name``."""
    held = current_app.extensions
    if name not in held:
        with _MAKING:
            if name not in held:
                held[name] = make()
    kept: Made = held[name]
    return kept
