"""Glue-up: a plank from offcuts, also for jaw cheeks and bitts: which strips, in which order, glue and clamps."""

from functools import lru_cache
from itertools import pairwise
from math import ceil

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Dimension, Drawing, Fill, Label, Shape, Shown, corners, loop
from ..errors import InputFault
from ..fields import Count, Length, Text, Value
from ..lengths import LONGEST
from ..quantities import OZ_FT2, Area, Mass, Percent, Spread
from ..record import Annotated, NamedTuple, Record
from ..timber.courses import MOST_SHORT, NOISE, CourseStrip, Layout, Strips, layout

_PRACTICE = "common practice, no source"
_EDGES = "what is planed off both edges is added"
_BOUGHT = "one more whole course, with its edges jointed"


class Inputs(Record):
    strips: Annotated[tuple[CourseStrip, ...] | None, Strips("Strips, width = length")] = None
    needed_width: Annotated[float, Length("Plank's width", above=0, at_most=2000, follows="spar.blank")]
    needed_length: Annotated[float, Length("Plank's length", above=0, at_most=LONGEST, follows="spar.length")]
    thickness: Annotated[float, Length("Plank's thickness", above=0, at_most=500, follows="needed_width")]
    jointing: Annotated[float, Length("Jointing, each edge", called="jointing", at_least=0, at_most=50, metric=1.5)] = (
        1.5875
    )
    planing: Annotated[
        float,
        Length("Planing, each face", called="planing", at_least=0, at_most=50, follows="shop.planing", metric=3.0),
    ] = 3.175
    trim: Annotated[float, Length("Trim at each end", at_least=0, at_most=1000, metric=12.0)] = 12.7
    stagger: Annotated[float, Length("Butts apart, at least", at_least=0, at_most=10000, metric=300.0)] = 304.8
    clamp_spacing: Annotated[float, Length("Clamps every", above=0, at_most=2000, metric=250.0)] = 254.0
    spread: Annotated[float, Spread("Glue spread", above=0, at_most=5000, metric=250.0)] = 0.8 * OZ_FT2


class Answers(Record):
    rough_width: Annotated[
        float, Length("Glue-up width", formula="needed_width + 2·jointing", source=_EDGES, rounding="up")
    ]
    rough_length: Annotated[
        float,
        Length("Glue-up length", formula="needed_length + 2·trim", source="cut square after gluing", rounding="up"),
    ]
    rough_thickness: Annotated[
        float, Length("Glue-up thickness", formula="thickness + 2·planing", source="planed after gluing", rounding="up")
    ]
    plan: Annotated[
        str | None,
        Text("Strips in order", source="of all sets that will do, the one of least wood, by search", longest=400),
    ]
    glued_width: Annotated[float, Length("Width it makes", source="every edge jointed; the plank's own two not yet")]
    short_by: Annotated[
        float | None,
        Length("Short by", formula="rough_width − glued_width", source="with every strip in use", rounding="up"),
    ]
    cure_width: Annotated[
        float | None,
        Length("Another strip, at least this wide", formula="short_by + 2·jointing", source=_BOUGHT, rounding="up"),
    ]
    cure_length: Annotated[
        float | None, Length("Another strip, at least this long", formula="rough_length", source=_BOUGHT, rounding="up")
    ]
    courses: Annotated[int, Count("Courses", source="side by side")]
    strips_used: Annotated[int, Count("Strips used", source="in all courses")]
    butts: Annotated[int, Count("Butts", formula="strips_used − courses", source="end to end in a course")]
    stagger_got: Annotated[
        float | None, Length("Butts apart, as laid", source="in courses side by side", rounding="down")
    ]
    waste: Annotated[float | None, Percent("Wood lost", source="what is used less the finished plank, in plan")]
    glue_area: Annotated[
        float,
        Area("Glued area", formula="(max(courses, 1) − 1)·rough_length·rough_thickness",
             source="edge to edge; a butt is end grain and holds little"),
    ]  # fmt: skip
    glue_mass: Annotated[
        float, Mass("Glue", formula="glue_area·spread / {(144·16)|1000³}", source="spread on one side of each joint")
    ]
    clamps: Annotated[int, Count("Clamps", source="one at each end, and as many between as the spacing asks for")]


@lru_cache(maxsize=8)  # answers, table, drawing and cautions each ask for it
def _laid(inputs: Inputs) -> Layout:
    strips = inputs.strips or ()
    long, wide = _rough(inputs)
    thin = next((strip for strip in strips if strip.width <= 2 * inputs.jointing), None)
    if thin is not None:
        raise InputFault(
            "jointing takes all of a strip of {}; wider than {} will do", "strips", (thin.width, 2 * inputs.jointing)
        )
    short = sum(strip.length < long - NOISE for strip in strips)
    if short > MOST_SHORT:
        raise InputFault(
            f"{short} strips are shorter than {{}}, and no more than {MOST_SHORT} such can be tried: leave some out",
            "strips",
            (long,),
        )
    return layout(strips, long, wide, inputs.jointing, inputs.stagger)


def _rough(inputs: Inputs) -> tuple[float, float]:
    """Length and width that are glued up."""
    return inputs.needed_length + 2 * inputs.trim, inputs.needed_width + 2 * inputs.jointing


def work(inputs: Inputs) -> Answers:
    long, wide = _rough(inputs)
    laid, strips = _laid(inputs), inputs.strips or ()
    glued = sum(course.width - 2 * inputs.jointing for course in laid.courses)
    short = wide - glued if glued < wide - NOISE else None
    deep = inputs.thickness + 2 * inputs.planing
    used = sum(strips[n].width * strips[n].length for n in laid.used)
    area = max(0, len(laid.courses) - 1) * long * deep
    return Answers(
        rough_width=wide,
        rough_length=long,
        rough_thickness=deep,
        plan="; ".join(" + ".join(str(n + 1) for n in course.strips) for course in laid.courses) or None,
        glued_width=glued,
        short_by=short,
        cure_width=None if short is None else short + 2 * inputs.jointing,
        cure_length=None if short is None else long,
        courses=len(laid.courses),
        strips_used=len(laid.used),
        butts=len(laid.used) - len(laid.courses),
        stagger_got=laid.stagger,
        waste=100 * (1 - inputs.needed_width * inputs.needed_length / used) if short is None else None,
        glue_area=area,
        glue_mass=area * inputs.spread / 1e9,
        clamps=1 + ceil(long / inputs.clamp_spacing),
    )


class _Piece(NamedTuple):
    course: int
    strip: int  # its place in the list
    start: float
    end: float
    edge: float  # of the course, from the plank's first edge
    width: float  # jointed


def _pieces(inputs: Inputs) -> list[_Piece]:
    """Every strip in use, and where it lies in the plank as it is glued up, mm."""
    strips, (long, _) = inputs.strips or (), _rough(inputs)
    pieces, edge = [], 0.0
    for number, course in enumerate(_laid(inputs).courses, 1):
        ends = [0.0, *course.butts(strips), long]
        width = course.width - 2 * inputs.jointing
        pieces += [
            _Piece(number, n, start, end, edge, width)
            for n, (start, end) in zip(course.strips, pairwise(ends), strict=True)
        ]
        edge += width
    return pieces


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The strips in order, edge by edge."""
    if not answers.courses:
        return ()
    strips = inputs.strips or ()
    tones = any(strip.tone for strip in strips)
    columns = (
        Column("course", Count("Course")),
        Column("strip", Count("Strip")),
        Column("start", Length("From")),
        Column("end", Length("To")),
        Column("width", Length("Wide")),
        Column("jointed", Length("Joint it to")),
        *((Column("tone", Text("Tone")),) if tones else ()),
    )
    rows: list[tuple[Value, ...]] = []
    for piece in _pieces(inputs):
        strip = strips[piece.strip]
        tone = (strip.tone or None,) if tones else ()
        rows.append((piece.course, piece.strip + 1, piece.start, piece.end, strip.width, piece.width, *tone))
    return (Table("strips", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing | None:
    """The plank in plan as it is glued up: its strips by number, the finished plank in it, and the sizes to glue up."""
    shapes: list[Shape] = []
    pieces = _pieces(inputs)
    edge = inputs.jointing
    if answers.short_by is None:
        edge = (answers.glued_width - inputs.needed_width) / 2
    plank = corners(inputs.trim, -edge - inputs.needed_width, inputs.trim + inputs.needed_length, -edge)
    for piece in pieces:
        strip = corners(piece.start, -piece.edge - piece.width, piece.end, -piece.edge)
        shapes += [Fill(strip, "wood" if answers.short_by else "off"), *loop(*strip)]
        shapes.append(Label((piece.start + piece.end) / 2, -piece.edge - piece.width / 2, str(piece.strip + 1)))
    if answers.short_by is None:
        shapes.insert(len(pieces), Fill(plank))
        shapes.sort(key=lambda shape: not isinstance(shape, Fill))
    top, low = inputs.jointing - edge, -edge - inputs.needed_width - inputs.jointing
    left, under = -answers.rough_length / 30, low - answers.rough_length / 20
    shapes += [
        *loop(*plank, pen="light"),
        Dimension(left, low, left, top, answers.rough_width, of="rough_width"),
        Dimension(0.0, under, answers.rough_length, under, answers.rough_length, of="rough_length"),
    ]
    if answers.courses:
        said = ("short_by", "short by {}") if answers.short_by else ("plan", "strips {}")
        shapes.append(Shown(answers.rough_length / 2, top + answers.rough_length / 20, *said))
    return Drawing("the plank in plan, strips by number, to scale", tuple(shapes))


def narrow_butts(inputs: Inputs, answers: Answers) -> Said:
    """Where butts in neighbouring courses are closer than asked for."""
    if answers.stagger_got is None or answers.stagger_got >= inputs.stagger - NOISE:
        return None
    return "Butts in neighbouring courses are only {} apart: lay a whole strip between them.", answers.stagger_got


def cut_first(inputs: Inputs, answers: Answers) -> str | None:
    """Where a strip in use is as long as two courses."""
    strips, (long, _) = inputs.strips or (), _rough(inputs)
    halves = sorted(n + 1 for n in _laid(inputs).used if strips[n].length >= 2 * long)
    return (
        f"Strip {halves[0]} is long enough for two courses or more: list it as the pieces it would be cut into."
        if halves
        else None
    )


def lone_butts(inputs: Inputs, answers: Answers) -> str | None:
    """Where a course is made of strips end to end."""
    if not answers.butts:
        return None
    if answers.courses < 2:
        return "One course with a butt has no strength: scarf it, or lay a whole strip beside it."
    return "A butt has little strength: keep it out of the horns of jaws and of bent wood."


def heads(inputs: Inputs, answers: Answers) -> tuple[str, ...]:
    """How much is short and the strip that would make it up, else the strips in their order."""
    return ("short_by", "cure_width", "cure_length") if answers.short_by else ("plan", "rough_width")


CALCULATOR = declared(
    globals(),
    question="Which offcuts make this plank, in which order?",
    headline="rough_width",
    cautions=(
        cut_first,
        narrow_butts,
        lone_butts,
        "Dry run first with all clamps on, over and under in turn, to keep the plank flat.",
        "Follow the glue maker on time, temperature and pressure. Keep epoxy off the skin.",
    ),
    sources=(
        "Every set of strips is tried; of those that will do, the one of least area is taken (search).",
        "Allowances, butts apart, clamp spacing and spread (common practice, no source).",
    ),
)
