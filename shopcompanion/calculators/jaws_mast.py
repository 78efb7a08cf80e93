"""The mast within a gaff's jaws, from lowered to peaked.

The jaws are sawn from a plank that lies in the plane of the gaff and of the athwartships line. At θ above square to
the mast, which is the angle above level and the mast's rake aft together, that plane cuts the mast in an ellipse, D
across and D/cos θ along the gaff, and from one face of the plank to the other the ellipse moves by plank·tan θ along
it. Distances along the gaff are from the bottom of the throat, half way through the plank, positive towards the mast.
"""

from math import acos, atan, atan2, cos, degrees, hypot, radians, tan
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .jaws import Inputs


def lining(inputs: "Inputs") -> float:
    """The leather at the bottom of the throat, mm along the gaff: it lies on the bevel, and is cut aslant."""
    return inputs.leather / cos(bevel(inputs))


def bevel(inputs: "Inputs") -> float:
    """The throat's bevel, radians off square to the mast."""
    return radians(inputs.peak_angle + inputs.rake)


def middle(inputs: "Inputs", angle: float) -> float:
    """The mast's middle from the throat, mm along the gaff half way through the plank, at `angle` in degrees."""
    here = radians(angle + inputs.rake)
    off = tan(bevel(inputs)) - tan(here)
    return lining(inputs) + inputs.mast_diameter / 2 / cos(here) + inputs.plank / 2 * abs(off)


def parrel(inputs: "Inputs", horn: float, horn_width: float, angle: float) -> float:
    """A line round the mast from horn to horn, mm: through the tips at mid width, `angle` in degrees."""
    ring = inputs.mast_diameter / 2 + inputs.clearance + inputs.bead_diameter / 2
    ahead = (horn - middle(inputs, angle)) * cos(radians(angle + inputs.rake))
    aside = inputs.mast_diameter / 2 + inputs.leather + inputs.clearance + horn_width / 2
    off = hypot(ahead, aside)
    wrap = 2 * (atan2(aside, ahead) - acos(ring / off))
    return 2 * (off**2 - ring**2) ** 0.5 + ring * wrap if wrap > 0 else 2 * aside


def angles(inputs: "Inputs", horn: float) -> tuple[float, float, float]:
    """Both ends of the range, and between them the angle at which the horns stand farthest past the mast."""
    slope = inputs.plank / 2
    lever = horn - lining(inputs) - slope * tan(bevel(inputs))
    best = degrees(atan(slope / lever)) - inputs.rake if lever > 0 else inputs.peak_angle
    return (inputs.lowered_angle, min(max(best, inputs.lowered_angle), inputs.peak_angle), inputs.peak_angle)
