"""The order of work on a spar, and the card that carries it to the bench."""
