"""How much a document may hold: every cap of the reader in one place. The size of a body is the web's to cap."""

from typing import Final

DEEPEST: Final = 64
"""Objects and lists within each other."""
MOST_DIGITS: Final = 30
"""Digits of a number, point and exponent left out; no measure of a house needs more."""
LARGEST_WHOLE: Final = 2**53
"""The largest whole number that every JSON reader gives back unchanged (RFC 7493, 2.2)."""
LARGEST: Final = 1e7
"""No figure of a small house is larger in any canonical unit."""
LONGEST_LINE: Final = 200
"""Characters of a name, label or other single line."""
LONGEST_NOTE: Final = 2000
"""Characters of a reason or description."""
LONGEST_POINTER: Final = 500
"""Characters of a JSON Pointer into the plan."""
MOST_PARTS: Final = 25_000
"""Parts of a plan, all maps together."""
MOST_EXPLAINED: Final = 100
"""Faults told with the choices there are and the one that was probably meant; looking for it in every one of very many takes long."""
MOST_SUGGESTIONS: Final = 20
"""References to nothing for which the id that was probably meant is looked for."""
MOST_CANDIDATES: Final = 500
"""Ids of one map among which it is looked for."""
