"""What follows from the drawing for rough-in: cable runs through the framing, the members they cross, holes and supports."""
