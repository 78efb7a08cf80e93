"""A line of text under a cursor: what editing keys do to it. It knows no screen.

Undo is the session's, which keeps what was typed with everything else.
"""

import re

from .paint import Row, Span, cells

LONGEST = 400
_WORD = r"\w+\s*|\W"
_MOVES = {
    "left": "left", "right": "right", "home": "home", "ctrl+a": "home", "end": "end", "ctrl+e": "end",
    "ctrl+left": "word left", "ctrl+right": "word right",
}  # fmt: skip


def one_line(pasted: str) -> str:
    """The first line of a pasted text, as far as a field holds it; what cannot be shown becomes a space, so that no two
    figures run together.
    """
    line = (pasted[: LONGEST + 1].splitlines() or [""])[0]
    return "".join(letter if letter.isprintable() else " " for letter in line)


class Edit:
    """`text` with the cursor before the character `at`; from `mark` to the cursor is selected. `copied`: by the last
    key, None when it copied nothing.
    """

    __slots__ = ("at", "copied", "mark", "text")

    def __init__(self, text: str = "", at: int = 0, mark: int = 0) -> None:
        self.text, self.at, self.mark = text, at, mark
        self.copied: str | None = None

    def set(self, text: str) -> None:
        """Another text, the cursor at its end."""
        self.text = text[:LONGEST]
        self.at = self.mark = len(self.text)

    @property
    def selected(self) -> tuple[int, int]:
        return min(self.at, self.mark), max(self.at, self.mark)

    def put(self, text: str) -> None:
        """Write a text over what is selected, as far as there is room for it."""
        start, end = self.selected
        text = text[: LONGEST - len(self.text) + end - start]
        self.text = self.text[:start] + text + self.text[end:]
        self.at = self.mark = start + len(text)

    def press(self, key: str, clip: str = "") -> bool:
        """Do what an editing key does; `clip` is what may be pasted. False for a key that is none."""
        self.copied = None
        shift = "shift+" in key
        move = _MOVES.get(key.replace("shift+", ""))
        if move:
            start, end = self.selected
            if start != end and not shift and move in ("left", "right"):
                self.at = self.mark = start if move == "left" else end
                return True
            self.at = self._to(move)
            self.mark = self.mark if shift else self.at
            return True
        deletes = {
            "backspace": "left", "delete": "right", "ctrl+w": "word left", "ctrl+u": "home",
            "ctrl+backspace": "word left", "ctrl+delete": "word right",
        }  # fmt: skip
        if key in deletes:
            if self.at == self.mark:
                self.mark = self._to(deletes[key])
            self.put("")
        elif key in ("ctrl+c", "ctrl+x"):
            start, end = self.selected
            self.copied = self.text[start:end] or None
            if key == "ctrl+x":
                self.put("")
        elif key == "ctrl+v":
            self.put(one_line(clip))
        else:
            return False
        return True

    def _to(self, move: str) -> int:
        if move == "home":
            return 0
        if move == "end":
            return len(self.text)
        if move == "left":
            return max(0, self.at - 1)
        if move == "right":
            return min(len(self.text), self.at + 1)
        starts = [0, *(match.end() for match in re.finditer(_WORD, self.text))]
        if move == "word left":
            return max((at for at in starts if at < self.at), default=0)
        return min((at for at in starts if at > self.at), default=len(self.text))

    def drawn(self, width: int, ground: str, has_cursor: bool) -> Row:
        """The text in `width` columns about the cursor, with a sign where it is cut; the cursor turned round."""
        first, last = self._seen(width)
        text = f"{self.text} "
        start, end = self.selected
        spans: list[Span] = [("…", ground)] if first else []
        for place in range(first, last):
            turned = has_cursor and (place == self.at or start <= place < end)
            role = f"{ground} reverse" if turned else ground
            if spans and spans[-1][1] == role:
                spans[-1] = (spans[-1][0] + text[place], role)
            else:
                spans.append((text[place], role))
        if last < len(self.text):
            spans.append(("…", ground))
        left = width - sum(cells(piece) for piece, _ in spans)
        return (*spans, (" " * left, ground)) if left > 0 else tuple(spans)

    def _seen(self, width: int) -> tuple[int, int]:
        """The first character that is seen and the one behind the last, the cursor among them."""
        text = f"{self.text} "  # the cursor can stand behind the last
        for first in range(self.at + 1):
            room = width - (first > 0)
            last = _fill(text, first, room)
            if last < len(self.text):
                last = _fill(text, first, room - 1)
            if self.at < last or (first == self.at):
                return first, max(last, first + 1)
        raise AssertionError("the cursor is in the text")


def _fill(text: str, first: int, room: int) -> int:
    """How far `text` goes from `first` in so many columns."""
    last, used = first, 0
    while last < len(text) and used + cells(text[last]) <= room:
        used += cells(text[last])
        last += 1
    return last
