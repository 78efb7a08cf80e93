"""What is drawn on a sheet: strokes, arcs and words in millimetres. They know no file format.

Templates have y upwards; on a sheet it runs down from its top edge, as `flipped` turns it.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import acos, ceil, cos, hypot, inf, radians, sin
from typing import Literal

from ..record import NamedTuple

Pen = Literal["cut", "scribe", "centre", "thin", "heavy", "light", "none"]  # none: only filled
Point = tuple[float, float]
_CHORD = 0.004  # mm that a chord may be within its arc


class Style(NamedTuple):
    """How a pen draws: width and dashes in mm, and a grey from 0, black, to 1."""

    width: float
    dash: tuple[float, float] | None = None
    grey: float = 0.0


# What is cut and what is only scribed are told apart by width, dashes and the word beside them, never by a colour.
STYLES: dict[Pen, Style] = {
    "cut": Style(0.35),
    "scribe": Style(0.25, (3.0, 1.5)),
    "centre": Style(0.18, (9.0, 2.0)),
    "thin": Style(0.15),
    "heavy": Style(0.6),
    "light": Style(0.12, None, 0.45),
    "none": Style(0.0),
}


class Stroke(NamedTuple):
    """Straight lines through points; `fill` is the grey within a closed one."""

    points: tuple[Point, ...]
    pen: Pen = "thin"
    closed: bool = False
    fill: float | None = None


class ArcMark(NamedTuple):
    """Part of a circle or an upright ellipse, from `start` to `end` in degrees, counter-clockwise with y upwards."""

    x: float
    y: float
    radius_x: float
    radius_y: float
    start: float = 0.0
    end: float = 360.0
    pen: Pen = "thin"


class TextMark(NamedTuple):
    """A line of text: its baseline begins, is centred or ends at the point. `size` is in points, `turn` in degrees
    counter-clockwise as it is seen.
    """

    x: float
    y: float
    text: str
    size: float = 9.0
    bold: bool = False
    align: Literal["left", "centre", "right"] = "left"
    turn: float = 0.0
    grey: float = 0.0


Mark = Stroke | ArcMark | TextMark
Box = tuple[float, float, float, float]  # least x, least y, greatest x, greatest y


class Page(NamedTuple):
    """A sheet with what is on it. `named` are bookmarks: how deep, and the words."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    named: tuple[tuple[int, str], ...] = ()


def line(x1: float, y1: float, x2: float, y2: float, pen: Pen = "thin") -> Stroke:
    return Stroke(((x1, y1), (x2, y2)), pen)


def loop(points: Sequence[Point], pen: Pen = "thin", fill: float | None = None) -> Stroke:
    return Stroke(tuple(points), pen, True, fill)


def rectangle(box: Box, pen: Pen = "thin", fill: float | None = None) -> Stroke:
    left, low, right, high = box
    return loop(((left, low), (right, low), (right, high), (left, high)), pen, fill)


def along(arc: ArcMark) -> tuple[Point, ...]:
    """Points of an arc, chords that leave it by no more than a few thousandths of a millimetre."""
    radius = max(arc.radius_x, arc.radius_y, 10 * _CHORD)
    turn = radians(arc.end - arc.start)
    count = max(2, ceil(abs(turn) / (2 * acos(1 - _CHORD / radius))))
    angles = [radians(arc.start) + turn * k / count for k in range(count + 1)]
    return tuple((arc.x + arc.radius_x * cos(a), arc.y + arc.radius_y * sin(a)) for a in angles)


def bounds(marks: Iterable[Mark]) -> Box:
    """The box of everything but the words; of nothing drawn, an empty one at the middle."""
    xs, ys = [], []
    for mark in marks:
        if isinstance(mark, TextMark):
            continue
        for x, y in along(mark) if isinstance(mark, ArcMark) else mark.points:
            xs.append(x)
            ys.append(y)
    return (min(xs), min(ys), max(xs), max(ys)) if xs else (0.0, 0.0, 0.0, 0.0)


def moved(marks: Iterable[Mark], x: float, y: float) -> tuple[Mark, ...]:
    """The same marks elsewhere."""
    made: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            made.append(mark._replace(points=tuple((a + x, b + y) for a, b in mark.points)))
        else:
            made.append(mark._replace(x=mark.x + x, y=mark.y + y))
    return tuple(made)


def turned(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The same marks a quarter turn further, counter-clockwise about the origin, with y upwards."""
    made: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            made.append(mark._replace(points=tuple((-y, x) for x, y in mark.points)))
        elif isinstance(mark, TextMark):
            made.append(mark._replace(x=-mark.y, y=mark.x, turn=mark.turn + 90))
        else:
            made.append(
                ArcMark(-mark.y, mark.x, mark.radius_y, mark.radius_x, mark.start + 90, mark.end + 90, mark.pen)
            )
    return tuple(made)


def flipped(marks: Iterable[Mark], left: float, top: float, by: Point = (1.0, 1.0)) -> tuple[Mark, ...]:
    """Marks with y upwards put on a sheet, whose y runs down: their origin at `left` and `top`, stretched `by` as much
    across and along. Arcs become strokes.
    """
    across, down = by
    made: list[Mark] = []
    for mark in marks:
        if isinstance(mark, TextMark):
            made.append(mark._replace(x=left + mark.x * across, y=top - mark.y * down))
            continue
        points = along(mark) if isinstance(mark, ArcMark) else mark.points
        placed = tuple((left + x * across, top - y * down) for x, y in points)
        made.append(Stroke(placed, mark.pen) if isinstance(mark, ArcMark) else mark._replace(points=placed))
    return tuple(made)


def within(marks: Iterable[Mark], box: Box) -> tuple[Mark, ...]:
    """What of the marks lies in the box: strokes cut off at its sides, words that begin in it. Fills are dropped where
    a closed stroke is cut.
    """
    left, low, right, high = box
    made: list[Mark] = []
    for mark in marks:
        if isinstance(mark, TextMark):
            if left <= mark.x < right and low <= mark.y < high:
                made.append(mark)
            continue
        points = along(mark) if isinstance(mark, ArcMark) else mark.points
        if all(left <= x <= right and low <= y <= high for x, y in points):
            made.append(mark)
            continue
        if isinstance(mark, Stroke) and mark.closed:
            points = (*points, points[0])
        made += [Stroke(piece, mark.pen) for piece in _pieces(points, box)]
    return tuple(made)


def _pieces(points: Sequence[Point], box: Box) -> list[tuple[Point, ...]]:
    """The parts of a line through points that lie in the box (Liang and Barsky, a side at a time)."""
    pieces: list[list[Point]] = []
    goes_on = False
    for a, b in pairwise(points):
        span = _clipped(a, b, box)
        if span is None:
            goes_on = False
            continue
        first, last = (_between(a, b, t) for t in span)
        if goes_on and span[0] == 0.0:
            pieces[-1].append(last)
        else:
            pieces.append([first, last])
        goes_on = span[1] == 1.0
    return [tuple(piece) for piece in pieces if hypot(piece[-1][0] - piece[0][0], piece[-1][1] - piece[0][1]) > 0
            or len(piece) > 2]  # fmt: skip


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


def _clipped(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """The share of the way from a to b at which it comes into the box and at which it leaves it."""
    left, low, right, high = box
    start, end = 0.0, 1.0
    run, rise = b[0] - a[0], b[1] - a[1]
    for part, room in ((-run, a[0] - left), (run, right - a[0]), (-rise, a[1] - low), (rise, high - a[1])):
        if part == 0:
            if room < 0:
                return None
            continue
        share = room / part
        if part < 0:
            start = max(start, share)
        else:
            end = min(end, share)
    return (start, end) if start <= end else None


def hatched(
    outside: Sequence[Point], inside: Sequence[Point] = (), apart: float = 1.6, pen: Pen = "light"
) -> list[Mark]:
    """Lines aslant over the area of a closed figure that is not within the other: wood that comes off."""
    edges = [*_sides(outside), *(_sides(inside) if inside else [])]
    offsets = [x - y for x, y in outside]
    marks: list[Mark] = []
    level = ceil(min(offsets) / apart) * apart
    while level < max(offsets):
        crossed = sorted(_crossings(edges, level))
        for x1, x2 in zip(crossed[::2], crossed[1::2], strict=False):
            if x2 - x1 > 1e-6:
                marks.append(line(x1, x1 - level, x2, x2 - level, pen))
        level += apart
    return marks


def _sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(points, (*points[1:], points[0]), strict=True))


def _crossings(edges: Iterable[tuple[Point, Point]], level: float) -> list[float]:
    """Where x − y = level crosses the edges, by x; an edge has its lower end and not its upper one."""
    crossings = []
    for (x1, y1), (x2, y2) in edges:
        a, b = x1 - y1 - level, x2 - y2 - level
        if (a < 0) != (b < 0):
            crossings.append(x1 + (x2 - x1) * a / (a - b))
    return crossings


NOWHERE: Box = (inf, inf, -inf, -inf)


def around(boxes: Iterable[Box]) -> Box:
    """The box of boxes."""
    left, low, right, high = NOWHERE
    for box in boxes:
        left, low, right, high = min(left, box[0]), min(low, box[1]), max(right, box[2]), max(high, box[3])
    return left, low, right, high
