"""The two units of length that a boat may be in, exactly, and the longest length there is."""

from fractions import Fraction
from typing import Literal

Unit = Literal["in", "mm"]

INCH = Fraction(254, 10)  # mm, exact (NIST SP 811, appendix B.8)
IN_MM: dict[str, Fraction] = {"in": INCH, "mm": Fraction(1)}
LONGEST = 100_000  # mm; no spar is longer
