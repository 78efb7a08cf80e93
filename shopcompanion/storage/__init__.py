"""Boats on the disk: where they are, saved in one step, the versions before, unsaved work. The one door is `store`."""
