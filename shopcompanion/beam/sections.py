"""What a spar's sections are worth along it: second moments, moduli and areas, with what its fittings take."""

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from ..errors import InputFault
from ..spar.body import Body
from . import elements

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

PLANES = ("depth", "width")  # it bends in the plane of its depth, A to C, or of its width, B to D
_BESIDE = 1e-6  # of a piece: so far inside it its ends are looked at, as a section may change at a break


class Worth(NamedTuple):
    """A section at one place: area (mm²), second moments (mm⁴) and moduli (mm³) for either plane of `PLANES`."""

    area: float
    second: tuple[float, float]
    modulus: tuple[float, float]


class Along(NamedTuple):
    """At `elements.places` (a row a piece): area, and second moments for either plane; at both ends of every piece:
    area, and moduli for either plane.
    """

    area: "Floats"
    second: tuple["Floats", "Floats"]
    end_area: "Floats"
    end_modulus: tuple["Floats", "Floats"]


def worth(body: Body, at: float) -> Worth:
    """The section at a station. InputFault where nothing of it is left."""
    if any(abs(at - fitting.middle(body.length)) <= fitting.reach for fitting in body.fittings if fitting.takes_wood):
        left = body.left_at(at)
        if left.area <= 0 or min(left.second_depth, left.second_width) <= 0:
            raise InputFault("the fittings leave no wood at {}", "whole", (at,))
        return Worth(left.area, (left.second_depth, left.second_width), (left.modulus_depth, left.modulus_width))
    across = body.section_at(at)
    sides = [(part.area, *part.second_moments) for part in (across.heelward, across.headward)]
    area, deep, wide = (across.blend((a, b)) for a, b in zip(*sides, strict=True))
    return Worth(area, (deep, wide), (2 * deep / body.depth_at(at), 2 * wide / body.width_at(at)))


@lru_cache(maxsize=32)
def along(body: Body, nodes: tuple[float, ...]) -> Along:
    """The sections of a spar between `nodes`, mm from the heel, which have one at every break."""
    import numpy as np

    ends = np.array(nodes)
    places = elements.places(ends)
    beside = _BESIDE * np.diff(ends)
    at_ends = np.stack([ends[:-1] + beside, ends[1:] - beside], axis=1)
    inside = [worth(body, float(at)) for at in places.ravel()]
    outer = [worth(body, float(at)) for at in at_ends.ravel()]

    def of(values: list[float], shape: tuple[int, ...]) -> "Floats":
        return np.array(values).reshape(shape)

    return Along(
        of([section.area for section in inside], places.shape),
        (
            of([section.second[0] for section in inside], places.shape),
            of([section.second[1] for section in inside], places.shape),
        ),
        of([section.area for section in outer], at_ends.shape),
        (
            of([section.modulus[0] for section in outer], at_ends.shape),
            of([section.modulus[1] for section in outer], at_ends.shape),
        ),
    )
