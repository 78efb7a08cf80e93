"""The two cuts of the typeface on paper, Source Sans Pro (SIL Open Font Licence 1.1), and how wide words are in them.

The font files come with the package `font-source-sans-pro`; only the letters used are put into a PDF.
"""

from functools import cache
from importlib.util import find_spec
from pathlib import Path

from ..errors import CompanionError
from ..record import NamedTuple

POINT = 25.4 / 72  # mm
CAPITAL = 0.66  # of its size is the height of a capital or a digit (the font's own cap height, 660 of 1000)
_PACKAGE = "font_source_sans_pro"
_FILES = {False: "SourceSansPro-Regular.ttf", True: "SourceSansPro-Semibold.ttf"}
# Letters that the typeface lacks or that are drawn instead, and what is written for them.
_WRITTEN = {"⚠": "!", "╵": "'", "─": "–", "⇠": "←", "\t": " "}


class Face(NamedTuple):
    """The widths of a cut's letters in thousandths of its size."""

    path: Path
    widths: dict[int, float]


@cache
def face(bold: bool = False) -> Face:
    """CompanionError when the font is not installed."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    spec = find_spec(_PACKAGE)
    if spec is None or spec.origin is None:
        raise CompanionError("the font for paper is not installed: pip install font-source-sans-pro")
    path = Path(spec.origin).parent / "files" / _FILES[bold]
    with TTFont(path, lazy=True) as font:
        unit = font["head"].unitsPerEm
        advances = font["hmtx"].metrics
        return Face(path, {code: 1000 * advances[name][0] / unit for code, name in font.getBestCmap().items()})


def written(text: str) -> str:
    """`text` in letters that the typeface has, as near as may be."""
    known = face().widths
    if all(ord(letter) in known for letter in text):
        return text
    return "".join(letter if ord(letter) in known else _WRITTEN.get(letter, "?") for letter in text)


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` is at a size in points, in mm.

    >>> round(width("88", 72 / 25.4 * 10), 2) == 2 * round(width("1", 72 / 25.4 * 10), 2)
    True
    """
    widths = face(bold).widths
    return sum(widths.get(ord(letter), 0.0) for letter in written(text)) * size * POINT / 1000
