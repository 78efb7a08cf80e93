"""Drawings say what they show: a dimension is as long as it says, and every shape stays where it was looked at.

The shapes of every calculator's drawing are kept in `drawings/`, in hundredths of a millimetre, with the picture under
them. After a wanted change: SHOPCOMPANION_RENEW_DRAWINGS=1 python -m pytest tests/test_drawings_to_scale.py, then look
at every picture that `git diff` shows: is it the work, the right way up and the right way round?
"""

import os
import re
from math import hypot
from pathlib import Path

import pytest

from shopcompanion.drawing.shapes import Dimension, Drawing, Fill, Shape
from shopcompanion.drawing.terminal import render

from .asking import INCH_64
from .test_drawing import LARGER, PICTURES, picture

KEPT = Path(__file__).parent / "drawings"
RENEW = bool(os.environ.get("SHOPCOMPANION_RENEW_DRAWINGS"))
FIRST = [name for name, _ in PICTURES]
NAMES = [f"{name}-{FIRST[:number].count(name)}" for number, name in enumerate(FIRST)]


def in_words(shape: Shape) -> str:
    """A shape with its sizes in hundredths of a millimetre; no minus before nothing. Of a fill its bounds."""
    if isinstance(shape, Fill):
        xs, ys = zip(*shape.points, strict=True)
        left, bottom, right, top = (f"{round(edge, 2) + 0.0:.2f}" for edge in (min(xs), min(ys), max(xs), max(ys)))
        return f"{'Fill':<10}{shape.tone}  {len(shape.points)} points  {left} to {right}  {bottom} to {top}"
    parts = [f"{round(part, 2) + 0.0:.2f}" if isinstance(part, int | float) else str(part) for part in shape]
    return f"{type(shape).__name__:<10}{'  '.join(parts)}"


def kept(drawing: Drawing) -> str:
    lines = [line.rstrip() for line in render(drawing, 60, 18, INCH_64, True)]
    return "\n".join([drawing.title, "", *map(in_words, drawing.shapes), "", *lines, ""])


@pytest.mark.parametrize(("name", "values"), PICTURES, ids=NAMES)
def test_a_dimension_is_as_long_as_it_says(name: str, values: dict[str, object] | None) -> None:
    drawing = picture(name, values)
    if name in LARGER:
        assert re.search(r"[0-9] times", drawing.title)
        return
    for shape in drawing.shapes:
        if isinstance(shape, Dimension):
            assert hypot(shape.x2 - shape.x1, shape.y2 - shape.y1) == pytest.approx(shape.value, abs=1e-6)


@pytest.mark.parametrize(("file", "of"), list(zip(NAMES, PICTURES, strict=True)), ids=NAMES)
def test_every_shape_is_where_it_was_looked_at(file: str, of: tuple[str, dict[str, object] | None]) -> None:
    path = KEPT / f"{file}.txt"
    text = kept(picture(*of))
    if RENEW:
        KEPT.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text


def test_no_drawing_is_kept_that_nobody_draws() -> None:
    assert {path.stem for path in KEPT.glob("*.txt")} == set(NAMES)
