"""What a drawing is made of: shapes in millimetres, x to the right, y up. It knows no terminal and no paper."""

from typing import Literal, NamedTuple

Pen = Literal["work", "light"]  # the work itself; what is cut away, or only laid out


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
    """A measure between two points; `value` (mm) is written at its middle by whoever renders, in the rule's marks."""

    x1: float
    y1: float
    x2: float
    y2: float
    value: float


class Label(NamedTuple):
    x: float
    y: float
    text: str


Shape = Line | Arc | Dimension | Label


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
        return min(xs), min(ys), max(xs), max(ys)


def loop(*points: tuple[float, float], pen: Pen = "work") -> tuple[Line, ...]:
    """The closed figure through `points`."""
    return tuple(Line(*a, *b, pen) for a, b in zip(points, (*points[1:], points[0]), strict=True))


def square(width: float, depth: float, pen: Pen = "work") -> tuple[Line, ...]:
    """A rectangle about the middle."""
    x, y = width / 2, depth / 2
    return loop((-x, -y), (x, -y), (x, y), (-x, y), pen=pen)
