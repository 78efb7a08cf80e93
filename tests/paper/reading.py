"""What was written for print, read back with libraries that had no part in writing it: pdfminer.six and pypdf."""

from collections.abc import Iterator
from io import BytesIO
from typing import NamedTuple

from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar, LTComponent, LTCurve, LTFigure, LTPage
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pypdf import PdfReader

MM = 25.4 / 72  # of a PDF's unit


class Word(NamedTuple):
    """Letters without a blank, in the order of the file: where they stand (mm from the sheet's top left corner, to the
    baseline), how wide, and the size of the type in points.
    """

    text: str
    x: float
    y: float
    wide: float
    size: float
    upright: bool


class Drawn(NamedTuple):
    """A path as it is drawn: its points in mm from the top left corner, the width of the line and its dashes in mm."""

    points: list[tuple[float, float]]
    width: float
    dash: tuple[float, ...]
    stroked: bool


class Sheet(NamedTuple):
    width: float
    height: float
    words: list[Word]
    drawn: list[Drawn]

    def text(self) -> str:
        return " ".join(word.text for word in self.words)


def sheets(data: bytes) -> list[Sheet]:
    """Every page of a PDF."""
    pages, resources = [], PDFResourceManager()
    device = PDFPageAggregator(resources, laparams=None)  # without, so that letters come in the order of the file
    reader = PDFPageInterpreter(resources, device)
    for page in PDFPage.get_pages(BytesIO(data)):
        reader.process_page(page)
        pages.append(_sheet(device.get_result()))
    return pages


def _sheet(page: LTPage) -> Sheet:
    parts = list(_parts(page))
    words = list(_words([part for part in parts if isinstance(part, LTChar)], page.height))
    drawn = [
        Drawn(
            [(x * MM, (page.height - y) * MM) for x, y in curve.pts],
            curve.linewidth * MM,
            tuple(length * MM for length in (curve.dashing_style or ((), 0))[0]),
            bool(curve.stroke),
        )
        for curve in parts
        if isinstance(curve, LTCurve)
    ]
    return Sheet(page.width * MM, page.height * MM, words, drawn)


def _parts(container: LTPage | LTFigure) -> Iterator[LTComponent]:
    for part in container:
        if isinstance(part, LTFigure):
            yield from _parts(part)
        else:
            yield part


def _words(letters: list[LTChar], high: float) -> Iterator[Word]:
    here: list[LTChar] = []
    for letter in letters:
        if here and (not letter.get_text().strip() or not _goes_on(here[-1], letter)):
            yield _word(here, high)
            here = []
        if letter.get_text().strip():
            here.append(letter)
    if here:
        yield _word(here, high)


def _goes_on(before: LTChar, letter: LTChar) -> bool:
    a, b = before.matrix, letter.matrix
    if abs(a[1]) > 1e-6 or abs(b[1]) > 1e-6:  # turned: along its own line
        return a[:4] == b[:4] and abs(b[4] - a[4]) + abs(b[5] - a[5]) < 1.6 * before.size
    return abs(a[5] - b[5]) < 0.05 and abs(letter.x0 - before.x1) < 0.12 * before.size


def _word(letters: list[LTChar], high: float) -> Word:
    first, last = letters[0], letters[-1]
    text = "".join(letter.get_text() for letter in letters)
    x, y = first.matrix[4], first.matrix[5]
    return Word(
        text, x * MM, (high - y) * MM, (last.x1 - first.x0) * MM, round(first.size, 2), abs(first.matrix[1]) < 1e-6
    )


def out_of_place(page: Sheet, margin: float) -> list[tuple[Word, ...]]:
    """Words that lie in the margin, and pairs of words that lie on one another; turned ones are not looked at."""
    words = sorted((word for word in page.words if word.upright), key=lambda word: word.y)
    pairs: list[tuple[Word, ...]] = [
        (word,)
        for word in words
        if word.x < margin - 0.01 or word.x + word.wide > page.width - margin + 0.01
        or _top(word) < margin - 0.01 or word.y > page.height - margin + 0.01
    ]  # fmt: skip
    for place, word in enumerate(words):
        for other in words[place + 1 :]:
            if other.y - word.y > 12:
                break
            apart = other.x >= word.x + word.wide - 0.05 or word.x >= other.x + other.wide - 0.05
            if not apart and _top(other) < word.y - 0.05:
                pairs.append((word, other))
    return pairs


def _top(word: Word) -> float:
    return word.y - 0.6 * word.size * MM


def bookmarks(data: bytes) -> list[tuple[int, str, int]]:
    """How deep, the words, and the number of the page, of every bookmark."""
    reader = PdfReader(BytesIO(data))

    def of(entries: list, depth: int) -> Iterator[tuple[int, str, int]]:  # type: ignore[type-arg]
        for entry in entries:
            if isinstance(entry, list):
                yield from of(entry, depth + 1)
            else:
                yield depth, str(entry.title), reader.get_destination_page_number(entry) + 1

    return list(of(reader.outline, 0))


def fonts(data: bytes) -> dict[str, bool]:
    """Every font of the file by its name, and whether its letters are embedded."""
    names = {}
    for page in PdfReader(BytesIO(data)).pages:
        for named in page["/Resources"]["/Font"].values():
            for entry in named.get_object()["/DescendantFonts"]:
                font = entry.get_object()
                names[str(font["/BaseFont"])] = "/FontFile2" in font["/FontDescriptor"].get_object()
    return names
