"""Rules about what a branch circuit may carry and serve."""
