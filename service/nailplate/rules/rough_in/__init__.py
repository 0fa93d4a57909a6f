"""Rules about how cable runs through framing."""
