"""A spar drawn for paper: its section in the blank, what comes off hatched, and the spar seen from two sides."""

from collections.abc import Callable, Iterator
from math import cos, sin

from ..calculators.staves import case
from ..card.plan import CardPlan
from ..record import NamedTuple
from ..spar.fitting import Fitting
from ..spar.seat import chord
from ..spar.section import EIGHT, Section
from .faces import POINT
from .marks import ArcMark, Mark, Point, Stroke, TextMark, along, flipped, hatched, line, loop, rectangle
from .typeset import SMALL

_PIECES = 240  # of an edge
_STEPS = {"in": (304.8, 609.6, 1524.0, 3048.0), "mm": (250.0, 500.0, 1000.0, 2000.0, 5000.0)}
_APART = 9.0  # mm between figures on the scale, at least
_VIEW = 15.0  # mm that the thickest place of a view is high


def outline_points(kind: str, width: float, depth: float) -> tuple[Point, ...]:
    """The outside of a section about its middle."""
    x, y = width / 2, depth / 2
    if kind == "square":
        return ((-x, -y), (x, -y), (x, y), (-x, y))
    if kind == "eight":
        f = EIGHT
        return tuple(
            (x * i, y * j) for i, j in ((1, f), (f, 1), (-f, 1), (-1, f), (-1, -f), (-f, -1), (f, -1), (1, -f))
        )
    return along(ArcMark(0, 0, x, y))[:-1]


class SectionDrawn(NamedTuple):
    """The drawing of a section, `high` mm of a page from the top down, and what it is."""

    marks: tuple[Mark, ...]
    high: float
    caption: str


def section(plan: CardPlan, room: float, most: float) -> SectionDrawn:
    """The section where it is largest, to scale within its blank, at most `room` wide and `most` high."""
    if plan.of_staves:
        return _ring(plan, room, most)
    at = plan.widest_at
    kind = plan.body.section_at(at).headward.kind if plan.sides > 4 else "square"
    wide = plan.size(at).across
    deep = plan.depth(at).across if plan.oval else wide
    blank_wide = plan.taper["blank_side"]
    blank_deep = plan.taper_of_depth["blank_side"] if plan.taper_of_depth else blank_wide
    margin = 7.0
    scale = min((room - 2 * margin) / blank_wide, (most - 2 * margin) / blank_deep, 2.0)
    outside = outline_points("square", blank_wide, blank_deep)
    inside = outline_points(kind, wide, deep)
    marks: list[Mark] = [loop(outside, "thin"), *_sawn(plan, at, wide, deep)]
    marks += [loop(inside, "heavy"), *_bore(plan, at)]
    grown = [_scaled(mark, scale) for mark in marks]
    grown = [*hatched(_times(outside, scale), _times(inside, scale)), *grown]
    half_wide, half_deep = blank_wide * scale / 2, blank_deep * scale / 2
    cross = half_wide + 3.5
    grown += [line(-cross, 0, cross, 0, "centre"), line(0, -half_deep - 3.5, 0, half_deep + 3.5, "centre")]
    for letter, x, y in (
        ("A", 0, half_deep + 4),
        ("B", half_wide + 4, -1),
        ("C", 0, -half_deep - 6.4),
        ("D", -cross - 2, -1),
    ):
        grown.append(TextMark(x, y, letter, SMALL, True, "centre"))
    say = plan.job.length
    size = say(wide) if not plan.oval else f"{say(wide)} by {say(deep)}"
    ratio = f"1 to {1 / scale:.3g}" if scale < 1 else f"{scale:.3g} to 1"
    comes_off = "" if kind == "square" and abs(blank_wide - wide) < 1e-6 else "; what comes off is hatched"
    caption = f"{size} at {plan.place(at)}, in its blank of {say(blank_wide)}; {ratio}{comes_off}."
    return SectionDrawn(flipped(grown, room / 2, half_deep + margin), 2 * (half_deep + margin), caption)


def _ring(plan: CardPlan, room: float, most: float) -> SectionDrawn:
    """The ring of staves as it is glued, and the round that is made of it."""
    ring = case(plan.staves(plan.widest_at).result.inputs).ring
    margin, half = 7.0, ring.diameter / 2 + ring.proud
    scale = min((room / 2 - margin) / half, (most / 2 - margin) / half, 2.0)
    round_ = outline_points("round", ring.diameter, ring.diameter)
    corner = ring.diameter / 2 / cos(ring.turn / 2)
    ways = [(k + 0.5) * ring.turn for k in range(ring.staves)]
    outside = tuple((corner * sin(way), corner * cos(way)) for way in ways)
    marks: list[Mark] = list(hatched(_times(outside, scale), _times(round_, scale)))
    marks += [loop(_times(stave, scale), "thin") for stave in ring.all_staves]
    marks.append(loop(_times(round_, scale), "heavy"))
    size, ratio = plan.job.length(ring.diameter), f"1 to {1 / scale:.3g}" if scale < 1 else f"{scale:.3g} to 1"
    caption = f"{size} at {plan.place(plan.widest_at)}, of {ring.staves} staves; {ratio}; what comes off is hatched."
    return SectionDrawn(flipped(marks, room / 2, half * scale + margin), 2 * (half * scale + margin), caption)


def _times(points: tuple[Point, ...], scale: float) -> tuple[Point, ...]:
    return tuple((x * scale, y * scale) for x, y in points)


def _scaled(mark: Mark, scale: float) -> Mark:
    if isinstance(mark, Stroke):
        return mark._replace(points=_times(mark.points, scale))
    if isinstance(mark, ArcMark):
        return mark._replace(
            x=mark.x * scale, y=mark.y * scale, radius_x=mark.radius_x * scale, radius_y=mark.radius_y * scale
        )
    return mark._replace(x=mark.x * scale, y=mark.y * scale)


def _sawn(plan: CardPlan, at: float, wide: float, deep: float) -> Iterator[Mark]:
    """The square that is lined out, and its eight sides, within the blank."""
    if plan.sides == 4:
        return
    yield loop(outline_points("square", wide, deep), "scribe")
    if plan.sides > 8:
        yield loop(outline_points("eight", wide, deep), "scribe")


def _bore(plan: CardPlan, at: float) -> Iterator[Mark]:
    inside = plan.body.section_at(at).headward.inside
    if inside is not None:
        yield ArcMark(0, 0, inside.width / 2, inside.depth / 2, pen="heavy")


class Views(NamedTuple):
    """Both drawings of the spar, one under the other, `high` mm from the top down; thickness so many times too big."""

    marks: tuple[Mark, ...]
    high: float
    taller: float


def views(plan: CardPlan, room: float) -> Views:
    """The spar seen on face A and on face B, heel at the left, with what is let in."""
    length, inset = plan.spar.length, 5.0
    across = (room - inset) / length
    widest = max(plan.outline.widest, plan.depths.widest if plan.depths else 0.0)
    up = _VIEW / widest
    marks: list[Mark] = []
    y = 4.5
    for letter, x in _letters(plan, across, inset):
        marks.append(TextMark(x, y - 0.8, letter, SMALL, True, "centre"))
    for face, half, other in (("A", _half(plan, "A"), _half(plan, "B")), ("B", _half(plan, "B"), _half(plan, "A"))):
        middle = y + _VIEW / 2
        marks.append(TextMark(0, middle + 1.0, face, SMALL, True))
        marks += [_placed(mark, inset, middle, across, up) for mark in _view(plan, face, half, other)]
        y += _VIEW + 3.0
    marks += _scale(plan, across, inset, y - 2.0)
    return Views(tuple(marks), y + 3.0, up / across)


def _placed(mark: Mark, left: float, middle: float, across: float, up: float) -> Mark:
    placed = flipped([mark], left, middle, (across, up))
    return placed[0]


def _letters(plan: CardPlan, across: float, inset: float) -> Iterator[tuple[str, float]]:
    """The letters of joints and fittings over their places; two that would lie on one another move apart."""
    last = -10.0
    for letter, part in plan.lettered:
        at = part.middle(plan.spar.length) if isinstance(part, Fitting) else part.at
        last = max(inset + at * across, last + 2.2)
        yield letter, last


def _half(plan: CardPlan, face: str) -> Callable[[float], float]:
    """Half of what is seen across on a face: A shows the width, B the depth."""
    size = plan.outline if face == "A" or plan.depths is None else plan.depths
    return lambda at: size.width_at(at) / 2


def _view(plan: CardPlan, face: str, half: Callable[[float], float], other: Callable[[float], float]) -> list[Mark]:
    """The outline seen on a face, notched where something is let in from its sides; what is let into itself on it."""
    opposite = {"A": "C", "B": "D"}[face]
    upper, lower = ("B", "D") if face == "A" else ("A", "C")
    length = plan.spar.length
    fittings = list(plan.spar.fittings)
    ats = _ats(plan, fittings)
    top = [(at, _edge(at, half, [fitting for fitting in fittings if upper in fitting.faces], length)) for at in ats]
    low = [
        (at, -_edge(at, half, [fitting for fitting in fittings if lower in fitting.faces], length))
        for at in reversed(ats)
    ]
    marks: list[Mark] = [loop((*top, *low), "heavy", 0.93)]
    marks.append(line(-0.004 * length, 0, 1.004 * length, 0, "centre"))
    ends = {end for stretch in plan.others for end in (stretch.start, stretch.end)} | {
        end for stretch in plan.run_outs for end in (stretch.start, stretch.end)
    }
    marks += [line(at, -half(at), at, half(at), "thin") for at in sorted(ends) if 0 < at < length]
    for joint in plan.spar.joints:
        marks.append(line(joint.at, -1.25 * half(joint.at), joint.at, 1.25 * half(joint.at), "heavy"))
    for fitting in fittings:
        seen = face in fitting.faces
        pen = "thin" if seen else "scribe"
        if seen or opposite in fitting.faces:
            marks += _let_in(fitting, half, other, length, pen)
        if fitting.faces[0] in (face, opposite):
            marks += _bored(fitting, length, half)
    return marks


def _ats(plan: CardPlan, fittings: list[Fitting]) -> list[float]:
    """Where the edges are taken: evenly, and just within and without every cut."""
    length = plan.spar.length
    ats = set(plan.outline.evenly(_PIECES))
    for fitting in fittings:
        middle = fitting.middle(length)
        for reach in (fitting.length / 2, fitting.barrel / 2):
            if reach:
                ats |= {middle + way * reach + small for way in (-1, 1) for small in (-1e-3, 1e-3)}
    return sorted({min(max(at, 0.0), length) for at in ats})


def _edge(at: float, half: Callable[[float], float], fittings: list[Fitting], length: float) -> float:
    """How far from the centre line the edge is at a station, lower where a flat or a barrel is let in."""
    edge = half(at)
    for fitting in fittings:
        middle = fitting.middle(length)
        if fitting.flat and abs(at - middle) <= fitting.length / 2:
            edge = min(edge, half(middle) - fitting.flat)
        if fitting.barrel and abs(at - middle) <= fitting.barrel / 2:
            edge = min(edge, half(middle) - fitting.barrel_deep)
    return edge


def _let_in(
    fitting: Fitting, half: Callable[[float], float], other: Callable[[float], float], length: float, pen: str
) -> Iterator[Mark]:
    """A flat, bar or barrel seen from above."""
    middle = fitting.middle(length)
    whole = Section("round", 2 * half(middle), 2 * other(middle))
    for reach, wide in (
        (fitting.length / 2, chord(whole, fitting.flat) if fitting.flat else 0.0),
        (fitting.length / 2, fitting.bar),
        (fitting.barrel / 2, chord(whole, fitting.barrel_deep) if fitting.barrel else 0.0),
    ):
        if reach and wide:
            yield rectangle((middle - reach, -wide / 2, middle + reach, wide / 2), pen)  # type: ignore[arg-type]


def _bored(fitting: Fitting, length: float, half: Callable[[float], float]) -> Iterator[Mark]:
    middle = fitting.middle(length)
    if fitting.hole:
        for off in fitting.bored_at:
            yield ArcMark(middle + off, 0, fitting.hole / 2, fitting.hole / 2, pen="thin")
    if fitting.slot:
        yield rectangle(
            (middle - fitting.slot_long / 2, -fitting.slot / 2, middle + fitting.slot_long / 2, fitting.slot / 2),
            "thin",
        )


def _scale(plan: CardPlan, across: float, inset: float, y: float) -> Iterator[Mark]:
    """Feet or metres below the drawing."""
    length = plan.spar.length
    step = next((s for s in _STEPS[plan.rule.unit] if s * across >= _APART), _STEPS[plan.rule.unit][-1])
    for k in range(int(length / step + 1e-9) + 1):
        at = k * step
        x = inset + at * across
        word = "heel" if not k else f"{at / 304.8:.0f} ft" if plan.rule.unit == "in" else f"{at / 1000:g} m"
        yield line(x, y, x, y + 1.5)
        if k == 0 or (length - at) * across > 8 or k < int(length / step):
            yield TextMark(x, y + 1.5 + SMALL * POINT, word, SMALL, align="left" if not k else "centre")
    yield line(inset, y, inset + length * across, y)
    last = int(length / step + 1e-9) * step
    if (length - last) * across > 9:
        yield TextMark(inset + length * across, y + 1.5 + SMALL * POINT, "head", SMALL, align="right")
