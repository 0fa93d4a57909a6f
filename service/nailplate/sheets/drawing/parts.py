"""How a sheet calls a part."""

from nailplate.plan import Part


def name_of(part: Part) -> str:
    """A part by its label, or else by its id."""
    return part.label if part.knows("label") else part.id
