"""Keys that come faster than a hand types, as a paste without marks does: the rest of them is let go."""

MOST = 500  # keys that wait for their turn


class Flood:
    """Counts keys between the terminal, which sends them from its own thread, and the app, which takes them singly."""

    def __init__(self) -> None:
        self.sent = self.taken = self.dropped = 0

    def lets_through(self) -> bool:
        """Whether one more key may wait; once one may not, none may until all have been taken."""
        waiting = self.sent - self.taken
        if waiting > MOST or (self.dropped and waiting > 0):
            self.dropped += 1
            return False
        self.sent += 1
        return True

    def take(self) -> int:
        """The app takes a key; how many were let go, when it is the last of those that waited."""
        self.taken += 1
        if not self.dropped or self.sent > self.taken:
            return 0
        gone, self.sent, self.taken, self.dropped = self.dropped, 0, 0, 0
        return gone
