"""Where the tables of a TOML text stand, so that one of them can be changed without touching the others.

The text is one that tomllib accepts; this only finds where its headers are.
"""

import re
from typing import NamedTuple

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:\\.|[^"\\])*"'
    r"|'[^']*'"
    r"|(?P<comment>#[^\n]*)"
    r"|(?P<end>\n)"
    r"|(?P<space>[ \t\r]+)"
    r"|(?P<open>[\[{])"
    r"|(?P<close>[\]}])"
    r"|[^\"'#\n \t\r\[\]{}]+",
    re.DOTALL,
)


class Section(NamedTuple):
    """A header and what stands under it, text[start:end]; comments and blank lines after `content_end` may be about
    what follows. `path` is the header's key, () for what stands before the first header."""

    path: tuple[str, ...]
    is_row: bool  # [[path]]
    start: int
    content_end: int
    end: int


def sections(text: str) -> list[Section]:
    """The sections of `text` in its order, the headless first one always among them.

    >>> [one.path for one in sections('format = 1\\n[boat]\\nname = "[x]"\\n[[spar]]\\n')]
    [(), ('boat',), ('spar',)]
    """
    starts = [0]  # of the sections
    heads = [""]
    ends = [0]  # of the content of each
    depth, line, fresh, busy = 0, 0, True, False
    for token in _TOKEN.finditer(text):
        kind = token.lastgroup
        if kind == "end":
            if busy:
                ends[-1] = token.end()
            if heads[-1] is None:
                heads[-1] = text[starts[-1] : token.start()]
            line, fresh, busy = token.end(), True, False
            continue
        if kind in ("space", "comment"):
            continue
        if kind == "open":
            if fresh and depth == 0:
                starts.append(line)
                heads.append(None)  # type: ignore[arg-type]  # known at the end of its line
                ends.append(line)
            depth += 1
        depth -= kind == "close"
        fresh, busy = False, True
    if busy:
        ends[-1] = len(text)
    if heads[-1] is None:
        heads[-1] = text[starts[-1] :]
    stops = [*starts[1:], len(text)]
    return [Section(*_path(head), *place) for head, *place in zip(heads, starts, ends, stops, strict=True)]


def _path(head: str) -> tuple[tuple[str, ...], bool]:
    import tomllib

    found: list[str] = []
    inner: object = tomllib.loads(head.strip())
    while isinstance(inner, dict) and inner:
        (key,) = inner
        found.append(key)
        inner = inner[key]
    return tuple(found), isinstance(inner, list)
