"""The spar across the screen, with its station, joints and fittings."""

from functools import partial
from typing import TYPE_CHECKING

from ..drawing.strip import Mark, strip
from .frame import BLANK
from .paint import Rows
from .session import Session, ShownCalculator

if TYPE_CHECKING:
    from ..drawing.bend import Bend

_ROLES = {
    "wood": "wood", "wood-turned": "wood reverse", "square": "squared", "square-turned": "squared reverse",
    "cursor": "accent bold", "hardest": "error bold", "scale": "quiet", "mark": "quiet", "air": "",
}  # fmt: skip


def spar_rows(
    session: Session, width: int, low: bool, *, shown: ShownCalculator | None = None, ascii_only: bool = False
) -> Rows:
    """The spar with its station, a column in from either edge: five rows, or two where there are few. It is drawn bent
    where the calculator that is shown says how.
    """
    spar, high = session.spar, 2 if low else 5
    if spar is None or width < 22:
        return Rows([BLANK] * high)
    marks = [Mark(joint.at, "◇", joint.kind) for joint in spar.joints]
    marks += [Mark(fitting.at, "▾", fitting.name or fitting.kind) for fitting in spar.fittings]
    square_to = spar.length if spar.section == "square" else spar.square_to or 0
    slots = [fitting.slotted(spar.length) for fitting in spar.fittings if fitting.slot]
    bend = _bend(shown, spar.length)
    if bend is None:
        draw = partial(strip, slots=slots)
    else:
        from ..drawing.bend import bent_strip

        draw = partial(bent_strip, bend=bend)
    drawn = draw(
        spar.outline(), session.at, session.rule, width - 2,
        square_to=square_to, marks=marks, low=low, ascii_only=ascii_only,
    )  # fmt: skip
    return Rows(((" ", ""), *((text, _ROLES[role]) for text, role in line)) for line in drawn.lines)


def _bend(shown: ShownCalculator | None, length: float) -> "Bend | None":
    """How the spar bends by what is shown; None where that says nothing of it, or is of another spar."""
    result = shown.result if shown else None
    if result is None or result.calculator.bend is None:
        return None
    bend = result.calculator.bend(result.inputs, result.answers)
    return bend if abs(bend.line[-1][0] - length) < 1e-6 else None
