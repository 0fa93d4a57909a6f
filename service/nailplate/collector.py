"""How the garbage collector runs in a process that is ours: seldom, and never over what stays for good.

A check leaves nothing in cycles, so that looking for them finds next to nothing; with Python's own settings it looks thousands of
times a second, and walks over every rule and table each time. Who embeds the package keeps what settings he has: only the command
line and the service call this.
"""

import gc
from typing import Final

THRESHOLDS: Final = (50_000, 20, 50)
"""Objects more than before until the young are looked at, and how many such rounds until those that lived through one, or two."""


def collect_seldom() -> None:
    """Sets the thresholds; before the imports, which make objects by the ten thousand."""
    gc.set_threshold(*THRESHOLDS)


def keep_for_good() -> None:
    """Has the collector pass over what is there now: modules, rules, tables.

    Called after the last of them is made: just before a fork, or first in the forked process. Pages of memory that no collector
    writes to stay shared.
    """
    gc.freeze()
