"""The drawing of a lap: the stock from the side with its laps, and under it the face that they are cut in."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Line, Shape, along_arc, corners, loop
from ..record import NamedTuple

if TYPE_CHECKING:
    from .lap import Answers, Inputs


class _Window(NamedTuple):
    """The stretch of the stock that is drawn, mm from its end: all of it, or what lies about the laps."""

    start: float
    stop: float
    end: float


def _window(inputs: "Inputs", answers: "Answers") -> _Window:
    first, last = answers.shoulder_lines[0][0], answers.shoulder_lines[-1][1]
    if len(answers.shoulder_lines) == 1 and answers.next_at is not None:
        last = answers.next_at + inputs.crossing_width / 2
    end = last + answers.least_end if inputs.length is None else inputs.length
    about = 1.5 * max(inputs.crossing_width, inputs.stock_thickness)
    start, stop = max(0.0, first - about), min(end, last + about)
    return _Window(start if start > about else 0.0, stop if end - stop > about else end, end)


def _side(inputs: "Inputs", answers: "Answers", shown: _Window) -> Iterator[Shape]:
    """The stock from the side, its laps cut in the upper face."""
    top = inputs.stock_thickness / 2
    floor = top - answers.lap_depth
    outline = [(shown.start, top)]
    for near, far in answers.shoulder_lines:
        outline += [(near, top), (near, floor), (far, floor), (far, top)]
    outline += [(shown.stop, top), (shown.stop, -top), (shown.start, -top)]
    yield Fill(corners(shown.start, -top, shown.stop, top), "off")
    yield Fill(tuple(outline))
    for near, far in answers.shoulder_lines:
        yield Line(near, top, far, top, "light")
    yield from _unbroken(loop(*outline), shown)
    if answers.set_back:
        for x, way in ((0.0, 1), (shown.end, -1)):
            if shown.start <= x <= shown.stop:
                back = x + way * answers.set_back
                yield Line(x, -top + inputs.chamfer, back, -top)
                yield Line(x, top - inputs.chamfer, back, top)
    near, far = answers.shoulder_lines[0]
    yield Dimension((near + far) / 2, floor, (near + far) / 2, top, answers.lap_depth)
    for number, (near, far) in enumerate(answers.shoulder_lines, 1):
        yield Label((near + far) / 2, -top / 2, str(number))


def _unbroken(lines: Iterable[Line], shown: _Window) -> Iterator[Line]:
    """Lines without those at which the stock is broken off in the drawing."""
    breaks = {shown.start, shown.stop} - {0.0, shown.end}
    return (line for line in lines if line.x1 != line.x2 or line.x1 not in breaks)


def _face(inputs: "Inputs", answers: "Answers", shown: _Window, below: float) -> Iterator[Shape]:
    """Looking on the laps: one post, or two around the spar with their crossings; `below` is their upper edge."""
    wide, (start, stop, _) = inputs.stock_width, shown
    if answers.inside_width is None or answers.crossing_length is None:
        post = corners(start, below - wide, stop, below)
        yield Fill(post)
        for near, far in answers.shoulder_lines:
            yield Fill(corners(near, below - wide, far, below), "off")
        yield from _unbroken(loop(*post), shown)
        for lines in answers.shoulder_lines:
            for x in lines:
                yield Line(x, below, x, below - wide)
        return
    past, long = answers.past_posts, answers.crossing_length
    upper = below - past
    lower = upper - wide - answers.inside_width
    crossings = list(answers.shoulder_lines)
    if len(crossings) == 1 and answers.next_at is not None:
        half = inputs.crossing_width / 2
        crossings.append((answers.next_at - half, answers.next_at + half))
    posts = [corners(start, y - wide, stop, y) for y in (upper, lower)]
    laid = [corners(near, below - long, far, below) for near, far in crossings]
    for points in (*posts, *laid):
        yield Fill(points)
    for points in posts:
        yield from _unbroken(loop(*points), shown)
    for points in laid:
        yield from loop(*points)
    high = answers.inside_height or 0.0
    x = next(a[1] + (b[0] - a[1]) / 2 for a, b in pairwise(crossings) if b[0] - a[1] >= high - 1e-6)
    spar = Arc(x, (upper - wide + lower) / 2, high / 2 - inputs.clearance, answers.inside_width / 2 - inputs.clearance)
    yield from (Fill(along_arc(spar)), spar)


def drawing(inputs: "Inputs", answers: "Answers") -> Drawing:
    """The stock from the side with its laps, and under it the face that they are cut in, to the same scale."""
    shown = _window(inputs, answers)
    below = -inputs.stock_thickness / 2 - max(inputs.stock_thickness, (shown.stop - shown.start) / 20)
    broken = ", broken off" if (shown.start, shown.stop) != (0.0, shown.end) else ""
    return Drawing(
        f"from the side, and on the laps{broken}; to scale",
        (*_side(inputs, answers, shown), *_face(inputs, answers, shown, below)),
    )
