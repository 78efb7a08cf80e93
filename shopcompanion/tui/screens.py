"""The screens over the bench: those that ask for a choice or a line, and the way back from any of them."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from textual.app import App
    from textual.screen import Screen

    from .bench import Bench
    from .keyed import FullScreen
    from .picker import Picker
    from .search import PickerRow


class Screens:
    """Pushes screens, and pops them back to the bench. `attempt` calls a function and tells why it was refused."""

    def __init__(self, app: "App[None]", bench: "Bench", attempt: Callable[[Callable[[], object]], bool]) -> None:
        self.app, self.bench, self.attempt = app, bench, attempt

    @property
    def top(self) -> "Screen[Any]":
        """The screen that has the keys."""
        return self.app.screen

    @property
    def width(self) -> int:
        return self.app.size.width

    @property
    def place(self) -> str:
        """What the table of keys calls the screen that has them."""
        full = self._full_screen()
        return full.place if full else "bench"

    def _full_screen(self) -> "FullScreen | None":
        """The screen that has the keys, where that is a full one over the bench."""
        from .keyed import FullScreen

        return self.top if isinstance(self.top, FullScreen) else None

    def show(self, screen: "Screen[Any]", then: Callable[[], object] | None = None) -> None:
        """Put a screen over the others; `then` is done when it is left."""
        self.app.push_screen(screen, None if then is None else lambda _: then())  # type: ignore[arg-type]

    def pick(self, title: str, choices: "list[PickerRow]", then: Callable[[Any], object], **keywords: Any) -> "Picker":
        """Show a picker, which is given back; `then` gets what was picked, and nothing happens when none was."""
        from .picker import Picker

        picker = Picker(title, choices, **keywords)
        self.app.push_screen(picker, self._once(then))
        return picker

    def ask_line(
        self, title: str, check: Callable[[str], object], then: Callable[[str], object], text: str = ""
    ) -> None:
        """Have one line written; `then` gets it once `check` raises nothing."""
        from .picker import LineEntry

        self.app.push_screen(LineEntry(title, check, text), self._once(then))

    def _once(self, then: Callable[[Any], object]) -> Callable[[Any], None]:
        def done(value: Any) -> None:
            if value is not None:
                self.attempt(lambda: then(value))

        return done

    def home(self, then: Callable[[], object]) -> None:
        """Back to the bench, when what is half done on a screen over it is settled; then go on."""

        def there() -> None:
            while self.top is not self.bench:
                self.top.dismiss(None)
            then()

        self.settled(there)

    def settled(self, then: Callable[[], object]) -> None:
        """Go on when nothing is half done on the screen that has the keys."""
        full = self._full_screen()
        if full:
            full.settle(then)
        else:
            then()
