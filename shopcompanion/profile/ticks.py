"""The names of the steps of the order of work, by which a profile's `done` ticks them."""

import re
from collections.abc import Sequence

from ..errors import nearest

STEPS = (
    "rip-staves", "notch-staves", "taper-staves", "plugs", "dry-run", "glue-staves", "mark-ring", "flush", "cut-twice",
    "cut-again", "scarf", "true-halves", "hollow", "true-blank", "dowel", "mark-centre", "first-faces", "turn",
    "second-faces", "edges", "round-over", "mark-8", "cut-8", "mark-16", "cut-16", "cut-32", "round", "run-outs",
    "measure-unsanded", "sand", "part", "flats", "throat", "jaws", "holes", "slots", "ends", "measure",
)  # fmt: skip
_FITTED = r"fit-(?P<kind>[a-z-]+)-[0-9]+(?:-[A-D])?"  # let in, with its station in millimetres


def tick_fault(word: str, fittings: Sequence[str]) -> str | None:
    """Why a word names no step of the work, with the nearest name that does; None for a step that some spar has.

    `fittings` are the kinds of fitting. A step that this spar has no more is no fault: its tick keeps its meaning.

    >>> tick_fault("frist-faces", ())
    "not a step of the work (did you mean 'first-faces'?)"
    """
    kinds = [f"fit-{kind.replace(' ', '-')}" for kind in fittings]
    fitted = re.fullmatch(_FITTED, word)
    if word in STEPS or (fitted and f"fit-{fitted['kind']}" in kinds):
        return None
    like = nearest(f"fit-{fitted['kind']}" if fitted else word, [*STEPS, *kinds])
    return f"not a step of the work{like}"
