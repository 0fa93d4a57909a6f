"""The plan's own ``inert``, under the name that rooms above know it by."""

from nailplate.plan.inert import inert, inert_json

__all__ = ["inert", "inert_json"]
