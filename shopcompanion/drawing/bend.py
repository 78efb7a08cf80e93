"""A spar's strip, bent: the spar under its load with its bend exaggerated, the straight one behind it as a ghost, and
the place that is worked hardest."""

from bisect import bisect_right
from collections.abc import Sequence

from ..fields import significant
from ..lengths import Rule
from ..record import NamedTuple
from ..spar.outline import Outline
from .runs import add_to
from .strip import Mark, Role, Run, SparStrip, column_of, in_ascii, marks_line, scale_line
from .terminal import BITS

HARDEST = "×"
_LEVELS = "'-_"  # of a row in ASCII, from the top
_THICK = {False: 4, True: 2}  # dots that the widest place is drawn high, and on a single row


class Bend(NamedTuple):
    """How far a spar goes at its stations, from the heel, either way, and where it is worked hardest; all mm."""

    line: tuple[tuple[float, float], ...]
    worst_at: float

    def at(self, station: float) -> float:
        """How far it goes at a station; between two it changes evenly."""
        place = min(max(bisect_right(self.line, (station, float("inf"))), 1), len(self.line) - 1)
        (a, low), (b, high) = self.line[place - 1 : place + 1]
        return low + (high - low) * (station - a) / (b - a)


def bent_strip(
    outline: Outline,
    at: float,
    rule: Rule,
    columns: int,
    *,
    bend: Bend,
    square_to: float = 0,
    marks: Sequence[Mark] = (),
    low: bool = False,
    ascii_only: bool = False,
) -> SparStrip:
    """The lines of `strip`, the spar bent in them; where it goes farthest it hangs down. The scale says how many
    times its own size the bend is drawn.
    """
    length, rows = outline.length, 1 if low else 3
    per_row, per_column, thick = (len(_LEVELS), 1, 1) if ascii_only else (4, 2, _THICK[low])
    goes = [far for _, far in bend.line]
    down = 1.0 if max(goes, key=abs) >= 0 else -1.0
    span = max(0.0, *(down * far for far in goes)) - (above := min(0.0, *(down * far for far in goes)))
    dots = (per_row * rows - thick) / span if span > 1e-9 else 0.0  # for a millimetre that it goes
    wood, ghost = _Dots(per_row), _Dots(per_row)
    for x in range(columns * per_column):
        station = (x + 0.5) / columns / per_column * length
        high = max(1, round(outline.width_at(station) / outline.widest * thick))
        straight = -above * dots
        top = straight + down * bend.at(station) * dots + (thick - high) / 2
        wood.fill(x // per_column, x % per_column, int(top + 0.5), high)
        if x % 2 == 0 or ascii_only:
            ghost.fill(x // per_column, x % per_column, int(straight + (thick - 1) / 2 + 0.5), 1)
    here, worst = column_of(at, length, columns), column_of(bend.worst_at, length, columns)
    lines: list[list[Run]] = []
    for row in range(rows):
        runs: list[Run] = []
        for column in range(columns):
            kind: Role = "square" if (column + 0.5) / columns * length < square_to else "wood"
            role: Role = "cursor" if column == here else "hardest" if column == worst else kind
            bits, behind = wood.cell(column, row), ghost.cell(column, row)
            if bits:
                add_to(runs, _letter(bits, behind, ascii_only), role)
            else:
                add_to(runs, _letter(behind, behind, ascii_only, ghost=True), "scale")
        lines.append(runs)
    times = dots * length / columns * 2 / per_row
    said = f"bend drawn {significant(times, 2)} times its size" if times else "it does not bend"
    hardest = Mark(bend.worst_at, HARDEST, "hardest")
    scale = scale_line(length, rule, columns, here, note=said, sign=(worst, HARDEST) if low else None)
    top_line = [] if low else [marks_line(length, columns, (hardest, *marks))]
    drawn = [*top_line, *lines, scale]
    return SparStrip([in_ascii(line) for line in drawn] if ascii_only else drawn, times)


class _Dots:
    """Dots of a strip by column and row of cells; in ASCII a cell is a dot wide and three high."""

    def __init__(self, per_row: int) -> None:
        self._per_row = per_row
        self._cells: dict[tuple[int, int], int] = {}

    def fill(self, column: int, left: int, top: int, high: int) -> None:
        for y in range(top, top + high):
            key = column, y // self._per_row
            self._cells[key] = self._cells.get(key, 0) | BITS[left][y % self._per_row]

    def cell(self, column: int, row: int) -> int:
        return self._cells.get((column, row), 0)


def _letter(bits: int, behind: int, ascii_only: bool, *, ghost: bool = False) -> str:
    """The character of a cell of wood, over what of the ghost is behind it; or of the ghost alone."""
    if not bits:
        return " "
    if not ascii_only:
        return chr(0x2800 + (bits | behind))
    return "." if ghost else next(letter for letter, bit in zip(_LEVELS, BITS[0], strict=False) if bits & bit)
