"""The end that comes from outside, by a signal or because the terminal is gone: first of all the work is kept."""

import os
import select
import signal
import sys
import termios
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from time import sleep
from typing import Any

from ..errors import CompanionError
from ..storage import store
from .session import Session

SIGNALS = (signal.SIGTERM, signal.SIGHUP)
LONG_ENOUGH = 2.0  # seconds for an orderly end; a writer that waits for a dead terminal would never come to it
_LEAVE = b"\x1b[?2004l\x1b[?7h\x1b[<u\x1b[?1049l\x1b[?25h"  # what the app turned on: paste marks, keys, its own screen


class Ending:
    """Watches the terminal and the signals while the app runs. `leave` ends the app in good order."""

    def __init__(self, session: Session, places: store.Places, leave: Callable[[int], object]) -> None:
        self.session, self.places, self.leave = session, places, leave
        self.terminal = sys.stdin.fileno()
        self.before: Any = None
        with suppress(termios.error):
            self.before = termios.tcgetattr(self.terminal)

    def begin(self) -> None:
        """Take the signals that are not ignored, as nohup has one, and look after the terminal in a thread."""
        for number in SIGNALS:
            if signal.getsignal(number) != signal.SIG_IGN:
                signal.signal(number, lambda number, _: self.called(number))
        Thread(target=self._watch, daemon=True, name="terminal").start()

    def keep(self) -> None:
        """Put unsaved work in its recovery copy, where it can be."""
        opened = self.session.opened
        if opened is not None and self.session.unsaved:
            with suppress(CompanionError, OSError):
                store.recover_note(self.places, opened, self.session.state.text)

    def called(self, number: int) -> None:
        """A signal: the app ends in good order, or when that takes too long, at once."""
        self.keep()
        Thread(target=self._at_last, args=(128 + number,), daemon=True, name="ending").start()
        self.leave(128 + number)

    def _at_last(self, status: int) -> None:
        sleep(LONG_ENOUGH)
        self._restore()
        os._exit(status)

    def _watch(self) -> None:
        """Wait, without a look now and then, until there is no terminal at the other end."""
        poll = select.poll()
        poll.register(self.terminal, 0)  # hang-up and faults are told unasked
        poll.poll()
        self.keep()
        os._exit(128 + signal.SIGHUP)

    def _restore(self) -> None:
        """Give the terminal back as it was, without waiting for it."""
        with suppress(OSError, termios.error):
            if self.before is not None:
                termios.tcsetattr(self.terminal, termios.TCSANOW, self.before)
            os.set_blocking(self.terminal, False)
            os.write(self.terminal, _LEAVE)
            os.set_blocking(self.terminal, True)
