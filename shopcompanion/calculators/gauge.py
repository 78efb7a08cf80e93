"""Gauge: set out a spar gauge, two pins and two pencils on a bar, and know where it marks wrong.

The bar is slewed until both pins touch. With pins of diameter d, S apart at the centres, on a face of width w it stands
at sin θ = (w + d)/S, and a pencil a from a pin marks a·sin θ − d/2 from the edge. The right line is k·w from it,
k = 1 − √½, so the error is (a − k·S)·(w + d)/S − d·(1/2 − k): straight in w, and nought at one width only.
"""

from collections.abc import Mapping
from math import asin, cos, floor, sin, sqrt
from typing import Any

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Line, corners, loop
from ..errors import InputFault
from ..fields import Choice, Kind, Length, Pairs, Value, sum_figure
from ..lengths import Rule, decimal, in_mm
from ..record import Annotated, NamedTuple, Record
from ..spar.outline import Outline, named
from .along_spar import EVERY, Law, RowEvery, Rows, Widths

RIGHT = 1 - sqrt(1 / 2)
RATIOS = {"7:10:7": (7, 24), "5:7:5": (5, 17), "12:17:12": (12, 41)}  # the first part, of the whole
_RIGHT = "(1 − √(1/2))"
_BAR = "two circles slewed until they touch both edges"
_OCTAGON = "line of the octagon, 1 − √½ of the face"
_SLANT = "24 units from edge to edge, ticks at 7 and 17 (common practice)"


def _error(width: str) -> str:
    return f"pencil_from_pin·({width} + pin)/pin_spacing − pin/2 − {_RIGHT}·{width}"


class Fine(Kind):
    """A length that may be too small for the rule, in decimals. Millimetres."""

    unit = "mm"

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{self.figures(value, rule)} {rule.unit}"

    def figures(self, value: Value, rule: Rule) -> str:
        return decimal(value if abs(value) > 1e-9 else 0.0, rule.unit) if isinstance(value, float) else "—"

    def in_sum(self, value: Value, rule: Rule) -> str:
        return sum_figure(value / in_mm(rule.unit)) if isinstance(value, float) else "—"


class Inputs(Record):
    widest: Annotated[float, Length("Spar's widest", above=0, at_most=2000, follows="spar.widest")]
    narrowest: Annotated[float | None, Length("Spar's narrowest", above=0, at_most=2000, follows="spar.narrowest")] = (
        None
    )
    pin: Annotated[float, Length("Pin diameter", above=0, at_most=200, metric=6.0)] = 6.35
    clearance: Annotated[float, Length("Clearance", at_least=0, at_most=50, follows="rule.division")] = 25.4 / 64
    exact_at: Annotated[str, Choice("Exact where the spar is", options=("widest", "middle", "narrowest"))] = "widest"
    ratio: Annotated[str, Choice("Pencils set by", options=("true", *RATIOS))] = "true"
    division: Annotated[float, Length("Rule's division", above=0, at_most=20, follows="rule.division")] = 25.4 / 64
    outline: Widths = None
    depths: Annotated[
        Rows | None,
        Pairs("Depths along spar", above=0, at_most=2000, columns=("station", "depth"), follows="spar.depths"),
    ] = None
    law: Law = "straight"
    station_step: RowEvery = EVERY


class Answers(Record):
    pencil_from_pin: Annotated[
        float,
        Length("Pencil from pin", formula=f"({_RIGHT}·right_width + pin/2)·pin_spacing / (right_width + pin)",
               source=f"centre to centre; {_BAR}"),
    ]  # fmt: skip
    pin_spacing: Annotated[
        float, Length("Pin to pin", formula="widest_face + pin + clearance", source="centre to centre")
    ]
    inside: Annotated[float, Length("Between the pins", formula="pin_spacing − pin", source="from side to side")]
    pencil_gap: Annotated[
        float, Length("Pencil to pencil", formula="pin_spacing − 2·pencil_from_pin", source="centre to centre")
    ]
    error_widest: Annotated[
        float, Fine("Error at the widest", formula=_error("widest_face"), source=f"{_BAR}, against the right line")
    ]
    error_narrowest: Annotated[
        float,
        Fine("Error at the narrowest", formula=_error("narrowest_face"), source=f"{_BAR}, against the right line"),
    ]
    error_worst: Annotated[
        float, Fine("Worst error", formula="error_widest", source="it grows straight with the width: at one end")
    ]
    facet_difference: Annotated[
        float,
        Length("Side facets wider by", formula="−(2 + √(2))·error_worst",
               source="a side loses two errors, a corner's facet gains √2 of one"),
    ]  # fmt: skip
    right_width: Annotated[
        float | None,
        Length("Exact at a width of",
               formula=f"pencil_from_pin·(right_width + pin)/pin_spacing − pin/2 = {_RIGHT}·right_width",
               source="where the error is nothing"),
    ]  # fmt: skip
    pin_good: Annotated[
        float | None,
        Length("Pins no thicker than",
               formula="(√(1/2) − 1/2)·max(widest_face − right_width, right_width − narrowest_face)"
               "·pin_good/(right_width + pin_good) = division",
               source="the worst error is a division of the rule", rounding="down"),
    ]  # fmt: skip
    slant_span: Annotated[
        float,
        Length("Rule laid slantwise", source=f"first of 24, 48, 96 divisions and so on that reaches across; {_SLANT}"),
    ]
    slant_near: Annotated[float, Length("Slantwise rule, first tick", formula="slant_span·7/24", source=_SLANT)]
    slant_far: Annotated[float, Length("Slantwise rule, second tick", formula="slant_span·17/24", source=_SLANT)]
    slant_error: Annotated[
        float, Fine("Slantwise rule, error", formula=f"widest_face·(7/24 − {_RIGHT})", source=_OCTAGON)
    ]
    widest_face: Annotated[float, Length("Widest face", formula="widest", source="the gauge has to go over it")]
    narrowest_face: Annotated[float, Length("Narrowest face", formula="narrowest", source="where it lies most aslant")]


def along(inputs: Inputs) -> tuple[Outline, Outline | None] | None:
    """Widths, and depths of an oval, along the spar: only while widest and narrowest are its own, not typed over."""
    if inputs.outline is None:
        return None
    widths = named("outline", inputs.outline, inputs.law)
    if (widths.widest, widths.narrowest) != (inputs.widest, inputs.narrowest):
        return None
    return widths, named("depths", inputs.depths, inputs.law) if inputs.depths else None


class GaugeSetting(NamedTuple):
    """A gauge as it is set: pins and pencils, all from centre to centre."""

    pin: float
    spacing: float
    pencil: float

    def marks(self, width: float) -> float:
        """How far from the edge of a face it marks.

        >>> round(GaugeSetting(0.5, 4.5, 7 / 24 * 4 + 0.25).marks(2.5) - RIGHT * 2.5, 3)
        -0.038
        """
        return self.pencil * (width + self.pin) / self.spacing - self.pin / 2

    def error(self, width: float) -> float:
        """How far inward of the right line; minus is nearer the edge, which leaves wood."""
        return self.marks(width) - RIGHT * width


def _set(inputs: Inputs, widest: float, narrowest: float) -> GaugeSetting:
    spacing = widest + inputs.pin + inputs.clearance
    if inputs.ratio in RATIOS:
        part, whole = RATIOS[inputs.ratio]
        return GaugeSetting(inputs.pin, spacing, inputs.pin / 2 + (spacing - inputs.pin) * part / whole)
    right = {"widest": widest, "middle": (widest + narrowest) / 2, "narrowest": narrowest}[inputs.exact_at]
    return GaugeSetting(inputs.pin, spacing, (RIGHT * right + inputs.pin / 2) * spacing / (right + inputs.pin))


def work(inputs: Inputs) -> Answers:
    widest = inputs.widest
    narrowest = widest if inputs.narrowest is None else inputs.narrowest
    if narrowest > widest:
        raise InputFault("{} is wider than the spar's widest, {}", "narrowest", (narrowest, widest))
    if inputs.ratio in RATIOS and inputs.exact_at != "widest":
        raise InputFault(f"{inputs.ratio} sets where the gauge is exact; to choose that, set ratio to true", "exact_at")
    spar = along(inputs)
    if spar and spar[1]:
        widest, narrowest = max(widest, spar[1].widest), min(narrowest, spar[1].narrowest)
    gauge = _set(inputs, widest, narrowest)
    at_ends = gauge.error(widest), gauge.error(narrowest)
    worst = at_ends[_worst_end(*at_ends)]
    right = _right_width(gauge)
    if inputs.ratio != "true" and right is not None and not narrowest <= right <= widest:
        right = None
    span = 24 * inputs.division
    while span < widest * (1 - 1e-9):
        span *= 2
    return Answers(
        pencil_from_pin=gauge.pencil,
        pin_spacing=gauge.spacing,
        inside=gauge.spacing - inputs.pin,
        pencil_gap=gauge.spacing - 2 * gauge.pencil,
        error_widest=at_ends[0],
        error_narrowest=at_ends[1],
        error_worst=worst,
        facet_difference=-(2 + sqrt(2)) * worst,
        right_width=right,
        pin_good=_pin_good(inputs.division, right, widest, narrowest) if inputs.ratio == "true" else None,
        slant_span=span,
        slant_near=span * 7 / 24,
        slant_far=span * 17 / 24,
        slant_error=widest * (7 / 24 - RIGHT),
        widest_face=widest,
        narrowest_face=narrowest,
    )


def _worst_end(at_widest: float, at_narrowest: float) -> int:
    """0 where the widest end is the worst, or as bad as the other; else 1."""
    return 0 if abs(at_widest) > abs(at_narrowest) - 1e-9 else 1


def _right_width(gauge: GaugeSetting) -> float | None:
    """The width at which it marks right; None when it marks too near the edge of any."""
    beyond = gauge.pencil - RIGHT * gauge.spacing
    return gauge.pin * (0.5 - RIGHT) * gauge.spacing / beyond - gauge.pin if beyond > 0 else None


def _pin_good(division: float, right: float | None, widest: float, narrowest: float) -> float | None:
    """The thickest pins whose error stays within a division; None when any that would do for the spar stay."""
    if right is None:
        return None
    short = (0.5 - RIGHT) * max(widest - right, right - narrowest) - division
    pin = division * right / short if short > 0 else widest
    return pin if pin < widest else None


def formulas(inputs: Inputs) -> Mapping[str, str]:
    answers = work(inputs)
    sums = {}
    if inputs.ratio in RATIOS:
        part, whole = RATIOS[inputs.ratio]
        sums["pencil_from_pin"] = f"pin/2 + inside·{part}/{whole}"
    else:
        middle = "(widest_face + narrowest_face) / 2"
        sums["right_width"] = middle if inputs.exact_at == "middle" else f"{inputs.exact_at}_face"
    if _worst_end(answers.error_widest, answers.error_narrowest):
        sums["error_worst"] = "error_narrowest"
    if answers.widest_face != inputs.widest:
        sums["widest_face"] = ""
    if inputs.narrowest is None:
        sums["narrowest_face"] = "widest"
    elif answers.narrowest_face != inputs.narrowest:
        sums["narrowest_face"] = ""
    return sums


def _gauge(inputs: Inputs, answers: Answers) -> GaugeSetting:
    return GaugeSetting(inputs.pin, answers.pin_spacing, answers.pencil_from_pin)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """What it marks at every station; for an oval, on the faces of its depth as well."""
    gauge, spar = _gauge(inputs, answers), along(inputs)

    def table(name: str, size: str, places: list[tuple[float | None, float]]) -> Table:
        columns = (
            Column("at", Length("Station")),
            Column(size, Length(size.capitalize())),
            Column("marks", Length("Gauge marks")),
            Column("right_line", Length("Right line")),
            Column("error", Fine("Error")),
            Column("facet_difference", Length("Side facets wider")),
        )
        rows: list[tuple[Value, ...]] = []
        for at, width in places:
            error = gauge.error(width)
            rows.append((at, width, gauge.marks(width), RIGHT * width, error, -(2 + sqrt(2)) * error))
        return Table(name, columns, tuple(rows))

    if spar is None:
        widths = dict.fromkeys((answers.widest_face, answers.narrowest_face))
        return (table("stations", "width", [(None, width) for width in widths]),)
    named = (("stations", "width", spar[0]), ("depths", "depth", spar[1]))
    return tuple(
        table(name, size, [(at, outline.width_at(at)) for at in outline.steps(inputs.station_step)])
        for name, size, outline in named
        if outline
    )


def off_the_work(inputs: Inputs, answers: Answers) -> Said:
    """Where the pencils of this gauge do not reach the wood at the narrowest face."""
    gauge = _gauge(inputs, answers)
    if gauge.marks(answers.narrowest_face) > 0:
        return None
    return "Where the spar is under {} wide the pencils run off it: take thinner pins.", (
        gauge.spacing * gauge.pin / (2 * gauge.pencil) - gauge.pin
    )


def too_far_in(inputs: Inputs, answers: Answers) -> Said:
    """Where a line lies more than half a division inside the right one."""
    over = max(answers.error_widest, answers.error_narrowest)
    if over <= inputs.division / 2:
        return None
    return "The gauge marks up to {} too far in, into the round: set its pencils true, exact at the widest.", over


def thinner_pins(inputs: Inputs, answers: Answers) -> Said:
    """Where the pins are thicker than the error allows."""
    if answers.pin_good is None or inputs.pin <= answers.pin_good:
        return None
    marked = floor(answers.pin_good / inputs.division) * inputs.division
    said = marked or answers.pin_good
    return "Pins of {} or less would keep the error within one division of the rule.", said


def set_true(inputs: Inputs, answers: Answers) -> Said:
    """Where a ratio is chosen and errs more than half a division beyond the best of these pins."""
    if inputs.ratio == "true":
        return None
    best = inputs.pin * (0.5 - RIGHT) * (answers.widest_face - answers.narrowest_face)
    best /= answers.widest_face + inputs.pin
    if abs(answers.error_worst) - best <= inputs.division / 2:
        return None
    return "Pencils set true, exact at the widest, would be off by {} at most.", best


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """From above, the bar slewed over the spar until both pins touch; its pencils on the lines that it marks."""
    gauge, width = _gauge(inputs, answers), answers.narrowest_face
    lean = asin(min(1.0, (width + gauge.pin) / gauge.spacing))
    x, y = cos(lean), sin(lean)

    def on_bar(along_it: float, off: float = 0.0) -> tuple[float, float]:
        return along_it * x - off * y, along_it * y + off * x

    half, wide = gauge.spacing / 2, gauge.pin
    tip = half + gauge.pin
    pencil = half - gauge.pencil
    long = half * x + 2 * gauge.pin + width / 4
    marks = [j * (width / 2 - gauge.marks(width)) for j in (-1, 1)]
    (px, py), (qx, qy) = on_bar(pencil), on_bar(half)
    bar = (on_bar(-tip, wide), on_bar(tip, wide), on_bar(tip, -wide), on_bar(-tip, -wide))
    return Drawing(
        "the gauge where the spar is narrowest, from above, to scale",
        (
            Fill(corners(-long, -width / 2, long, width / 2)),
            Fill(bar, "air"),
            *(Line(-long, j * width / 2, long, j * width / 2) for j in (-1, 1)),
            *(Line(-long, at, long, at, "light") for at in marks),
            *loop(*bar, pen="light"),
            *(Arc(*on_bar(j * half), gauge.pin / 2, gauge.pin / 2) for j in (-1, 1)),
            *(Arc(*on_bar(j * pencil), gauge.pin / 6, gauge.pin / 6) for j in (-1, 1)),
            Dimension(px, py, qx, qy, gauge.pencil),
            Dimension(-px, -py, px, py, answers.pencil_gap),
            Label(-long, 0, "spar"),
        ),
    )


CALCULATOR = declared(
    globals(),
    question="How is a spar gauge set out, and where does it mark wrong?",
    headline="pencil_from_pin",
    cautions=(
        off_the_work,
        too_far_in,
        thinner_pins,
        set_true,
        "Keep both pins touching. A minus marks nearer the edge: it leaves wood.",
        "A rule laid slantwise has no pin error: 24 units across, ticks at 7 and 17.",
    ),
    sources=(
        "Two circles that touch two edges, taken as parallel at every station (geometry).",
        "A taper of 1 in 100 shifts both lines one way, by 0.2 mm at most on spars up to 4 in (computed).",
        "Gauges of 7:10:7, 5:7:5 and 12:17:12, and the rule laid slantwise (common practice, no source).",
    ),
)
