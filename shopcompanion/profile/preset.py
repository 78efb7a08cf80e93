"""A preset's texts: spelled so that they mean the same whatever unit is in force when they are used again."""

from .. import lengths
from ..fields import Kind, Length, Lengths, Pairs
from ..lengths import Unit


def spell(kind: Kind, text: str, unit: Unit) -> str:
    """`text` in the user's own spelling, with `unit` put to every length or quantity that leaned on it.

    InputFault when one in it does not read.

    >>> spell(Length("Drum"), "4", "in"), spell(Lengths("Passes"), "1/4; 6 mm", "in")
    ('4 in', '1/4 in; 6 mm')
    """
    if own := getattr(kind, "spelled", None):  # a kind with a way of writing of its own
        return str(own(text, unit))
    if isinstance(kind, Lengths | Pairs):
        rows = [part for part in text.split(";") if part.strip()]
        return "; ".join(" = ".join(lengths.spelled(size, unit) for size in row.split("=", 1)) for row in rows)
    if isinstance(kind, Length):
        return lengths.spelled(text, unit)
    return text.strip()
