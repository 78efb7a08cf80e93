"""An open belt round two circles, and which of them it grips better. Millimetres and radians.

With β the angle of the straight runs to the line of centres, sin β = (drum − spar)/(2·centres):
belt = 2·centres·cos β + π(drum + spar)/2 + β(drum − spar); wraps are π + 2β on the drum and π − 2β on the spar.
"""

from math import asin, cos, pi, sin

from .halving import turns


def belt_length(drum: float, spar: float, centres: float) -> float:
    """Length of the belt round `drum` and `spar` (diameters) with `centres` apart.

    >>> round(belt_length(10, 5, 24), 6)
    71.822598
    """
    difference = drum - spar
    lean = asin(difference / (2 * centres))
    return 2 * centres * cos(lean) + pi * (drum + spar) / 2 + lean * difference


def centres(drum: float, spar: float, belt: float) -> float | None:
    """Distance of the centres for a belt of that length; None when it is so short that the circles would touch."""
    touching = (drum + spar) / 2
    if belt <= belt_length(drum, spar, touching):
        return None
    return turns(touching, belt / 2, lambda apart: belt_length(drum, spar, apart) < belt)


def lean(drum: float, spar: float, apart: float) -> float:
    """The angle β of the belt to the line of centres, radians; positive when the drum is the bigger one."""
    return asin((drum - spar) / (2 * apart))


def lean_at_slip(grip_ratio: float) -> float:
    """β where drum and spar hold the belt equally: grip_ratio·(π + 2β) = π − 2β (Eytelwein on both)."""
    return pi / 2 * (1 - grip_ratio) / (1 + grip_ratio)


def smallest_drum(spar: float, belt: float, grip_ratio: float) -> float | None:
    """The drum at which the belt is about to slip on it; None when any drum drives or the belt does not reach."""
    at = lean_at_slip(grip_ratio)
    apart = (belt - pi * spar) / (2 * (cos(at) + (pi / 2 + at) * sin(at)))
    drum = spar + 2 * apart * sin(at)
    return drum if apart > (drum + spar) / 2 and drum > 0 else None


def largest_spar(drum: float, belt: float, grip_ratio: float) -> float | None:
    """The spar at which the belt is about to slip on the drum; None when no spar it reaches round makes it slip."""
    at = lean_at_slip(grip_ratio)
    apart = (belt - pi * drum) / (2 * (cos(at) - (pi / 2 - at) * sin(at)))
    spar = drum - 2 * apart * sin(at)
    return spar if apart > (drum + spar) / 2 and spar > 0 else None


def largest_reached(drum: float, belt: float) -> float:
    """The spar that the belt just reaches round with spar and drum touching; nothing when it reaches none."""
    return turns(0.0, belt, lambda spar: belt_length(drum, spar, (drum + spar) / 2) < belt)
