"""How messages call a part."""

from collections.abc import Sequence

from nailplate.plan import Part


def name_of(part: Part) -> str:
    """A part by its label, or else by its id; in quotes, since both are its author's words and not the trade's."""
    return f"'{part.label}'" if part.knows("label") else f"'{part.id}'"


def names_of(parts: Sequence[Part], most: int) -> str:
    """The first ``most`` parts by name, and how many more there are."""
    names = ", ".join(name_of(each) for each in parts[:most])
    return names if len(parts) <= most else f"{names} and {len(parts) - most} more"
