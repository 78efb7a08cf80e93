"""Moisture: what timber comes to in air, how it swells and shrinks with it, and how heavy it is.

USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010) and GTR-282 (2021). Percent of the oven-dry mass.
"""

from ..errors import InputFault

SATURATION = 30.0  # fibre saturation, as a rule: above it timber neither swells nor shrinks
COLDEST, HOTTEST = (30 - 32) / 1.8, (270 - 32) / 1.8  # °C, the span of the equation
DRIEST, DAMPEST = 5.0, 95.0  # % relative humidity


def emc(temperature: float, humidity: float) -> float:
    """The moisture that timber settles to in air of a temperature, °C, and a relative humidity, percent (eq. 4-5).

    InputFault, naming `temperature` or `humidity`, outside the span of the equation.

    >>> round(emc((70 - 32) / 1.8, 50), 1)  # Table 4-2
    9.2
    """
    if not COLDEST - 1e-9 <= temperature <= HOTTEST + 1e-9:
        raise InputFault("the equation holds from 30 to 270 °F, -1 to 132 °C", "temperature")
    if not DRIEST <= humidity <= DAMPEST:
        raise InputFault("the equation holds from 5 to 95 % relative humidity", "humidity")
    w, k, k1, k2 = coefficients(temperature)
    kh = k * humidity / 100
    return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))


def coefficients(temperature: float) -> tuple[float, float, float, float]:
    """W, K, K1 and K2 of the equation (eq. 4-5) at a temperature in °C."""
    t = temperature
    return (
        349 + 1.29 * t + 0.0135 * t**2,
        0.805 + 0.000736 * t - 0.00000273 * t**2,
        6.27 - 0.00938 * t - 0.000303 * t**2,
        1.91 + 0.0407 * t - 0.000293 * t**2,
    )


def width_at(width: float, shrinkage: float, now: float, later: float, *, saturation: float = SATURATION) -> float:
    """What a width at moisture `now` comes to at `later`; `shrinkage` is green to oven-dry, percent.

    It shrinks evenly from `saturation` down (GTR-282 eq. 4-9, GTR-190 eq. 4-7), which is 30 % but for a few timbers.

    >>> round(width_at(100, 7.5, 30, 0), 9)
    92.5
    >>> round(width_at(100, 5, 22, 11, saturation=22), 9)
    97.5
    """

    def part(moisture: float) -> float:
        return 1 - shrinkage / 100 * (1 - min(moisture, saturation) / saturation)

    return width * part(later) / part(now)


def gravity(sg12: float, moisture: float) -> float:
    """Specific gravity on the volume at a moisture, of a timber that has `sg12` at 12 % (GTR-282 eq. 4-13, both ways).

    The equation is a mean of all timbers, drawn with a shrinkage that begins at 30 %; so it stays for those that begin
    to shrink at less.
    """
    basic = sg12 / (1 + 0.265 * sg12 * (1 - 12 / SATURATION))
    return basic / (1 - 0.265 * basic * (1 - min(moisture, SATURATION) / SATURATION))


def density(sg12: float, moisture: float) -> float:
    """Mass over volume at a moisture, kg/m³ (GTR-282 eq. 4-14).

    >>> round(density(0.40, 12), 1)  # Sitka spruce
    448.0
    """
    return 1000 * gravity(sg12, moisture) * (1 + moisture / 100)
