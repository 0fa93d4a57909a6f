"""Rules about GFCI, AFCI and their kin."""
