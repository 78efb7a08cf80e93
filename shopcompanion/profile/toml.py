"""TOML text to data, each spar of it parsed once: after a change only the spar that was changed is parsed again."""

import re
from functools import lru_cache
from typing import Any

DEEPEST = 60  # words of a key with dots between; the tables of a longer one cost the square of it
_WORD = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_TOO_DEEP = rf"(?<![\w-]){_WORD}(?:[ \t]*+\.[ \t]*+{_WORD}){{{DEEPEST}}}"
_SPAR = re.compile(r"^[ \t]*\[\[[ \t]*spar[ \t]*\]\]", re.MULTILINE)


class Exact(float):
    """A number of the file, which is shown as it was written."""

    text: str

    def __new__(cls, text: str) -> "Exact":
        made = super().__new__(cls, text)
        made.text = text
        return made

    def __repr__(self) -> str:
        return self.text.replace("_", "")

    __str__ = __repr__


@lru_cache(maxsize=4)
def parsed(text: str) -> dict[str, Any]:
    """What `text` holds; shared, so never to be changed. ValueError or RecursionError when it is not TOML.

    A text is cut before every `[[spar]]`. Where one does not begin a table, within a string or a list, what stands
    before it does not parse by itself, and the text is parsed as a whole.
    """
    if any(line.count(".") >= DEEPEST for line in text.split("\n")) and re.search(_TOO_DEEP, text):
        raise ValueError(f"a key of more than {DEEPEST} words with dots between")
    text = text.removeprefix("\ufeff")
    starts = [header.start() for header in _SPAR.finditer(text)]
    if not starts:
        return _loads(text)
    try:
        data = dict(_part(text[: starts[0]]))
        spars: list[Any] = []
        for start, end in zip(starts, [*starts[1:], len(text)], strict=True):
            part = _part(text[start:end])
            if len(part["spar"]) != 1 or any(key in data for key in part):
                return _loads(text)
            spars += part["spar"]
            data |= {key: value for key, value in part.items() if key != "spar"}
    except ValueError:
        return _loads(text)  # which says where in the whole text it is
    data["spar"] = spars
    return data


def _loads(text: str) -> dict[str, Any]:
    import tomllib

    return tomllib.loads(text, parse_float=Exact)


_part = lru_cache(maxsize=1024)(_loads)
