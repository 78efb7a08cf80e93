"""A drawing as lines of text: braille dots, or plain ASCII."""

from math import ceil, cos, hypot, radians, sin

from ..lengths import Rule, show
from .shapes import Arc, Dimension, Drawing, Label, Line, Shape

# Dot (column, row) of a braille cell to its bit, per the Unicode block U+2800.
BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))


def render(drawing: Drawing, columns: int, rows: int, rule: Rule, ascii_only: bool = False) -> list[str]:
    """`drawing` to scale in `rows` lines of `columns` characters, taking a character to be twice as high as wide."""
    left, bottom, right, top = drawing.bounds()
    across, up = (1, 1) if ascii_only else (2, 4)
    dots_x, dots_y = columns * across, rows * up
    # a dot is 1/across wide and 2/up high, in widths of a character
    aspect = (1 / across) / (2 / up)
    scale = min((dots_x - 1) / (right - left or 1), (dots_y - 1) / (top - bottom or 1) / aspect)
    off_x = (dots_x - 1 - (right - left) * scale) / 2
    off_y = (dots_y - 1 - (top - bottom) * scale * aspect) / 2

    def place(x: float, y: float) -> tuple[int, int]:
        return round(off_x + (x - left) * scale), round(off_y + (top - y) * scale * aspect)

    cells: dict[tuple[int, int], int] = {}
    words: list[tuple[int, int, str]] = []
    for shape in drawing.shapes:
        if isinstance(shape, Label):
            x, y = place(shape.x, shape.y)
            words.append((x // across, y // up, shape.text))
            continue
        for index, (x, y) in enumerate(place(*point) for point in _points(shape, scale)):
            if getattr(shape, "pen", "work") == "light" and index // 2 % 2:
                continue
            if 0 <= x < dots_x and 0 <= y < dots_y:
                key = (x // across, y // up)
                cells[key] = cells.get(key, 0) | BITS[x % across][y % up]
        if isinstance(shape, Dimension):
            x, y = place((shape.x1 + shape.x2) / 2, (shape.y1 + shape.y2) / 2)
            words.append((x // across, y // up, show(shape.value, rule)))
    lines = [[" "] * columns for _ in range(rows)]
    for (c, r), bits in cells.items():
        lines[r][c] = "*" if ascii_only else chr(0x2800 + bits)
    for c, r, text in words:
        start = max(0, min(columns - len(text), c - len(text) // 2))
        for offset, letter in enumerate(text[:columns]):
            lines[min(max(r, 0), rows - 1)][start + offset] = letter
    return ["".join(line) for line in lines]


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
