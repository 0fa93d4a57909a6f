"""Our own rule pack: one requirement, one file; its cases beside it."""

from functools import cache

from nailplate import __version__
from nailplate.rulekit import RulePack


@cache
def pack() -> RulePack:
    """The pack named ``nailplate``."""
    return RulePack.from_package("nailplate", __name__, __version__)
