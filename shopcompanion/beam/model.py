"""What a beam is held by and what works on it, and whether it can stand at all. Millimetres and newtons.

Stations are counted from the heel. A load, a deflection and a reaction are positive the same way across.
"""

from collections.abc import Sequence

from ..errors import InputFault
from ..record import NamedTuple

HOLDS = ("pinned", "fixed", "spring")
_SAME = 1e-6  # mm: two figures of the same place


class Support(NamedTuple):
    """Where it is held: `pinned` against moving, `fixed` against turning as well, or by a `spring`, N/mm."""

    at: float
    kind: str
    stiffness: float = 0.0

    @property
    def holds_lengthwise(self) -> bool:
        return self.kind != "spring"


class Load(NamedTuple):
    """A load across the beam: a `force` (N) at `start`, a `moment` (N·mm) there, or so much per length (N/mm), `spread`
    from `start` to `end`, growing evenly from `size` to `last`.

    A moment is positive when it turns the beam towards positive deflections further on.
    """

    kind: str
    start: float
    end: float
    size: float
    last: float

    @property
    def total(self) -> float:
        """The force that it comes to, N."""
        return {"force": self.size, "moment": 0.0}.get(self.kind, (self.size + self.last) / 2 * (self.end - self.start))


class Push(NamedTuple):
    """A force along the beam, N, towards the heel; a pull towards the head is negative."""

    at: float
    force: float


def check(length: float, supports: Sequence[Support], loads: Sequence[Load], pushes: Sequence[Push]) -> None:
    """InputFault, naming `supports`, `loads` or `push`, when something lies off the beam or nothing holds it."""
    ats = [support.at for support in supports]
    for at in ats:
        if not 0 <= at <= length + _SAME:
            raise InputFault("the support at {} lies off the spar, which ends at {}", "supports", (at, length))
    for place, at in enumerate(ats):
        if any(abs(at - other) <= _SAME for other in ats[:place]):
            raise InputFault("two supports at {}: one is enough", "supports", (at,))
    for load in loads:
        for at in (load.start, load.end):
            if not 0 <= at <= length + _SAME:
                raise InputFault("the load at {} lies off the spar, which ends at {}", "loads", (at, length))
        if load.kind == "spread" and load.end <= load.start:
            raise InputFault(
                "the load from {} ends at {}: it must end nearer the head", "loads", (load.start, load.end)
            )
    for push in pushes:
        if not 0 <= push.at <= length + _SAME:
            raise InputFault("the push at {} lies off the spar, which ends at {}", "push", (push.at, length))
    _stands(supports)
    if any(push.force for push in pushes) and not any(support.holds_lengthwise for support in supports):
        raise InputFault("only springs hold it, nothing stops it lengthwise: pin or fix it at one of them", "supports")


def _stands(supports: Sequence[Support]) -> None:
    holding = [support for support in supports if support.kind != "spring" or support.stiffness > 0]
    if not holding:
        raise InputFault("nothing holds it: fix it at one place, or pin it at two", "supports")
    if len(holding) == 1 and holding[0].kind != "fixed":
        at = holding[0].at
        reason = "held at {} alone it turns about that place: fix it there, or hold it at a second place"
        raise InputFault(reason, "supports", (at,))
