"""Marks as SVG, in millimetres: one drawing to a file, words as text."""

from collections.abc import Sequence
from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from .faces import POINT
from .marks import STYLES, ArcMark, Mark, Stroke, TextMark

_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}


def svg(marks: Sequence[Mark], width: float, height: float, title: str) -> str:
    """A drawing of `width` by `height` mm whose y runs down from its top edge."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}" font-family="Source Sans Pro, sans-serif">',
        f"<title>{escape(title)}</title>",
        *(_words(mark) if isinstance(mark, TextMark) else _path(mark) for mark in marks),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _n(mm: float) -> str:
    """A length to a thousandth of a millimetre.

    >>> _n(-0.0001), _n(12.5)
    ('0', '12.5')
    """
    text = f"{mm:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _grey(grey: float) -> str:
    return f"#{round(255 * grey):02x}" + f"{round(255 * grey):02x}" * 2


def _path(mark: Stroke | ArcMark) -> str:
    style = STYLES[mark.pen]
    dash = f' stroke-dasharray="{_n(style.dash[0])} {_n(style.dash[1])}"' if style.dash else ""
    fill = _grey(mark.fill) if isinstance(mark, Stroke) and mark.fill is not None else "none"
    stroke = "none" if mark.pen == "none" else _grey(style.grey)
    how = f'class="{mark.pen}" fill="{fill}" stroke="{stroke}" stroke-width="{_n(style.width)}"{dash}'
    if isinstance(mark, ArcMark):
        return f"<path {how} d={quoteattr(_arc(mark))}/>"
    (x, y), *rest = mark.points
    path = f"M{_n(x)} {_n(y)}" + "".join(f"L{_n(x)} {_n(y)}" for x, y in rest) + ("Z" if mark.closed else "")
    return f"<path {how} d={quoteattr(path)}/>"


def _arc(arc: ArcMark) -> str:
    """Part of an ellipse, in two halves, so that a whole one is drawn as well; its angles run against y downwards."""
    middle = (arc.start + arc.end) / 2
    points = [
        (arc.x + arc.radius_x * cos(radians(turn)), arc.y - arc.radius_y * sin(radians(turn)))
        for turn in (arc.start, middle, arc.end)
    ]
    sweep = 0 if arc.end >= arc.start else 1
    large = 1 if abs(arc.end - arc.start) / 2 > 180 else 0
    path = f"M{_n(points[0][0])} {_n(points[0][1])}"
    for x, y in points[1:]:
        path += f"A{_n(arc.radius_x)} {_n(arc.radius_y)} 0 {large} {sweep} {_n(x)} {_n(y)}"
    return path


def _words(words: TextMark) -> str:
    turn = f' transform="rotate({_n(-words.turn)} {_n(words.x)} {_n(words.y)})"' if words.turn else ""
    weight = ' font-weight="600"' if words.bold else ""
    return (
        f'<text x="{_n(words.x)}" y="{_n(words.y)}" font-size="{_n(words.size * POINT)}" '
        f'text-anchor="{_ANCHORS[words.align]}" fill="{_grey(words.grey)}"{weight}{turn}>{escape(words.text)}</text>'
    )
