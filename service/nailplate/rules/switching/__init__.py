"""Rules about what switches what, and whether it works."""
