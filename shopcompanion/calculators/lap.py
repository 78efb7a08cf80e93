"""Lap: half laps for bitts and crossings, their lines and saw passes, and two posts that stand around a spar.

The stock is the piece that is marked, as a post; the crossing is laid into it, as a crosspiece. Both are cut so that
they come flush on the face the laps are cut in.
"""

from collections.abc import Mapping
from itertools import pairwise
from math import ceil, radians, tan
from typing import Any

from ..calculator import Column, Table, declared
from ..errors import InputFault
from ..fields import Angle, Count, Length, Lengths, Pairs, Value
from ..lengths import LONGEST, Rule, show
from ..record import Annotated, Record
from .lap_drawn import drawing  # noqa: F401  (declared() finds it by its name)

_PRACTICE = "common practice, no source"
_FLUSH = "the two floors meet, and the faces come flush"
_AROUND = "the clearance on either side of the spar"
_BESIDE = "the posts with the opening between them"


class Marks(Pairs):
    """The two lines of every lap, the first brought to the next mark up and the second down, so that it is snug."""

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(f"{_bare(a, rule, 'up')} to {_bare(b, rule, 'down')}" for a, b in value)


def _bare(mm: float, rule: Rule, way: Any) -> str:
    return show(mm, rule, way).removesuffix(f", rounded {way}")


class Inputs(Record):
    stock_thickness: Annotated[
        float, Length("Stock, thickness", called="stock's thickness", above=0, at_most=2000, follows="spar.width_at")
    ]
    stock_width: Annotated[
        float, Length("Stock, width", called="stock's width", above=0, at_most=2000, follows="stock_thickness")
    ]
    length: Annotated[
        float | None, Length("Stock, length", called="stock's length", above=0, at_most=LONGEST, follows="spar.length")
    ] = None
    crossing_width: Annotated[
        float, Length("Crossing, width", called="crossing's width", above=0, at_most=2000, follows="stock_width")
    ]
    crossing_thickness: Annotated[
        float,
        Length("Crossing, thickness", called="crossing's thickness", above=0, at_most=2000, follows="stock_thickness"),
    ]
    at: Annotated[
        float | None, Length("Centred at", called="centre asked for", at_least=0, at_most=LONGEST, follows="spar.at")
    ] = None
    positions: Annotated[tuple[float, ...] | None, Lengths("Or several, centred at", above=0, at_most=LONGEST)] = None
    end_wood: Annotated[
        float | None, Length("Least wood at end", called="least wood at an end", at_least=0, at_most=LONGEST)
    ] = None
    kerf: Annotated[float, Length("Kerf of the saw", above=0, at_most=50, follows="shop.kerf", metric=3.0)] = 3.175
    cutter: Annotated[float | None, Length("Dado set, width", called="dado set", above=0, at_most=100)] = None
    overlap: Annotated[float, Length("Passes overlap by", called="overlap", at_least=0, at_most=50, metric=1.0)] = (
        0.79375
    )
    spar_width: Annotated[
        float | None,
        Length("Spar between, width", called="width of the spar", above=0, at_most=2000, follows="boat.bowsprit"),
    ] = None
    spar_depth: Annotated[
        float | None,
        Length("Spar between, height", called="height of the spar", above=0, at_most=2000, follows="spar_width"),
    ] = None
    clearance: Annotated[float, Length("Clear all round", called="clearance", at_least=0, at_most=500, metric=1.5)] = (
        1.5875
    )
    run_past: Annotated[float | None, Length("Crossing runs past", at_least=0, at_most=5000)] = None
    chamfer: Annotated[float, Length("Chamfer off a face", called="chamfer", at_least=0, at_most=1000)] = 0.0
    chamfer_angle: Annotated[float, Angle("Chamfer angle", above=5, below=85)] = 45.0


class Answers(Record):
    lap_depth: Annotated[
        float, Length("Lap depth", formula="min(stock_thickness, crossing_thickness) / 2", source=_FLUSH)
    ]
    crossing_depth: Annotated[
        float, Length("Lap in the crossing", formula="crossing_thickness − lap_depth", source=_FLUSH)
    ]
    shoulder_lines: Annotated[
        tuple[tuple[float, float], ...],
        Marks("Lines, snug",
              source="from the end; the near one up to a mark, the far one down"),
    ]  # fmt: skip
    saw_passes: Annotated[
        int,
        Count("Passes for each lap", called="passes",
              formula="1 + ceil((crossing_width − cut_width) / (cut_width − overlap))",
              source="both shoulders first, then evenly between"),
    ]  # fmt: skip
    saw_step: Annotated[
        float | None,
        Length("Move it each time by", formula="(crossing_width − cut_width) / (saw_passes − 1)",
               source="evenly between the shoulders"),
    ]  # fmt: skip
    wood_left: Annotated[
        float, Length("Left in the stock", formula="stock_thickness − lap_depth", source="under the lap")
    ]
    crossing_left: Annotated[
        float, Length("Left in the crossing", formula="crossing_thickness − crossing_depth", source="over the lap")
    ]
    proud: Annotated[
        float | None,
        Length("Stands out behind", formula="abs(stock_thickness − crossing_thickness)",
               source="the thicker one; in front they are flush"),
    ]  # fmt: skip
    end_left: Annotated[float, Length("Wood beyond a lap", source="the end that is nearest")]
    between: Annotated[float | None, Length("Between two laps", source="shoulder to shoulder")]
    inside_width: Annotated[
        float | None,
        Length("Opening, width", called="width of the opening", formula="spar_width + 2·clearance", source=_AROUND),
    ]
    inside_height: Annotated[
        float | None,
        Length("Opening, height", called="height of the opening", formula="spar_depth + 2·clearance", source=_AROUND),
    ]
    outside_width: Annotated[
        float | None,
        Length("Over the posts", called="width over the posts", formula="inside_width + 2·stock_width", source=_BESIDE),
    ]
    outside_height: Annotated[
        float | None,
        Length("Over the crossings", formula="inside_height + 2·crossing_width", source="one under, one over the spar"),
    ]
    next_at: Annotated[
        float | None,
        Length("The other crossing at", formula="lap_at + crossing_width + inside_height",
               source="the first one's middle, and the opening", rounding="up"),
    ]  # fmt: skip
    crossing_length: Annotated[
        float | None,
        Length("Cut the crossings", formula="outside_width + 2·past_posts", source="they run past the posts"),
    ]
    set_back: Annotated[
        float | None,
        Length(
            "Chamfer begins",
            called="start of the chamfer",
            formula="chamfer / tan(chamfer_angle)",
            source="from the end, on every face",
        ),
    ]
    lap_at: Annotated[
        float, Length("First lap at", called="centre of the first lap", source="as a fitting lies on a spar")
    ]
    least_end: Annotated[float, Length("Least wood at end, used", called="wood kept at an end", source=_PRACTICE)]
    past_posts: Annotated[
        float, Length("Runs past the posts", called="run past the posts", formula="stock_width", source=_PRACTICE)
    ]
    cut_width: Annotated[float, Length("One pass cuts", called="cut of a pass", formula="kerf", source="the tool")]


def _middles(inputs: Inputs, least_end: float) -> tuple[float, ...]:
    """The middles of the laps, in order, mm. InputFault where one does not fit."""
    half, length = inputs.crossing_width / 2, inputs.length
    nearest = half + least_end
    furthest = None if length is None else length - nearest
    if length is not None and furthest is not None and furthest < nearest:
        room = length - 2 * least_end
        if room <= 0:
            raise InputFault("a stock of {} has no room for a lap with {} at both ends", "length", (length, least_end))
        raise InputFault(
            "{} leaves less than {} at the ends of {}; {} or less will do",
            "crossing_width",
            (inputs.crossing_width, least_end, length, room),
        )
    if inputs.positions is None:
        at = nearest if inputs.at is None else max(inputs.at, nearest)
        return (at if furthest is None else min(at, furthest),)
    if not inputs.positions:
        raise InputFault("no place for a lap is given; type one or more, as 200 mm; 300 mm", "positions")
    middles = tuple(sorted(inputs.positions))
    if middles[0] < nearest - 1e-9:
        raise InputFault(
            "the lap at {} leaves less than {} at the end; {} or more will do",
            "positions",
            (middles[0], least_end, nearest),
        )
    if furthest is not None and middles[-1] > furthest + 1e-9:
        raise InputFault(
            "the lap at {} leaves less than {} at the end; {} or less will do",
            "positions",
            (middles[-1], least_end, furthest),
        )
    for middle, other in pairwise(middles):
        if other - middle < inputs.crossing_width - 1e-9:
            raise InputFault(
                "the laps at {} and {} overlap; move the second to {} or beyond, or take a crossing of {} or less",
                "positions",
                (middle, other, middle + inputs.crossing_width, other - middle),
            )
    return middles


def _passes(width: float, cut: float, overlap: float) -> int:
    return 1 + ceil((width - cut) / (cut - overlap) - 1e-9)  # float noise is no pass


def work(inputs: Inputs) -> Answers:
    thick, across = inputs.stock_thickness, inputs.crossing_width
    depth = min(thick, inputs.crossing_thickness) / 2
    set_back = inputs.chamfer / tan(radians(inputs.chamfer_angle)) if inputs.chamfer else None
    if inputs.chamfer >= min(thick, inputs.stock_width) / 2:
        raise InputFault(
            "{} off each face leaves no wood at the end; less than {} will do",
            "chamfer",
            (inputs.chamfer, min(thick, inputs.stock_width) / 2),
        )
    least_end = max(depth if inputs.end_wood is None else inputs.end_wood, set_back or 0.0)
    cut, tool = (inputs.kerf, "kerf") if inputs.cutter is None else (inputs.cutter, "cutter")
    if cut > across:
        raise InputFault("{} is wider than the lap, {}; a narrower one will do", tool, (cut, across))
    if inputs.overlap >= cut:
        raise InputFault("{} is as much as one pass cuts; less than {} will do", "overlap", (inputs.overlap, cut))
    middles = _middles(inputs, least_end)
    lines = tuple((at - across / 2, at + across / 2) for at in middles)
    gaps = [after[0] - before[1] for before, after in pairwise(lines)]
    passes = _passes(across, cut, inputs.overlap)
    deep = inputs.spar_width if inputs.spar_depth is None else inputs.spar_depth
    wide = None if inputs.spar_width is None else inputs.spar_width + 2 * inputs.clearance
    high = None if deep is None else deep + 2 * inputs.clearance
    if high is not None and gaps and max(gaps) < high - 1e-9:
        raise InputFault(
            "no two laps have {} between them for the spar; the second has at {}",
            "positions",
            (high, middles[0] + across + high),
        )
    past = inputs.stock_width if inputs.run_past is None else inputs.run_past
    over = None if wide is None else wide + 2 * inputs.stock_width
    ends = [lines[0][0]] if inputs.length is None else [lines[0][0], inputs.length - lines[-1][1]]
    return Answers(
        lap_depth=depth,
        crossing_depth=inputs.crossing_thickness - depth,
        shoulder_lines=lines,
        saw_passes=passes,
        saw_step=(across - cut) / (passes - 1) if passes > 1 else None,
        wood_left=thick - depth,
        crossing_left=depth,
        proud=abs(thick - inputs.crossing_thickness) or None,
        end_left=min(ends),
        between=min(gaps) if gaps else None,
        inside_width=wide,
        inside_height=high,
        outside_width=over,
        outside_height=None if high is None else high + 2 * across,
        next_at=None if high is None else middles[0] + across + high,
        crossing_length=None if over is None else over + 2 * past,
        set_back=set_back,
        lap_at=middles[0],
        least_end=least_end,
        past_posts=past,
        cut_width=cut,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums = {}
    if inputs.positions is None:
        beyond = "lap_at − crossing_width/2"
        sums["end_left"] = beyond if inputs.length is None else f"min({beyond}, length − lap_at − crossing_width/2)"
        near = "crossing_width/2 + least_end"
        at = near if inputs.at is None else f"max(at, {near})"
        sums["lap_at"] = at if inputs.length is None else f"min({at}, length − crossing_width/2 − least_end)"
    wood = "lap_depth" if inputs.end_wood is None else "end_wood"
    sums["least_end"] = f"max({wood}, set_back)" if inputs.chamfer else wood
    if inputs.cutter is not None:
        sums["cut_width"] = "cutter"
    if inputs.run_past is not None:
        sums["past_posts"] = "run_past"
    if inputs.spar_depth is None:
        sums["inside_height"] = "spar_width + 2·clearance"
    return sums


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Every lap of the stock, and the two of a crossing where the posts are known to stand."""
    columns = (
        Column("lap", Count("Lap")),
        Column("near", Length("Near line", rounding="up")),
        Column("far", Length("Far line", rounding="down")),
        Column("middle", Length("Middle")),
        Column("depth", Length("Deep")),
    )

    def rows(lines: tuple[tuple[float, float], ...], deep: float) -> tuple[tuple[Value, ...], ...]:
        return tuple((n, near, far, (near + far) / 2, deep) for n, (near, far) in enumerate(lines, 1))

    parts = [Table("laps", columns, rows(answers.shoulder_lines, answers.lap_depth))]
    if answers.crossing_length is not None:
        past, long = answers.past_posts, answers.crossing_length
        lines = ((past, past + inputs.stock_width), (long - past - inputs.stock_width, long - past))
        parts.append(Table("crossing", columns, rows(lines, answers.crossing_depth)))
    return tuple(parts)


def short_grain(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
    """Where less wood is left beyond a lap than half the crossing's width."""
    if answers.end_left >= inputs.crossing_width / 2:
        return None
    return "Only {} of wood beyond a lap: cut the end to length after gluing, or the wood shears off.", answers.end_left


def at_its_end(inputs: Inputs, answers: Answers) -> str | None:
    """Where the crossing runs past the posts by less than its own laps are deep."""
    if inputs.run_past is not None and inputs.run_past < answers.crossing_depth and answers.crossing_length is not None:
        return "The crossing's own laps are near its ends: let it run further past the posts."
    return None


def moved_in(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
    """Where a lap at the given place would run off the end."""
    if inputs.positions is not None or inputs.at is None or abs(inputs.at - answers.lap_at) < 1e-9:
        return None
    return "A lap there would run off the end: these numbers are for one moved in to {}.", answers.lap_at


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | tuple[Mapping[str, Value], ...]:
    """The laps for the spar: one, at its own place or the station's; or every one of several."""
    kept: dict[str, Value] = {"kind": "lap", "length": inputs.crossing_width, "flat": answers.lap_depth}
    if inputs.positions is not None:
        return tuple({"at": (near + far) / 2, **kept} for near, far in answers.shoulder_lines)
    return kept if inputs.at is None else {"at": answers.lap_at, **kept}


CALCULATOR = declared(
    globals(),
    question="How deep is the half lap, and where are its lines?",
    headline="lap_depth",
    cautions=(
        moved_in,
        short_grain,
        at_its_end,
        "Mark from the piece itself with a knife; saw in the waste; try it in scrap first.",
        "Clear chips with the saw stopped. Dado set: as its and the saw's manual say.",
    ),
    sources=(
        "Half of the thinner piece from each (common practice, no source; geometry).",
        "At an end as much wood as the lap is deep, or more (common practice, no source).",
    ),
)
