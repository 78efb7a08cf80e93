"""Typed errors: each carries one clear line for the person at the bench."""

import re
from collections.abc import Callable

Why = tuple[str, tuple[float, ...]]  # a reason with `{}` for each of the lengths (mm), as InputFault takes them


class CompanionError(Exception):
    """Anything the companion refuses or could not do. `str()` is the line to show."""

    exit_status = 1


class InputFault(CompanionError):
    """An input is at fault: what is wrong, where, and what works.

    `field` is the stable name of the input (None when it is the whole text that is wrong). `lengths` (mm) stand where
    `reason` has `{}`; whoever knows the rule in force writes them by it, with `with_lengths`.
    """

    exit_status = 2

    def __init__(self, reason: str, field: str | None = None, lengths: tuple[float, ...] = ()) -> None:
        self.template, self.field, self.lengths = reason, field, lengths
        self.reason = reason.format(*(f"{mm:.6g} mm" for mm in lengths)) if lengths else reason
        super().__init__(f"{field}: {self.reason}" if field else self.reason)

    def with_lengths(self, say: Callable[[float], str], field: str | None = None) -> "InputFault":
        """The same fault with its lengths in the words of `say`, and with a field if it had none."""
        reason = self.template.format(*map(say, self.lengths)) if self.lengths else self.reason
        return InputFault(reason, self.field or field)


class InputFaults(CompanionError):
    """Every fault of a form at once, in the order of its fields."""

    exit_status = 2

    def __init__(self, faults: list[InputFault]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


def printable(text: str, limit: int = 60) -> str:
    """`text` safe to show on a terminal: no control characters, no endless lines.

    >>> printable("3" + chr(27) + "[31m")
    '3\\ufffd[31m'
    """
    clean = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return clean if len(clean) <= limit else clean[: limit - 1] + "…"


# What a terminal obeys or hides: control characters but for line, tab and page, and marks that turn the text about.
CONTROLS = "[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2061-\u206f\ufeff\ud800-\udfff]|\r(?!\n)"


def shown(text: str) -> str:
    """`text` as it may go to a terminal, every control character in it replaced.

    >>> shown("a\x1b[31mb")
    'a\ufffd[31mb'
    """
    return text if text.isprintable() else re.sub(CONTROLS, "\ufffd", text)


def nearest(word: str, known: list[str]) -> str:
    """A suggestion like ` (did you mean 'length'?)`, or nothing when no known word is near."""
    from difflib import get_close_matches

    folded = {name.casefold(): name for name in known}
    close = get_close_matches(word.casefold()[:80], list(folded), n=1, cutoff=0.6)
    return f" (did you mean '{folded[close[0]]}'?)" if close else ""
