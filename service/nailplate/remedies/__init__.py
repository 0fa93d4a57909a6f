"""What can be done about a finding: words and patches, places for added devices, larger boxes.

A remedy looks at the plan and its survey, never at a rule; rules of several families share it.
"""

from nailplate.remedies.patches import Operation, Remedy, add, remove, replace, state

__all__ = ["Operation", "Remedy", "add", "remove", "replace", "state"]
