"""What can be wrong with a table of a code edition."""


class CodeTableError(ValueError):
    """A table is missing, malformed or contradicts another, or an amendment names what no table has."""
