"""Beams and columns: what bends a bar of any taper, what it does then, and under what it buckles."""
