"""How messages call a part."""

from nailplate.plan import Part


def name_of(part: Part) -> str:
    """A part by its label, or else by its id; in quotes, since both are its author's words and not the trade's."""
    return f"'{part.label}'" if part.knows("label") else f"'{part.id}'"
