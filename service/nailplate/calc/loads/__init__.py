"""What a dwelling asks of its service or feeder: the standard method, the optional method, cooking, and small supplies."""
