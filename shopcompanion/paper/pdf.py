"""Pages as a PDF file: vectors, letters embedded, no clock and no network. The only module that knows fpdf2."""

from collections.abc import Sequence
from datetime import UTC, datetime

from .. import __version__
from .faces import face, width, written
from .marks import STYLES, ArcMark, Mark, Page, Pen, Stroke, TextMark, along

_FAMILY = "card"


def pdf(pages: Sequence[Page], title: str, date: str | None = None) -> bytes:
    """The file. The same pages, title, version and date (as 2026-05-02) give the same bytes; without a date it has
    today's.
    """
    from fpdf import FPDF

    made = FPDF(unit="mm")
    made.set_auto_page_break(False)
    made.set_margin(0)
    made.set_title(written(title))
    made.set_creator(f"shopcompanion {__version__}")
    made.set_producer("fpdf2")
    made.set_creation_date(datetime.fromisoformat(date or datetime.now().date().isoformat()).replace(tzinfo=UTC))
    for bold in (False, True):
        made.add_font(_FAMILY, "B" if bold else "", face(bold).path)
    for page in pages:
        made.add_page(format=(page.width, page.height))
        made._out("0 J")  # a line ends where it ends: fpdf2 would draw it on by half its width
        for level, words in page.named:
            made.start_section(written(words) or "-", level)
        _Ink(made).draw(page.marks)
    return bytes(made.output())


class _Ink:
    """What is set on the page, so that it is set again only where it changes."""

    def __init__(self, made: "FPDF") -> None:  # type: ignore[name-defined]  # noqa: F821
        self.made = made
        self.pen: Pen | None = None
        self.font: tuple[bool, float] | None = None
        self.grey = -1.0

    def draw(self, marks: Sequence[Mark]) -> None:
        for mark in marks:
            if isinstance(mark, TextMark):
                self._words(mark)
            else:
                self._stroke(Stroke(along(mark), mark.pen) if isinstance(mark, ArcMark) else mark)

    def _stroke(self, stroke: Stroke) -> None:
        made = self.made
        if stroke.pen not in (self.pen, "none"):
            style = STYLES[stroke.pen]
            made.set_line_width(style.width)
            made.set_draw_color(round(255 * style.grey))
            made.set_dash_pattern(*(style.dash or (0, 0)))
            self.pen = stroke.pen
        if stroke.fill is not None:
            made.set_fill_color(round(255 * stroke.fill))
        style_of = "D" if stroke.fill is None else "F" if stroke.pen == "none" else "DF"
        made.polyline(list(stroke.points), polygon=stroke.closed, style=style_of)

    def _words(self, words: TextMark) -> None:
        made, text = self.made, written(words.text)
        if (words.bold, words.size) != self.font:
            made.set_font(_FAMILY, "B" if words.bold else "", words.size)
            self.font = (words.bold, words.size)
        if words.grey != self.grey:
            made.set_text_color(round(255 * words.grey))
            self.grey = words.grey
        part = {"left": 0.0, "centre": 0.5, "right": 1.0}[words.align]
        x = words.x - part * width(text, words.size, words.bold) if not words.turn else words.x
        if not words.turn:
            made.text(x, words.y, text)
            return
        with made.rotation(words.turn, words.x, words.y):
            made.text(words.x - part * width(text, words.size, words.bold), words.y, text)
        self.pen = self.font = None
        self.grey = -1.0
