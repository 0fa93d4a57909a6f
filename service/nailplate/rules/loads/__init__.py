"""Rules about what the supply carries."""
