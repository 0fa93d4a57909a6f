"""The owner's needs answered: which outlet serves each within its cord, and what runs at once on which circuit."""

from nailplate.sheets.needs.answered import needs_of_owner
from nailplate.sheets.needs.items import CircuitUse, NeedsAnswered, NeedServed

__all__ = ["CircuitUse", "NeedServed", "NeedsAnswered", "needs_of_owner"]
