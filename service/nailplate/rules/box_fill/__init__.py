"""Rules about what a box holds and how it is reached."""
