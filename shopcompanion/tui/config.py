"""The user's config file: keys, theme, drawing. It is checked whole; what is wrong in it is told, and left out.

theme = "daylight"          # lamplight | daylight | sixteen
drawing = "ascii"           # braille | ascii
[keys]
save = "f2"
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ..errors import InputFault, nearest, printable
from ..record import NamedTuple
from ..storage.atomic import KeepError, contents, text_of, there
from ..storage.places import config_path
from .keys import keymap
from .themes import THEMES

OPTIONS = {"theme": tuple(theme.name for theme in THEMES), "drawing": ("braille", "ascii")}


class Config(NamedTuple):
    """What is in force, and the faults of the file."""

    theme: str  # empty where none is chosen
    ascii_only: bool
    keys: Mapping[str, str]
    faults: tuple[InputFault, ...] = ()


def load_config(path: Path | None = None) -> Config:
    """The config at `path`; without a file, our own choices."""
    try:
        path = config_path() if path is None else path
        if not there(path):
            return read_config("")
        text = text_of(contents(path), path)
    except KeepError as error:  # no plain file, too large, not to be read, not text
        return _faulty(str(error))
    return read_config(text, path)


def _faulty(reason: str, path: Path | None = None) -> Config:
    plain = read_config("")
    where = None if path is None else printable(str(path), 200)
    return Config(plain.theme, plain.ascii_only, plain.keys, (InputFault(reason, where),))


def read_config(text: str, path: Path = Path("config.toml")) -> Config:
    """The config that `text` says, with every fault in it."""
    import tomllib

    try:
        raw = tomllib.loads(text) if text else {}
    except (ValueError, RecursionError) as error:
        return _faulty(f"is not valid TOML: {printable(str(error), 120)}", path)
    faults = [
        InputFault(f"no such setting{nearest(key, [*OPTIONS, 'keys'])}", printable(key))
        for key in raw
        if key not in (*OPTIONS, "keys")
    ]
    chosen: dict[str, str] = {}
    for key, options in OPTIONS.items():
        if key in raw:
            if raw[key] in options:
                chosen[key] = raw[key]
            else:
                word = f"'{printable(raw[key])}'" if isinstance(raw[key], str) else "this"
                faults.append(InputFault(f"{word} is not one of {', '.join(options)}", key))
    wanted: Any = raw.get("keys", {})
    if not isinstance(wanted, dict):
        faults.append(InputFault('must be a table: [keys], and under it save = "f2"', "keys"))
        wanted = {}
    keys, wrong = keymap(wanted)
    return Config(chosen.get("theme", ""), chosen.get("drawing") == "ascii", keys, (*faults, *wrong))
