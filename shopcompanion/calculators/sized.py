"""The spar that a calculator is asked about: the one chosen, whole, or a plain straight taper by its sizes."""

from math import isclose
from typing import Protocol

from ..errors import InputFault
from ..spar.body import Body
from ..spar.outline import Outline


class Sized(Protocol):
    """Inputs with a spar or its sizes, mm; `depth` is the other way of an oval at the heel."""

    @property
    def whole(self) -> Body | None: ...
    @property
    def length(self) -> float: ...
    @property
    def butt(self) -> float: ...
    @property
    def head(self) -> float: ...
    @property
    def section(self) -> str: ...
    @property
    def depth(self) -> float | None: ...
    @property
    def wall(self) -> float | None: ...


def is_whole(inputs: Sized) -> bool:
    """Whether the sizes are the spar's own, so that it is taken with all its stations, sections and fittings."""
    spar = inputs.whole
    if spar is None or inputs.section != spar.section:
        return False
    mine = [(inputs.length, spar.length), (inputs.butt, spar.width_at(0.0)), (inputs.head, spar.width_at(spar.length))]
    mine += [] if inputs.depth is None else [(inputs.depth, spar.depth_at(0.0))]
    mine += [] if inputs.wall is None else [(inputs.wall, spar.wall)]
    return all(isclose(size, own, abs_tol=1e-6) for size, own in mine)


def body(inputs: Sized) -> Body:
    """The spar itself, or the plain straight taper that was typed. InputFault when that makes no spar."""
    spar, section = inputs.whole, inputs.section
    if spar is not None and is_whole(inputs):
        return spar
    if section == "staves":
        raise InputFault(
            "staves needs a spar of a boat made of them; the calculator staves works out a ring alone", "section"
        )
    for field, size, kind in (("depth", inputs.depth, "oval"), ("wall", inputs.wall, "hollow")):
        if size is not None and section != kind:
            raise InputFault(
                f"{{}} is for a section that is {kind}, and this one is {section}: leave it out", field, (size,)
            )
    depth, wall, depths = inputs.depth, inputs.wall, None
    if section == "oval":
        if depth is None and spar is not None and spar.depths is not None:
            depth = spar.depth_at(0.0) / spar.width_at(0.0) * inputs.butt
        if depth is None:
            raise InputFault(
                "missing: an oval has a depth at the heel as well, in proportion to the width from there on", "depth"
            )
        depths = Outline(((0.0, depth), (inputs.length, depth * inputs.head / inputs.butt)))
    if section == "hollow":
        wall = wall if wall is not None else spar.wall if spar is not None and spar.wall else None
        if wall is None:
            raise InputFault(
                "missing: a hollow spar has a wall; a fifth of {} would be {}", "wall", (inputs.butt, inputs.butt / 5)
            )
    made = Body(Outline(((0.0, inputs.butt), (inputs.length, inputs.head))), depths, section, wall or 0.0)
    if why := made.wall_fault():
        raise InputFault(why[0], "wall", why[1])
    return made
