"""Sheets to build from: the load summary, and what else the same plan and the same survey yield beside findings."""

from nailplate.sheets.load_summary import loads_of
from nailplate.sheets.loads import Loads

__all__ = ["Loads", "loads_of"]
