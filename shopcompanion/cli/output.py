"""Where words go out: plain text, whatever letters the output has."""

import os
import re
import sys
from typing import Any, TextIO

from ..errors import CONTROLS, CompanionError, shown

# What to write for a letter that the output does not have.
PLAIN = {
    "—": "-", "–": "-", "−": "-", "…": "...", "⚠": "!", "·": "*", "×": "x", "÷": "/", "°": " deg", "π": "pi",
    "√": "sqrt", "²": "^2", "³": "^3", "⁴": "^4", "₀": "0", "₁": "1", "β": "beta", "≤": "<=", "≥": ">=", "±": "+/-",
    "½": "1/2", "¼": "1/4", "¾": "3/4", "′": "'", "″": '"', "‘": "'", "’": "'", "“": '"', "”": '"',
}  # fmt: skip


def say(*lines: str, bold: bool = False) -> None:
    """Write lines to standard output, all at once, the first in bold if wanted; no control character gets through.

    BrokenPipeError when its reader has gone, CompanionError when it cannot be written.
    """
    if sys.stdout is None:  # closed by whoever started us
        raise CompanionError("standard output is closed")
    first, *rest = map(shown, lines or ("",))
    try:
        sys.stdout.write(fit("\n".join([f"\x1b[1m{first}\x1b[0m" if bold else first, *rest]) + "\n", sys.stdout))
        sys.stdout.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # for what is left in the buffer
        if isinstance(error, BrokenPipeError):
            raise
        raise CompanionError(f"standard output cannot be written: {error.strerror}") from None


def say_json(value: Any) -> None:
    """Write a value as one line of JSON."""
    from json import dumps

    text = escaped(dumps(value, ensure_ascii=False, allow_nan=False))
    say(text if takes(text) else dumps(value, allow_nan=False))


def complain(line: str) -> None:
    """Write one line to standard error, if there is one."""
    if sys.stderr is not None:
        sys.stderr.write(fit(f"shopcompanion: {shown(line)}\n", sys.stderr))


def progress_line(said: str) -> None:
    """How far something is, on a terminal alone, in one line of it, which the next one takes the place of."""
    if sys.stderr is not None and sys.stderr.isatty():
        from shutil import get_terminal_size

        sys.stderr.write(f"\r\033[K{fit(shown(said), sys.stderr)[: get_terminal_size().columns - 1]}")
        sys.stderr.flush()


def wiped() -> None:
    """Take that line away."""
    if sys.stderr is not None and sys.stderr.isatty():
        sys.stderr.write("\r\033[K")
        sys.stderr.flush()


def escaped(text: str) -> str:
    """`text` with every character that a terminal would obey written as TOML and JSON write it, as `\\u001b`."""

    def escape(match: re.Match[str]) -> str:
        return f"\\u{ord(match[0]):04x}"

    return re.sub(CONTROLS, escape, text)


def takes(text: str, stream: TextIO | None = None) -> bool:
    """Whether the stream, standard output unless given, has the letters of `text`."""
    try:
        text.encode(getattr(stream or sys.stdout, "encoding", None) or "ascii")
    except UnicodeEncodeError:
        return False
    return True


def fit(text: str, stream: TextIO) -> str:
    """`text` in letters that `stream` has, as near as may be."""
    if takes(text, stream):
        return text
    return "".join(c if takes(c, stream) else PLAIN.get(c, "?") for c in text)


def bold() -> bool:
    """Whether standard output is a terminal that may be written to in bold."""
    return (
        bool(sys.stdout and sys.stdout.isatty())
        and not os.environ.get("NO_COLOR")
        and os.environ.get("TERM") not in (None, "dumb")
    )
