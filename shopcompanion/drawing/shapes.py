"""What a drawing is made of: shapes in millimetres, x to the right, y up. It knows no terminal and no paper."""

from collections.abc import Callable
from math import ceil, cos, radians, sin
from typing import Literal

from ..record import NamedTuple

Pen = Literal["work", "light"]  # the work itself; what is cut away, or only laid out
Tone = Literal["wood", "off", "air"]  # what stays, what comes off, what is open
Points = tuple[tuple[float, float], ...]


class Line(NamedTuple):
    x1: float
    y1: float
    x2: float
    y2: float
    pen: Pen = "work"


class Arc(NamedTuple):
    """Part of a circle or an upright ellipse, from `start` to `end` in degrees, counter-clockwise from the right."""

    x: float
    y: float
    radius_x: float
    radius_y: float
    start: float = 0
    end: float = 360
    pen: Pen = "work"


class Dimension(NamedTuple):
    """A measure between two points; `value` (mm) is written on it in the rule's marks.

    One `of` an input or answer, by its stable name, is written as that is shown, rounded up or down.
    """

    x1: float
    y1: float
    x2: float
    y2: float
    value: float
    of: str = ""
    text: str = ""  # in place of the value in the rule's marks


class Label(NamedTuple):
    x: float
    y: float
    text: str


class Shown(NamedTuple):
    """An input or answer by its stable name, written as it is shown where `words` has `{}`."""

    x: float
    y: float
    name: str
    words: str = "{}"


class Fill(NamedTuple):
    """The area inside a closed figure, in one tone; a later fill lies over an earlier one."""

    points: Points
    tone: Tone = "wood"


Shape = Line | Arc | Dimension | Label | Shown | Fill


class Drawing(NamedTuple):
    title: str
    shapes: tuple[Shape, ...]

    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of everything but the words."""
        xs: list[float] = []
        ys: list[float] = []
        for shape in self.shapes:
            if isinstance(shape, Line | Dimension):
                xs += [shape.x1, shape.x2]
                ys += [shape.y1, shape.y2]
            elif isinstance(shape, Arc):
                xs += [shape.x - shape.radius_x, shape.x + shape.radius_x]
                ys += [shape.y - shape.radius_y, shape.y + shape.radius_y]
            elif isinstance(shape, Fill):
                xs += [x for x, _ in shape.points]
                ys += [y for _, y in shape.points]
        return min(xs), min(ys), max(xs), max(ys)

    def worded(self, say: Callable[[str], str]) -> "Drawing":
        """The drawing with its inputs and answers in words; `say` gives one by its stable name."""
        return Drawing(self.title, tuple(_worded(shape, say) for shape in self.shapes))


def _worded(shape: Shape, say: Callable[[str], str]) -> Shape:
    if isinstance(shape, Shown):
        return Label(shape.x, shape.y, shape.words.replace("{}", say(shape.name)))
    if isinstance(shape, Dimension) and shape.of:
        return shape._replace(text=say(shape.of))
    return shape


def loop(*points: tuple[float, float], pen: Pen = "work") -> tuple[Line, ...]:
    """The closed figure through `points`."""
    return tuple(Line(*a, *b, pen) for a, b in zip(points, (*points[1:], points[0]), strict=True))


def square(width: float, depth: float, pen: Pen = "work") -> tuple[Line, ...]:
    """A rectangle about the middle."""
    x, y = width / 2, depth / 2
    return loop((-x, -y), (x, -y), (x, y), (-x, y), pen=pen)


def corners(left: float, bottom: float, right: float, top: float) -> Points:
    """The corners of an upright rectangle, counter-clockwise."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def along_arc(arc: Arc) -> Points:
    """Points along an arc from its start to its end, five degrees apart or closer."""
    turn = arc.end - arc.start
    count = max(1, ceil(abs(turn) / 5))
    turns = [radians(arc.start + turn * k / count) for k in range(count + 1)]
    return tuple((arc.x + arc.radius_x * cos(t), arc.y + arc.radius_y * sin(t)) for t in turns)


def above(points: Points, level: float) -> Points:
    """The part of a figure without hollows that lies above a level; nothing where all of it lies below."""
    kept: list[tuple[float, float]] = []
    for (a, low), (b, high) in zip(points, (*points[1:], points[0]), strict=True):
        if low >= level:
            kept.append((a, low))
        if (low - level) * (high - level) < 0:
            kept.append((a + (b - a) * (level - low) / (high - low), level))
    return tuple(kept)


def mirrored(points: Points) -> Points:
    """A figure turned upside down."""
    return tuple((x, -y) for x, y in points)
