"""A drawing as lines of text: areas in two tones, lines in braille dots over them, measures; or all in plain ASCII."""

from math import ceil, cos, floor, hypot, radians, sin

from ..lengths import Rule, show
from ..record import NamedTuple
from .runs import add_to
from .shapes import Arc, Dimension, Drawing, Fill, Label, Line, Shape

# Dot (column, row) of a braille cell to its bit, per the Unicode block U+2800.
BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
# A piece of a line, and its role: `wood`, `off` or nothing, then `line` or `word` if one stands on it.
Run = tuple[str, str]
_TONES = {False: {"wood": "▓", "off": "░"}, True: {"wood": ":", "off": "."}}
_ACROSS, _UPRIGHT = {False: ("├", "─", "┤"), True: ("|", "-", "|")}, {False: ("┬", "│", "┴"), True: ("-", "|", "-")}


def render(
    drawing: Drawing, columns: int, rows: int, rule: Rule, ascii_only: bool = False, *, filled: bool = True
) -> list[str]:
    """`drawing` to scale in `rows` lines of `columns` characters; without `filled` in lines and words alone."""
    lines = painted(drawing, columns, rows, rule, ascii_only, filled=filled)
    return ["".join(text for text, _ in line) for line in lines]


def painted(
    drawing: Drawing, columns: int, rows: int, rule: Rule, ascii_only: bool = False, *, filled: bool = True
) -> list[list[Run]]:
    """The lines of `render` with the role of every piece, for whoever has colours.

    A character is taken to be twice as high as wide. A word for which there is no room is left out, so that none
    stands in another.
    """
    frame = _Frame.of(drawing, columns, rows, ascii_only)
    letters = [[" "] * columns for _ in range(rows)]
    roles = [[""] * columns for _ in range(rows)]
    if filled:
        for shape in drawing.shapes:
            if isinstance(shape, Fill):
                _fill(frame, shape, letters, roles)
    cells: dict[tuple[int, int], int] = {}
    for shape in drawing.shapes:
        if isinstance(shape, Line | Arc) or (isinstance(shape, Dimension) and not frame.straight(shape)):
            _dot(frame, shape, cells)
    for (c, r), bits in cells.items():
        letters[r][c], roles[r][c] = "*" if ascii_only else chr(0x2800 + bits), f"{roles[r][c]} line".strip()
    words = _Words(frame, letters, roles)
    measures = [shape for shape in drawing.shapes if isinstance(shape, Dimension)]
    for measure in filter(frame.straight, measures):
        words.line(measure)
    for measure in measures:
        words.measure(measure, measure.text or show(measure.value, rule))
    for shape in drawing.shapes:
        if isinstance(shape, Label):
            words.put(*frame.cell(shape.x, shape.y), shape.text)
    lines: list[list[Run]] = [[] for _ in range(rows)]
    for runs, line, kinds in zip(lines, letters, roles, strict=True):
        for letter, role in zip(line, kinds, strict=True):
            add_to(runs, letter, role)
    return lines


class _Frame(NamedTuple):
    """Where the millimetres of a drawing lie in characters, and in the dots of which a character has several."""

    columns: int
    rows: int
    ascii_only: bool
    left: float
    top: float
    scale: float  # dots for a millimetre, across
    aspect: float  # of that, dots up
    off_x: float
    off_y: float

    @classmethod
    def of(cls, drawing: Drawing, columns: int, rows: int, ascii_only: bool) -> "_Frame":
        left, bottom, right, top = drawing.bounds()
        across, up = (1, 1) if ascii_only else (2, 4)
        dots_x, dots_y = columns * across, rows * up
        aspect = (1 / across) / (2 / up)  # a dot is 1/across wide and 2/up high, in widths of a character
        scale = min((dots_x - 1) / (right - left or 1), (dots_y - 1) / (top - bottom or 1) / aspect)
        off_x = (dots_x - 1 - (right - left) * scale) / 2
        off_y = (dots_y - 1 - (top - bottom) * scale * aspect) / 2
        return cls(columns, rows, ascii_only, left, top, scale, aspect, off_x, off_y)

    @property
    def dots(self) -> tuple[int, int]:
        """Dots of a character, across and up."""
        return (1, 1) if self.ascii_only else (2, 4)

    def dot(self, x: float, y: float) -> tuple[int, int]:
        down = (self.top - y) * self.scale * self.aspect
        return round(self.off_x + (x - self.left) * self.scale), round(self.off_y + down)

    def cell(self, x: float, y: float) -> tuple[int, int]:
        (column, row), (across, up) = self.dot(x, y), self.dots
        return column // across, row // up

    def middle(self, row: int) -> float:
        """The height, mm, of the middle of a row of characters."""
        up = self.dots[1]
        return self.top - (up * (row + 0.5) - 0.5 - self.off_y) / self.scale / self.aspect

    def between(self, left: float, right: float) -> range:
        """The columns of characters whose middle lies from one place across, mm, to another."""
        first, last = (((x - self.left) * self.scale + self.off_x + 0.5) / self.dots[0] - 0.5 for x in (left, right))
        return range(max(0, ceil(first - 1e-9)), min(self.columns - 1, floor(last + 1e-9)) + 1)

    def straight(self, shape: Dimension) -> bool:
        """Whether a measure lies level or upright, so that it is drawn with ends."""
        (c1, r1), (c2, r2) = self.cell(shape.x1, shape.y1), self.cell(shape.x2, shape.y2)
        return c1 == c2 or r1 == r2

    def along(self, shape: Dimension) -> list[tuple[int, int]]:
        """The characters of a measure, from the left or the top; of a slanting one the middle alone."""
        (c1, r1), (c2, r2) = self.cell(shape.x1, shape.y1), self.cell(shape.x2, shape.y2)
        if r1 == r2:
            return [(column, r1) for column in range(min(c1, c2), max(c1, c2) + 1)]
        if c1 == c2:
            return [(c1, row) for row in range(min(r1, r2), max(r1, r2) + 1)]
        return [self.cell((shape.x1 + shape.x2) / 2, (shape.y1 + shape.y2) / 2)]


def _fill(frame: _Frame, shape: Fill, letters: list[list[str]], roles: list[list[str]]) -> None:
    """Put the tone of an area into every character whose middle lies in it."""
    edges = list(zip(shape.points, (*shape.points[1:], shape.points[0]), strict=True))
    letter = _TONES[frame.ascii_only].get(shape.tone, " ")
    role = "" if shape.tone == "air" else shape.tone
    for row in range(frame.rows):
        y = frame.middle(row)
        passes = sorted(x1 + (x2 - x1) * (y - y1) / (y2 - y1) for (x1, y1), (x2, y2) in edges if (y1 > y) != (y2 > y))
        for start, end in zip(passes[::2], passes[1::2], strict=True):
            for column in frame.between(start, end):
                letters[row][column], roles[row][column] = letter, role


def _dot(frame: _Frame, shape: Line | Arc | Dimension, cells: dict[tuple[int, int], int]) -> None:
    """Put the dots of a line into the characters it passes; one of the light pen is broken."""
    across, up = frame.dots
    for index, (x, y) in enumerate(frame.dot(*point) for point in _points(shape, frame.scale)):
        if getattr(shape, "pen", "work") == "light" and index // 2 % 2:
            continue
        if 0 <= x < frame.columns * across and 0 <= y < frame.rows * up:
            key = (x // across, y // up)
            cells[key] = cells.get(key, 0) | BITS[x % across][y % up]


class _Words:
    """The measures and words of a drawing, none over another."""

    def __init__(self, frame: _Frame, letters: list[list[str]], roles: list[list[str]]) -> None:
        self._frame, self._letters, self._roles = frame, letters, roles
        self._taken: set[tuple[int, int]] = set()

    def line(self, shape: Dimension) -> None:
        """The line of a measure that lies level or upright, with its ends."""
        cells = self._frame.along(shape)
        signs = (_ACROSS if cells[0][1] == cells[-1][1] else _UPRIGHT)[self._frame.ascii_only]
        for place, cell in enumerate(cells):
            self._write(*cell, signs[0 if place == 0 else 2 if place == len(cells) - 1 else 1], "line")

    def measure(self, shape: Dimension, text: str) -> None:
        """The size of a measure: on its line where that is long enough, else over or under it, or past an end."""
        cells = self._frame.along(shape)
        (left, top), (right, bottom) = cells[0], cells[-1]
        level, column, row, half = top == bottom, (left + right) // 2, (top + bottom) // 2, len(text) // 2
        if not self._frame.straight(shape) or len(cells) >= (len(text) + 2 if level else 5):
            self.put(column, row, text, on_line=True)
            return
        places = [(column, row - 1), (column, row + 1)] if level else []
        for place in (*places, (right + 2 + half, row), (left - 1 - len(text) + half, row)):
            if self._room(*place, text):
                self.put(*place, text)
                return
        self.put(column, row, text)

    def put(self, column: int, row: int, text: str, *, on_line: bool = False) -> None:
        """A word about a place, or as near above or below it as is free, off the lines if it can.

        It is left out where nothing is free.
        """
        text = self._plain(text)[: self._frame.columns]
        start = max(0, min(self._frame.columns - len(text), column - len(text) // 2))
        row = min(max(row, 0), self._frame.rows - 1)
        near = (row, row + 1, row - 1, row + 2, row - 2)
        free = [at for at in near if 0 <= at < self._frame.rows and self._free(start, at, text)]
        clear = free if on_line else [at for at in free if not self._on_line(start, at, text)]
        for at in (clear or free)[:1]:
            self._put(start, at, text)

    def _plain(self, text: str) -> str:
        if not self._frame.ascii_only:
            return text
        return text.replace("°", " deg").replace("—", "-").encode("ascii", "replace").decode()

    def _room(self, column: int, row: int, text: str) -> bool:
        """Whether a word stands about there without being moved, over nothing but a tone."""
        start = column - len(text) // 2
        inside = 0 <= row < self._frame.rows and start >= 0 and start + len(text) <= self._frame.columns
        return inside and self._free(start, row, text) and not self._on_line(start, row, text)

    def _on_line(self, start: int, row: int, text: str) -> bool:
        return any(role.endswith("line") for role in self._roles[row][start : start + len(text)])

    def _free(self, start: int, row: int, text: str) -> bool:
        return not any((column, row) in self._taken for column in range(start - 1, start + len(text) + 1))

    def _put(self, start: int, row: int, text: str) -> None:
        for column in (start - 1, start + len(text)):  # a blank on either side, but for a line
            if 0 <= column < self._frame.columns and self._roles[row][column] in _TONES[False]:
                self._write(column, row, " ", "word")
        for offset, letter in enumerate(text):
            self._write(start + offset, row, letter, "word")
            self._taken.add((start + offset, row))

    def _write(self, column: int, row: int, letter: str, role: str) -> None:
        if 0 <= column < self._frame.columns and 0 <= row < self._frame.rows:
            tone = self._roles[row][column].split(" ")[0]
            self._letters[row][column] = letter
            self._roles[row][column] = f"{tone} {role}" if tone in _TONES[False] else role


def _points(shape: Shape, scale: float) -> list[tuple[float, float]]:
    """Points along the shape, a dot apart or closer."""
    if isinstance(shape, Arc):
        turn = radians(shape.end - shape.start)
        count = max(2, ceil(abs(turn) * max(shape.radius_x, shape.radius_y) * scale))
        angles = [radians(shape.start) + turn * k / count for k in range(count + 1)]
        return [(shape.x + shape.radius_x * cos(t), shape.y + shape.radius_y * sin(t)) for t in angles]
    if isinstance(shape, Line | Dimension):
        run, rise = shape.x2 - shape.x1, shape.y2 - shape.y1
        count = max(1, ceil(hypot(run, rise) * scale))
        return [(shape.x1 + run * k / count, shape.y1 + rise * k / count) for k in range(count + 1)]
    return []
