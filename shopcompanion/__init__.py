"""The shop companion: every sum a small boat's spars ask for, before the saw starts."""
