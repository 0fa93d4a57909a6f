"""nailplate finds what is wrong with a small house's wiring plan before the walls are closed."""

__version__ = "0.1.0"
