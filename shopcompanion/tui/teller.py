"""What the app tells: a line at a time at the foot of the screen, in the place of the keys, gone by itself."""

from collections import deque
from collections.abc import Callable, Mapping

from textual.timer import Timer

from ..errors import CompanionError
from ..storage.store import Places
from .frame import Message
from .guard import line_of
from .keys import first_key

SHORT, LONG = 5.0, 9.0  # seconds that a message stands, and a refusal


class Teller:
    """Shows one message at a time. `keys` are the keys in force by action; `later` calls a function after so many
    seconds; `paint` paints the message that stands now.
    """

    def __init__(
        self,
        places: Places,
        keys: Mapping[str, str],
        later: Callable[[float, Callable[[], None]], Timer],
        paint: Callable[[], object],
    ) -> None:
        self.places, self.keys, self.later, self.paint = places, keys, later, paint
        self.told: deque[str] = deque(maxlen=50)  # every message, the newest last
        self.message: Message | None = None  # the one that stands
        self._silence: Timer | None = None  # when it goes

    def tell(self, words: str, wrong: bool = False) -> None:
        """Show one line, longer when something is `wrong`."""
        self.told.append(words)
        self._show(Message(words, wrong))
        if self._silence is not None:
            self._silence.stop()
        self._silence = self.later(LONG if wrong else SHORT, self.silence)

    def key(self, name: str) -> str:
        """The key of an action, as it stands in a message; "" when it has none."""
        return first_key(self.keys, name)

    def silence(self) -> None:
        """Take away what stands at the foot."""
        if self._silence is not None:
            self._silence.stop()
            self._silence = None
            self._show(None)

    def _show(self, message: Message | None) -> None:
        self.message = message
        self.paint()

    def refused(self, error: CompanionError | OSError) -> None:
        """Tell why something was refused."""
        self.tell(line_of(error, self.places), wrong=True)

    def attempt(self, act: Callable[[], object]) -> bool:
        """Do something that may be refused; the reason is told, and then it is False."""
        try:
            act()
        except (CompanionError, OSError) as error:
            self.refused(error)
            return False
        return True
