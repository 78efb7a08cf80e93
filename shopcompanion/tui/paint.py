"""Rows of styled text: what every screen is made of. A row is spans of text with a role; a theme gives roles colours.

A role is words, as `accent bold`: a colour (quiet, accent, warning, error, wood, squared), a ground (bar, field), and
bold, italic or reverse. None of it knows a terminal: the rows of a screen are plain values to compare and to test.
"""

from collections.abc import Iterable, Sequence
from itertools import chain

from rich.cells import cell_len, get_character_cell_size, set_cell_size

from ..record import NamedTuple

_JOINED = frozenset("\u200d\ufe0f")  # with these a letter is as wide as its neighbours make it
# What our own words and drawings are made of: a column each. The table of all other letters takes a while to load.
NARROW = frozenset(map(chr, chain(range(0x20, 0x7F), range(0xAE, 0x100), range(0x370, 0x3E0), range(0x2500, 0x25FD))))
NARROW |= frozenset(map(chr, range(0x2800, 0x2900))).union("–—‘’“”…‹›′″⁄⁴⁻₀₁←↑→↓⇠−∕√∫≤≥⅓⅔⅛⅜⅝⅞⏎⚠✓✗ᵀ")
Span = tuple[str, str]  # text and role
Row = tuple[Span, ...]


class Rows(tuple[Row, ...]):
    """Rows under one another; `str` gives the words alone."""

    __slots__ = ()

    def __str__(self) -> str:
        return "\n".join(map(words_of, self))


def row(*pieces: str | Span) -> Row:
    return tuple([(piece, "") if isinstance(piece, str) else piece for piece in pieces])


def rows(lines: Iterable[str], role: str = "") -> Rows:
    """Plain lines, all of one role."""
    return Rows([((line, role),) for line in lines])


def stack(*parts: Iterable[Row]) -> Rows:
    """Parts under one another."""
    return Rows(chain.from_iterable(parts))


def words_of(line: Row) -> str:
    return "".join([text for text, _ in line])


def cells(text: str) -> int:
    """Columns of the terminal that a text takes."""
    if text.isascii() or NARROW.issuperset(text):
        return len(text)
    if _JOINED.isdisjoint(text):  # only the letters that are not ours need looking up, one by one
        return len(text) + sum([get_character_cell_size(letter) - 1 for letter in text if letter not in NARROW])
    return cell_len(text)


def size_of(line: Row) -> int:
    return cells(words_of(line))


def fitted(text: str, width: int) -> str:
    """`text` in no more than `width` columns, with a sign where it is cut."""
    if cells(text) <= width:
        return text
    return set_cell_size(text, max(0, width - 1)).rstrip() + "…" if width > 0 else ""


def fit(line: Row, width: int, role: str = "") -> Row:
    """The row in just `width` columns: filled up with the ground of `role`, or cut with a sign."""
    over = size_of(line) - width
    if over < 0:
        return (*line, (" " * -over, role))
    if not over:
        return line
    kept: list[Span] = []
    left = width
    for text, of in line:
        size = cells(text)
        if size >= left:  # the sign is due here: something of the row is left over
            cut = set_cell_size(text, max(0, left - 1)) if left else ""
            kept.append((cut + "…" * (left > 0), of))
            break
        kept.append((text, of))
        left -= size
    return tuple(kept)


def on_ground(line: Row, ground: str) -> Row:
    """The row with `ground` under all of it."""
    return tuple([(text, f"{ground} {role}".strip()) for text, role in line])


def wrapped(line: Row, width: int) -> Rows:
    """The row folded between words, a word longer than `width` anywhere; what goes on is as far in as the row began."""
    text = words_of(line)
    if cells(text) <= width:
        return Rows((line,))
    width = max(1, width)
    label = line[0][0] if len(line) > 1 else ""  # a label and what it says: that goes on under itself
    hang = cells(label) if label.endswith("  ") and label.strip() else len(text) - len(text.lstrip(" "))
    hang = hang if hang < width // 2 else 0
    folded: list[Row] = []
    start, indent = 0, 0
    while start < len(text):
        room = width - indent
        end = min(len(text), start + room) if text.isascii() else _end(text, start, room)
        end = max(end, start + 1)
        if end < len(text) and text[end] != " ":
            gap = text.rfind(" ", start, end)
            if gap > start and text[start:gap].strip():
                end = gap
        folded.append((*((((" " * indent), ""),) if indent else ()), *_part(line, start, end)))
        start = end
        while start < len(text) and text[start] == " ":
            start += 1
        indent = hang
    return Rows(folded)


def _end(text: str, start: int, room: int) -> int:
    """How far the text goes from `start` in `room` columns."""
    end = start
    while end < len(text) and (room := room - (1 if text[end] in NARROW else get_character_cell_size(text[end]))) >= 0:
        end += 1
    return end


def _part(line: Row, start: int, end: int) -> Row:
    """The characters `start` to `end` of a row, without the blanks at their end."""
    kept: list[Span] = []
    at = 0
    for text, role in line:
        piece = text[max(0, start - at) : max(0, end - at)]
        at += len(text)
        if piece:
            kept.append((piece, role))
    if kept and kept[-1][0].endswith(" "):
        kept[-1] = (kept[-1][0].rstrip(" "), kept[-1][1])
    return tuple(kept)


def folded(lines: Iterable[Row], width: int) -> Rows:
    """All rows, each folded where it is too wide."""
    return Rows([piece for line in lines for piece in wrapped(line, width)])


def beside(width: int, *columns: tuple[Sequence[Row], int]) -> list[Row]:
    """Columns of rows side by side, each of its width, in `width` in all."""
    high = max(len(of) for of, _ in columns)
    lines = []
    for y in range(high):
        line: list[Span] = []
        for of, wide in columns:
            line += fit(of[y], wide) if y < len(of) else ((" " * wide, ""),)
        lines.append(fit(tuple(line), width))
    return lines


class Window(NamedTuple):
    """What of a longer page is seen: `lines`, and the first of them; `furthest` is how far it can be scrolled."""

    lines: Rows
    top: int
    furthest: int


def window(of: Sequence[Row], top: int, height: int, around: int | None = None) -> Window:
    """`height` rows of a page from `top`, or those about the row `around`. What is above or below is told in the last.

    The one scrolling window of every screen.
    """
    if height <= 0:
        return Window(Rows(), 0, 0)
    if len(of) <= height:
        return Window(Rows(of), 0, 0)
    room = max(1, height - 1)
    furthest = len(of) - room
    if around is not None:
        top = min(top, around) if around < top else max(top, around - room + 1)
    top = min(max(0, top), furthest)
    below = len(of) - top - room
    more = "   ".join(filter(None, (f"↑ {top} more" if top else "", f"↓ {below} more" if below else "")))
    sign: Rows = rows([f"  {more}"], "quiet italic") if height > 1 else Rows()
    return Window(stack(of[top : top + room], sign), top, furthest)
