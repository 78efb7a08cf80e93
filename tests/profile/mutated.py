"""Profiles with faults, made from sound ones by a seed: keys dropped, doubled, misspelt, of another type, out of range;
and the bytes of the file cut, doubled, swapped and overwritten.
"""

import tomllib
from copy import deepcopy
from datetime import date, datetime, time
from pathlib import Path
from random import Random
from typing import Any

import tomli_w

ROOT = Path(__file__).parents[2]
STARTS = [
    path.read_bytes() for path in (*sorted((ROOT / "profiles").glob("*.toml")), ROOT / "tests" / "cli" / "rich.toml")
]
JUNK: tuple[Any, ...] = (
    True, False, 0, -1, 3, 10**40, 0.1, -2.5, float("inf"), float("nan"), 1e300, "", " ", "x", "3", "0 in", "-1 in",
    "1/0", "9**9**9", "12' - 6\"", "1.000 mm", "3 sec", "1e400 in", "9" * 400, "ft", "\u2155 in", "\x1b[31mred",
    "a = b; c", [], {}, [[]], [{}], ["x", 3], [{"at": 0}], {"x": {"y": [1]}},
    date(2026, 5, 2), datetime(2026, 5, 2, 9, 30), time(9, 30),
)  # fmt: skip
SIZES = (
    "0",
    "0 in",
    "-3 in",
    "1/64 in",
    "0.001 mm",
    "1 mm",
    "7 in",
    "20 ft",
    "99 ft",
    "2000 mm",
    "1e9 mm",
    "12 ft 6 in",
)


def _owners(data: Any) -> list[Any]:
    """Every table and list with something in it."""
    inner = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    return ([data] if isinstance(data, dict | list) and data else []) + [
        own for value in inner for own in _owners(value)
    ]


def _misspelt(word: str, dice: Random) -> str:
    at = dice.randrange(len(word)) if word else 0
    before, here, after = word[:at], word[at : at + 1], word[at + 1 :]
    swapped = before + after[:1] + here + after[1:]
    return dice.choice(
        [before + after, before + dice.choice("aenrx_ ") + here + after, swapped, word.upper(), f" {word} "]
    )


def _key_changed(data: dict[str, Any], dice: Random) -> None:
    """One thing wrong with one key or row, anywhere."""
    owner = dice.choice(_owners(data))
    place = dice.choice(list(owner) if isinstance(owner, dict) else range(len(owner)))
    how = dice.choice(("drop", "double", "retype", "size", "misspell", "misspell value", "swap", "move"))
    if how == "drop":
        del owner[place]
    elif how == "double" and isinstance(owner, list):
        owner.insert(dice.randrange(len(owner) + 1), deepcopy(owner[place]))
    elif how == "misspell" and isinstance(owner, dict):
        value = owner.pop(place)
        owner.setdefault(_misspelt(place, dice), value)
    elif how == "misspell value" and isinstance(owner[place], str):
        owner[place] = _misspelt(owner[place], dice)
    elif how == "swap" and isinstance(owner, list):
        owner.insert(0, owner.pop(place))
    elif how == "move":
        other = dice.choice(_owners(data))
        value = deepcopy(owner[place])
        if isinstance(other, list):
            other.append(value)
        else:
            other[dice.choice([*other, str(place)])] = value
    else:
        owner[place] = dice.choice(SIZES) if how == "size" else deepcopy(dice.choice(JUNK))


def _bytes_changed(raw: bytes, dice: Random) -> bytes:
    start, end = sorted((dice.randrange(len(raw) + 1), dice.randrange(len(raw) + 1)))
    end = min(end, start + dice.choice((1, 2, 8, 60, 400)))
    how = dice.choice(("cut here", "cut out", "double", "overwrite", "put in", "swap lines"))
    if how == "cut here":
        return raw[:start]
    if how == "cut out":
        return raw[:start] + raw[end:]
    if how == "double":
        return raw[:end] + raw[start:]
    if how == "swap lines":
        lines = raw.splitlines(keepends=True) or [b""]
        here, there = dice.randrange(len(lines)), dice.randrange(len(lines))
        lines[here], lines[there] = lines[there], lines[here]
        return b"".join(lines)
    new = bytes(dice.choice(b"\x00\x1b\x80\xff\xe9\"'[]{}=#,.\\\n\r 019ax") for _ in range(dice.randint(1, 6)))
    return raw[:start] + new + raw[start + len(new) if how == "overwrite" else start :]


def mutated(dice: Random) -> bytes:
    """A profile with one to five things wrong with its keys, or with its bytes, or (one in ten) with both."""
    raw = dice.choice(STARTS)
    kind = dice.random()
    if kind < 0.75:
        data = tomllib.loads(raw.decode())
        for _ in range(dice.choice((1, 1, 1, 2, 3, 5))):
            if data:
                _key_changed(data, dice)
        raw = tomli_w.dumps(data).encode()
    if kind > 0.65:
        for _ in range(dice.choice((1, 1, 2, 3))):
            raw = _bytes_changed(raw, dice)
    return raw
