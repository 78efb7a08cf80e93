"""What the commands that make a PDF have in common: the sheet, and the file, which is whole or not there."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import InputFault, printable
from ..lengths import Rule
from ..storage.atomic import first_bytes, make_folder, replace, there
from .grammar import Given, one_of
from .output import say

if TYPE_CHECKING:
    from ..paper.marks import Page
    from ..paper.sheets import PaperSheet

_PDF = b"%PDF-"


def sheet_for(given: Given, rule: Rule) -> "PaperSheet":
    """The sheet that is asked for, or the one usual where the rule is. InputFault when it is none."""
    from ..paper.sheets import SHEETS, usual

    name = one_of(given, "paper", tuple(SHEETS))
    return SHEETS[name] if name else usual(rule)


def refuse_beside_pdf(given: Given, *others: str) -> None:
    """InputFault for --paper without a PDF, and for another way of writing beside one."""
    if "pdf" not in given and "paper" in given:
        raise InputFault("is for a PDF: give --pdf FILE as well", "paper")
    for name in others:
        if "pdf" in given and name in given:
            raise InputFault("is not for a PDF: leave it out, or --pdf", name)


def keep_pdf(given: Given, pages: Sequence["Page"], title: str, date: str | None) -> None:
    """Make the file of `--pdf`, and say where it is. A file that is there already is replaced only if it is a PDF."""
    from ..paper.pdf import pdf

    path = free_for(Path(given["pdf"]), _PDF, "pdf")
    replace(path, pdf(pages, title, date))
    say(f"{printable(str(path), 200)}: {len(pages)} page{'s' if len(pages) != 1 else ''}")


def keep_drawings(folder: Path, option: str, begins: bytes, files: Mapping[str, str]) -> None:
    """Make a file of each text by its name, and say where. None is made where one would take the place of another's."""
    make_folder(folder)
    paths = [free_for(folder / name, begins, option) for name in files]
    for path, text in zip(paths, files.values(), strict=True):
        replace(path, text.encode())
    say(f"{printable(str(folder), 200)}: {len(paths)} drawing{'s' if len(paths) != 1 else ''}")


def free_for(path: Path, begins: bytes, option: str) -> Path:
    """The path, where no file of another kind is. InputFault where one is, which is left as it is."""
    if there(path) and first_bytes(path, len(begins)) != begins:
        raise InputFault(
            f"{printable(str(path), 200)} exists already and is another kind of file: give another name",
            option,
        )
    return path
