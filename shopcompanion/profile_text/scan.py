"""Where the tables, keys and list items of a TOML text stand, so that one of them can be changed without touching the
others.

The text is one that tomllib accepts; this only finds the places.
"""

import re
from functools import lru_cache

from ..record import NamedTuple

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

# The same, and whole lines of a list that are one flat table each, as stations are: they open and close nothing.
_LINES = re.compile(
    r"""(?P<rows>(?:[ \t]*+\{(?:[^{}\[\]"'#\n]++|"(?:\\.|[^"\\\n])*+"|'[^'\n]*+')*+\}[ \t]*+,?[ \t\r]*+\n)++)|"""
    + _TOKEN.pattern,
    re.DOTALL,
)

_GAP = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_REST_OF_LINE = re.compile(r"[ \t]*(?:#[^\n]*)?\r?\n")
_WORD = r"""(?:[A-Za-z0-9_-]+|"(?:\\.|[^"\\])*"|'[^']*')"""
_KEY = re.compile(rf"({_WORD}(?:[ \t]*\.[ \t]*{_WORD})*)[ \t]*=[ \t]*")
_PLAIN_HEAD = re.compile(r"[ \t]*(\[\[?)[ \t]*([A-Za-z0-9_-]+(?:\.[A-Za-z0-9_-]+)*)[ \t]*\]")
_PLAIN = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[^,\]}\s#]*|[^,\]}\s#]+")  # a number, true, a date and time


class TomlSection(NamedTuple):
    """A header and what stands under it, text[start:end]; comments and blank lines after `content_end` may be about
    what follows. `path` is the header's key, () for what stands before the first header."""

    path: tuple[str, ...]
    is_row: bool  # [[path]]
    start: int
    content_end: int
    end: int


@lru_cache(maxsize=4)
def sections(text: str) -> tuple[TomlSection, ...]:
    """The sections of `text` in its order, the headless first one always among them.

    >>> [one.path for one in sections('format = 1\\n[boat]\\nname = "[x]"\\n[[spar]]\\n')]
    [(), ('boat',), ('spar',)]
    """
    starts = [0]  # of the sections
    heads = [""]
    ends = [0]  # of the content of each
    depth, line, fresh, busy = 0, 0, True, False
    for token in _LINES.finditer(text):
        kind = token.lastgroup
        if kind == "rows":
            ends[-1] = line = token.end()
            fresh, busy = True, False
            continue
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
    return tuple(TomlSection(*_path(head), *place) for head, *place in zip(heads, starts, ends, stops, strict=True))


def _path(head: str) -> tuple[tuple[str, ...], bool]:
    """The key of a header, and whether it is that of a row."""
    if plain := _PLAIN_HEAD.match(head):
        return tuple(plain[2].split(".")), plain[1] == "[["
    import tomllib

    words: list[str] = []
    inner: object = tomllib.loads(head.strip())
    while isinstance(inner, dict) and inner:
        (key,) = inner
        words.append(key)
        inner = inner[key]
    return tuple(words), isinstance(inner, list)


class Pair(NamedTuple):
    """A key and its value: the key begins at `start`, the value is text[value:end]."""

    key: tuple[str, ...]
    start: int
    value: int
    end: int


def pairs(text: str, start: int, end: int) -> list[Pair]:
    """The keys in text[start:end], which is what stands under a header or within the braces of a table in one line.

    >>> [one.key for one in pairs('a = [ "b = 1" ] # c\\nd."e.f" = 2', 0, 31)]
    [('a',), ('d', 'e.f')]
    """
    keys = []
    at = _past_gap(text, start)
    while at < end and (key := _KEY.match(text, at)):
        stop = _value_end(text, key.end())
        path = (key[1],) if key[1].isidentifier() else _path(f"[{key[1]}]")[0]
        keys.append(Pair(path, at, key.end(), stop))
        at = _past_gap(text, stop)
        if text.startswith(",", at):
            at = _past_gap(text, at + 1)
    return keys


class Item(NamedTuple):
    """One value of a list, text[start:end], and its surroundings: `lead` before it, `late` before its comma, and
    behind that the `tail`, the rest of a line on which nothing follows but a remark."""

    lead: str
    start: int
    end: int
    late: str
    tail: str


class Items(NamedTuple):
    """A list: what stands before the first item and after the last, and whether that has a comma behind it."""

    opener: str
    items: list[Item]
    closer: str
    comma: bool


def items(text: str, start: int, end: int) -> Items:
    """The items of the list text[start:end].

    >>> [one.tail for one in items('[ 1, 2 ,# two\\n]', 0, 15).items]
    ['', '# two\\n']
    """
    line = _REST_OF_LINE.match(text, start + 1)
    at = line.end() if line else start + 1
    opener, elements, comma = text[start:at], [], False
    while (first := _past_gap(text, at)) < end - 1:
        stop = _value_end(text, first)
        after = _past_gap(text, stop)
        comma = text.startswith(",", after)
        late = text[stop:after] if comma else ""
        behind = after + 1 if comma else stop
        line = _REST_OF_LINE.match(text, behind)
        past = line.end() if line else behind
        elements.append(Item(text[at:first], first, stop, late, text[behind:past]))
        at = past
    return Items(opener, elements, text[at:end], comma)


def _past_gap(text: str, at: int) -> int:
    gap = _GAP.match(text, at)
    return gap.end() if gap else at


def _value_end(text: str, at: int) -> int:
    """Where the value ends that begins at `at`."""
    if text[at] not in "[{\"'":
        plain = _PLAIN.match(text, at)
        return plain.end() if plain else at
    depth = 0
    for token in _TOKEN.finditer(text, at):
        depth += (token.lastgroup == "open") - (token.lastgroup == "close")
        if not depth:
            return token.end()
    return len(text)
