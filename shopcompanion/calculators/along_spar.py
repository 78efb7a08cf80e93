"""The inputs of the calculators that go along a spar: its widths by station, their law, and how often a row is told."""

from ..fields import Choice, Length, Pairs
from ..record import Annotated
from ..spar.outline import LAWS

Rows = tuple[tuple[float, float], ...]  # station and width, mm
Widths = Annotated[
    Rows | None, Pairs("Widths along spar", above=0, at_most=2000, columns=("station", "width"), follows="spar.outline")
]
Law = Annotated[str, Choice("Law of the taper", options=LAWS, follows="spar.law")]
RowEvery = Annotated[float, Length("A row every", at_least=1, follows="rule.station_step")]
EVERY = 304.8  # mm, where no rule says
