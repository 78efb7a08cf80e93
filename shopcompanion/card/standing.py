"""The wood as it stands at a station before and after each step: how wide, how deep, and what its corners have lost."""

from collections.abc import Sequence
from math import cos, pi, sin

from ..profile.records import Boat, Spar
from ..record import NamedTuple
from ..spar.polygon import cut
from ..spar.section import ROUND
from .step import Step

_AFTER = {  # what a step leaves behind it
    "true-blank": "the blank", "first-faces": "two faces tapered", "second-faces": "square to size",
    "cut-8": "eight sides", "cut-16": "sixteen sides", "cut-32": "thirty-two sides",
    "round-over": "round", "round": "round",
}  # fmt: skip
_TIMES = {"cut-twice": 2, "cut-again": 4}  # the sides of a ring of staves, after these steps
_STAYS = "square, as it stays here"
_SIDES = {"eight sides": 8, "sixteen sides": 16, "thirty-two sides": 32, "round": ROUND}


class Standing(NamedTuple):
    """A section in its rectangle (mm): for each cut of corners, how many sides it makes and the share of it that is
    done there. `round` when all that is left of the corners has gone too. A `ring` of staves is a regular polygon of so
    many sides outside, by its width across flats.
    """

    name: str
    width: float
    depth: float
    cuts: tuple[tuple[int, float], ...] = ()
    round: bool = False
    ring: int = 0

    def holds(self, x: float, y: float) -> bool:
        """Whether there is wood at a place, mm from the middle."""
        across, up = 2 * x / self.width, 2 * y / self.depth
        if self.ring:
            turns = (2 * pi * k / self.ring for k in range(self.ring))
            return all(across * cos(turn) + up * sin(turn) <= 1 for turn in turns)
        if max(abs(across), abs(up)) > 1:
            return False
        for sides, share in self.cuts:
            corner = 1 / cos(2 * pi / sides) - 1  # what stands over the new facets before they are cut
            limit = 1 + corner * (1 - share)
            turns = (2 * pi * k / sides for k in range(1, sides, 2))
            if any(across * cos(turn) + up * sin(turn) > limit for turn in turns):
                return False
        return not self.round or across**2 + up**2 <= 1


class Change(NamedTuple):
    """The wood before and after a step, and what comes off in words with the length that stands at its `{}`."""

    before: Standing
    after: Standing
    off: str
    size: float


def changes(boat: Boat, spar: Spar, steps: Sequence[Step], at: float) -> tuple[Change, ...]:
    """The wood at a station before and after every step; a step that takes nothing off the outside leaves it as it is.

    InputFault beyond an end.
    """
    stick = spar.stick(boat.shop.planing or 0.0)
    now = Standing("as it is sawn", stick, stick)
    if spar.section == "staves":
        now = _ring(spar, at, 1)
    standings = []
    for step in steps:
        if spar.section == "staves" and step.id in _TIMES:
            after = _ring(spar, at, _TIMES[step.id])
        else:
            after = _after(boat, spar, _AFTER.get(step.id, ""), now, at)
        off, size = _off(now, after)
        standings.append(Change(now, after, off, size))
        now = after
    return tuple(standings)


def _ring(spar: Spar, at: float, times: int) -> Standing:
    """The staves put together, with their corners taken off to so many times their number."""
    width, sides = spar.body().width_at(at), spar.staves * times
    return Standing(f"{spar.staves} staves, {sides} sides", width, width, ring=sides)


def _after(boat: Boat, spar: Spar, name: str, now: Standing, at: float) -> Standing:
    if not name:
        return now
    body = spar.body()
    width, depth = body.width_at(at), body.depth_at(at)
    if name == "the blank":
        blank = spar.stick(boat.shop.planing or 0.0) - (spar.bow or 0.0)
        return Standing(name, blank, blank)
    if name == "two faces tapered":
        return Standing(name, width, now.depth)
    if name == "square to size":
        return Standing(name if spar.section != "oval" else "both ways to size", width, depth)
    sides = _SIDES[name]
    cuts = tuple((n, share) for n in (8, 16, 32) if n <= sides and (share := body.corners_off(at, n)) > 0)
    if not cuts:
        return now._replace(name=_STAYS)
    part = cuts[-1][1] < 1 or cuts[-1][0] < min(sides, 32)
    name = f"{name}, as far as they go here" if part else name
    return Standing(name, width, depth, cuts, sides == ROUND and not part)


def _off(before: Standing, after: Standing) -> tuple[str, float]:
    """What a step takes off, where it is the same all round: off a corner by the width, off a face by what is less."""
    new = [cut for cut in after.cuts if cut not in before.cuts]
    if new and after.name in _SIDES and not after.round:
        return "{} off the corner", cut(after.width, new[-1][0])
    if after.width < before.width and after.depth < before.depth:
        return "{} off each face", (before.width - after.width) / 2
    if after.width < before.width:
        return "{} off B and off D", (before.width - after.width) / 2
    if after.depth < before.depth:
        return "{} off A and off C", (before.depth - after.depth) / 2
    return "", 0.0
