"""Pages that are written for people, beside the boats: what is there already is not written over unasked, and kept."""

import os
from pathlib import Path

from ..errors import printable
from .atomic import KeepError, contents, create, make_folder, replace


def written_new(path: Path, data: bytes) -> bool:
    """Write a page where nothing is yet. False when a file is there, which stays. KeepError for a link, or when it
    cannot be written.
    """
    make_folder(path.parent)
    if os.path.islink(path):
        raise KeepError(f"{printable(str(path), 200)} is a link: nothing is written through it, remove it first")
    return create(path, data)


def kept_as(path: Path) -> Path:
    """Where what stands at `path` would be kept: the first name with a number that is free."""
    number = 1
    while os.path.lexists(kept := path.with_name(f"{path.stem}-{number}{path.suffix}")):
        number += 1
    return kept


def write_over(path: Path, data: bytes) -> Path:
    """Write a page in the place of another, which is kept; where that is. KeepError for a link, or a full disk."""
    old = contents(path, follow=False)
    while not create(kept := kept_as(path), old, like=path):
        pass  # another program was faster: the next name
    replace(path, data, like=path)
    return kept
