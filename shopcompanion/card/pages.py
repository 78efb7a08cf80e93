"""Lines laid out on pages: a block stays on one page where it fits, and every page has a running head."""

import re
from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from ..record import NamedTuple

WIDE = 72  # characters
HIGH = 58  # lines; Letter at six lines to the inch has 66, of which some are margin
FEED = "\f"
_HEAD = 3  # lines of a running head
_GAP = "  "  # between columns
_NARROW = 10  # a last column is not folded narrower
# Where a length must not be parted at the end of a line: before and within its unit, and before full and bare.
TIES = re.compile(
    r"(?<=[0-9]) (?=(?:in|ft|mm|rpm)\b|[0-9]{3} rpm)|(?<=[0-9] ft) (?=[0-9])"
    r"|(?<=[0-9] (?:in|ft|mm)) (?=(?:full|bare)\b)"
)
TIED = "\u2060"


class PageBlock(NamedTuple):
    """Lines that stay on one page if they fit there. `parts` are what is never torn: a row, a paragraph.

    `title` is put again where the block goes on on another page, with `again` (a table's heads) below it; the parts
    from `table_from` to `table_to` are the rows under those heads.
    """

    parts: tuple[tuple[str, ...], ...]
    title: str = ""
    again: tuple[str, ...] = ()
    table_from: int = 0
    table_to: int = 0

    @property
    def high(self) -> int:
        return sum(map(len, self.parts))


def pages(name: str, blocks: Iterable[PageBlock], line: str) -> list[str]:
    """The pages, each of `HIGH` lines at most, under a running head: `name` and the number of the page over `line`."""
    made: list[list[str]] = [[]]
    for block in blocks:
        if made[-1] and not _fits(made[-1], block.high):
            made.append([])
        for place, part in _parts(block):
            if not _fits(made[-1], len(part)):
                goes_on = [f"{block.title}, continued"] if block.title else []
                heads = list(block.again) if block.table_from <= place < block.table_to else []
                made.append([*goes_on, *heads])
            made[-1] += part
        made[-1].append("")
    return [
        "\n".join([_running(name, number, len(made), len(line)), line, "", *page]).rstrip() + "\n"
        for number, page in enumerate(made, 1)
    ]


def _parts(block: PageBlock) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The parts with their places; one that is longer than any page comes in as many as it takes."""
    room = HIGH - _HEAD - 1 - len(block.again)
    for place, part in enumerate(block.parts):
        for start in range(0, len(part), room):
            yield place, part[start : start + room]


def _fits(page: Sequence[str], high: int) -> bool:
    return _HEAD + len(page) + high <= HIGH


def _running(name: str, number: int, of: int, wide: int) -> str:
    place = f"page {number} of {of}"
    return shortened(name, wide - len(place) - 2).ljust(wide - len(place)) + place


def shortened(text: str, room: int) -> str:
    """`text` with a sign where it had to be cut.

    >>> shortened("mizzen mast", 9)
    'mizzen...'
    """
    return text if len(text) <= room else text[: room - 3].rstrip() + "..."


def folded(text: str, first: str = "", wide: int = WIDE) -> tuple[str, ...]:
    """`text` in lines of at most `wide`, the first begun with `first` and the others with as many blanks.

    >>> folded("set it to 3-1/2 in full", "a ", 18)
    ('a set it to', '  3-1/2 in full')
    """
    tied = TIES.sub(TIED, text)
    lines = wrap(tied, wide, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False)
    return tuple(line.replace(TIED, " ") for line in lines) or (first.rstrip(),)


def gridded(
    heads: Sequence[str], rows: Sequence[Sequence[str]], indent: str = "", wide: int = WIDE
) -> tuple[list[str], list[tuple[str, ...]]]:
    """The lines of the heads (`\\n` breaks them) and those of each row, with the columns under one another.

    The last column is folded where the row would be too wide; with too little room for that the columns move closer,
    and then it sticks out.
    """
    split = [head.split("\n") for head in heads]
    deep = max(map(len, split))
    tops = [[""] * (deep - len(lines)) + lines for lines in split]
    widths = [max(map(len, column)) for column in zip(*zip(*tops, strict=True), *rows, strict=True)]
    before = len(indent) + sum(widths[:-1]) + len(_GAP) * (len(widths) - 1)
    folds = wide - before >= _NARROW
    room = wide - before if folds else widths[-1]
    gap = _GAP if folds or before + room <= wide else " "

    def line(cells: Sequence[str]) -> str:
        return (indent + gap.join(map(str.ljust, cells, widths))).rstrip()

    def lines(row: Sequence[str]) -> tuple[str, ...]:
        first, *more = folded(row[-1], wide=room)
        return (line([*row[:-1], first]), *(" " * before + text for text in more))

    return [line(row) for row in zip(*tops, strict=True)], [lines(row) for row in rows]
