"""Offcuts glued edge to edge into a plank: which of them, in which courses, and how their butts are staggered.

A course is as long as the plank: one strip, or short ones of one tone end to end, ripped to the narrowest of them.
Every strip goes into one course whole. Millimetres.
"""

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise, permutations
from typing import Any

from .. import lengths
from ..errors import InputFault, printable
from ..fields import Kind, Length, Value
from ..lengths import Rule, Unit
from ..record import NamedTuple

MOST = 20  # strips
MOST_SHORT = 12  # that do not run through
MOST_IN_ONE = 4  # in one course
_TRIED = 60  # sets of strips, from the least wood on, until one can be staggered
NOISE = 1e-6  # mm
_COUNT = re.compile(r"\s*([1-9][0-9]?)\s*[x×]\s+", re.IGNORECASE)


class CourseStrip(NamedTuple):
    width: float
    length: float
    tone: str = ""


class Strips(Kind):
    """Strips at hand as `3 x 2-1/2 = 6 ft; 3 = 40 = dark`: how many, width, length, tone; a tuple of Strip."""

    unit = "mm"
    python = (tuple,)
    example = "2 x 2-1/2 in = 6 ft; 3 in = 40 in = dark"
    metric_example = "2 x 60 mm = 1.8 m; 75 mm = 1 m = dark"

    def _parts(self, text: str, unit: Unit) -> Iterator[tuple[str, list[str]]]:
        """Of every part how many there are, as `3 x ` or nothing, and its width, length and perhaps tone."""
        for part in text.split(";"):
            if not part.strip():
                continue
            count = _COUNT.match(part)
            sizes = (part[count.end() :] if count else part).split("=")
            if not 2 <= len(sizes) <= 3:
                raise InputFault(f"{printable(part.strip())} is not width = length, try {self.example_in(unit)}")
            yield f"{count[1]} x " if count else "", [size.strip() for size in sizes]

    def _parse(self, text: str, rule: Rule) -> Value:
        strips: list[CourseStrip] = []
        for count, (wide, long, *tone) in self._parts(text, rule.unit):
            width, length = (float(lengths.read(size, rule.unit)) for size in (wide, long))
            strips += [CourseStrip(width, length, "".join(tone).casefold())] * int(count.partition(" ")[0] or 1)
            if len(strips) > MOST:
                raise InputFault(f"more than {MOST} strips: leave out the least useful")
        return tuple(strips)

    def spelled(self, text: str, unit: Unit) -> str:
        """`text` with `unit` put to every length that leaned on it. InputFault when one does not read.

        >>> Strips("Strips").spelled("2 x 2-1/2 = 6 ft; 70 mm = 40 = dark", "in")
        '2 x 2-1/2 in = 6 ft; 70 mm = 40 in = dark'
        """
        return "; ".join(
            count + " = ".join([*(lengths.spelled(size, unit) for size in sizes[:2]), *sizes[2:]])
            for count, sizes in self._parts(text, unit)
        )

    def _say(self, value: Any, rule: Rule) -> str:
        def sizes(strip: CourseStrip) -> str:
            tone = f" = {strip.tone}" if strip.tone else ""
            return f"{lengths.show(strip.width, rule)} = {lengths.show(strip.length, rule)}{tone}"

        counted = [(strip, value.count(strip)) for strip in dict.fromkeys(value)]
        return "; ".join((f"{n} x " if n > 1 else "") + sizes(strip) for strip, n in counted)

    def to_json(self, value: Value) -> Any:
        return [list(strip) for strip in value] if isinstance(value, tuple) else None

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or not all(isinstance(strip, tuple) and len(strip) == 3 for strip in value):
            raise InputFault("not a list of strips")
        if not value:
            raise InputFault(f"empty, try {self.example_in(rule.unit)}")
        if len(value) > MOST:
            raise InputFault(f"more than {MOST} strips: leave out the least useful")
        for strip in value:
            Length("width", above=0, at_most=2000).check(strip[0], rule)
            Length("length", above=0, at_most=lengths.LONGEST).check(strip[1], rule)
            if not str(strip[2]).isprintable() or len(strip[2]) > 30:
                raise InputFault(f"'{printable(str(strip[2]))}' is not a tone, try a word as dark")


class Course(NamedTuple):
    """Strips end to end, by their places in the list. `width` is what all of them have before jointing, `sawn` what is
    cut off at the heel end: the rest that is too much goes at the other."""

    strips: tuple[int, ...]
    width: float
    sawn: float = 0.0

    def butts(self, strips: Sequence[CourseStrip]) -> tuple[float, ...]:
        """Where its strips meet, from one end of the plank."""
        butts, at = [], -self.sawn
        for n in self.strips[:-1]:
            at += strips[n].length
            butts.append(at)
        return tuple(butts)


class Layout(NamedTuple):
    """The courses in order across the plank, and the least between butts of neighbours, None where none are."""

    courses: tuple[Course, ...]
    stagger: float | None

    @property
    def used(self) -> tuple[int, ...]:
        return tuple(n for course in self.courses for n in course.strips)


def groups(strips: Sequence[CourseStrip], long: float) -> list[int]:
    """Every set of short strips that makes a course of that length and would not without any of them, as bits."""
    short = [n for n, strip in enumerate(strips) if strip.length < long - NOISE]
    masks = []
    for count in range(2, MOST_IN_ONE + 1):
        for some in combinations(short, count):
            sizes = [strips[n].length for n in some]
            total = sum(sizes)
            if total >= long - NOISE and total - min(sizes) < long - NOISE and len({strips[n].tone for n in some}) == 1:
                masks.append(sum(1 << n for n in some))
    return masks


def layout(strips: Sequence[CourseStrip], long: float, wide: float, jointing: float, stagger: float) -> Layout:
    """The courses that make `wide` after jointing both edges, out of the least wood; the widest there are if none do.

    Exact: no other set of strips, put together in any way, has less area. Of one set, the short ones are put together
    as wide as can be. Among sets, the first that can be staggered as asked is taken, within the sixty of least wood;
    else the first of all.
    """
    first: Layout | None = None
    for courses in _by_wood(strips, long, wide, jointing):
        laid = _staggered(strips, courses, long)
        if laid.stagger is None or laid.stagger >= stagger - NOISE:
            return laid
        first = first or laid
    return first or Layout((), None)


def _by_wood(strips: Sequence[CourseStrip], long: float, wide: float, jointing: float) -> Iterator[list[Course]]:
    """Sets of courses that are wide enough, the least wood first; one, the widest, when none are."""
    shorts = _short_courses(strips, long, jointing)
    singles, sums = _singles(strips, long, wide, jointing)
    widths = [width for width, _, _ in sums]
    sets = []
    for mask, (width, chosen) in shorts.items():
        wood = sum(_area(strips[n]) for n in _bits(mask))
        place = bisect_left(widths, wide - width - NOISE)
        if place < len(sums):
            sets.append((wood + sums[place][1], width + widths[place], mask, chosen, sums[place][2]))
    if not sets:
        mask, (_, chosen) = max(shorts.items(), key=lambda short: short[1][0])
        sets = [(0.0, 0.0, mask, chosen, (1 << len(singles)) - 1)]
    for _, _, _, chosen, of_singles in sorted(sets, key=lambda entry: (entry[0], len(entry[3]), entry[1]))[:_TRIED]:
        alone = [(singles[k],) for k in _bits(of_singles)]
        some = [*alone, *(tuple(_bits(group)) for group in chosen)]
        yield [Course(course, min(strips[n].width for n in course)) for course in some]


def _area(strip: CourseStrip) -> float:
    return strip.width * strip.length


def _bits(mask: int) -> list[int]:
    return [n for n in range(mask.bit_length()) if mask >> n & 1]


def _short_courses(
    strips: Sequence[CourseStrip], long: float, jointing: float
) -> dict[int, tuple[float, tuple[int, ...]]]:
    """By the set of short strips used, as bits: the greatest width of their courses, and those courses."""
    worth = {
        mask: width
        for mask in groups(strips, long)
        if (width := min(strips[n].width for n in _bits(mask)) - 2 * jointing) > 0
    }
    by_lowest: dict[int, list[int]] = {}
    for mask in worth:
        by_lowest.setdefault(mask & -mask, []).append(mask)
    widest: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for lowest in sorted(by_lowest, reverse=True):  # a course is put to those whose strips all come after its first
        for mask, (width, chosen) in list(widest.items()):
            for group in by_lowest[lowest]:
                if not group & mask and (new := width + worth[group]) > widest.get(mask | group, (0.0,))[0]:
                    widest[mask | group] = (new, (*chosen, group))
    return widest


def _singles(
    strips: Sequence[CourseStrip], long: float, wide: float, jointing: float
) -> tuple[list[int], list[tuple[float, float, int]]]:
    """The strips that run through; and for every width of some of them (jointed, their area, which) that no wider set
    has with as little area, by width."""
    singles = [n for n, strip in enumerate(strips) if strip.length >= long - NOISE and strip.width > 2 * jointing]
    best: dict[float, tuple[float, int]] = {0.0: (0.0, 0)}
    for place, n in enumerate(singles):
        for width, (area, some) in list(best.items()):
            if width >= wide - NOISE:  # no strip more is needed
                continue
            key = round(width + strips[n].width - 2 * jointing, 6)
            new = area + _area(strips[n])
            if key not in best or new < best[key][0]:
                best[key] = (new, some | 1 << place)
    sums: list[tuple[float, float, int]] = []
    for width in sorted(best, reverse=True):
        area, some = best[width]
        if not sums or area < sums[-1][1]:
            sums.append((width, area, some))
    return singles, sums[::-1]


def _staggered(strips: Sequence[CourseStrip], courses: list[Course], long: float) -> Layout:
    """The courses in order: tones together as they were first named, widest first with whole strips between butted
    ones, and the butts of neighbours as far apart as turning and sawing them either end can bring them."""
    tones = list(dict.fromkeys(strip.tone for strip in strips))
    order: list[Course] = []
    for tone in tones:
        own = sorted(
            (course for course in courses if strips[course.strips[0]].tone == tone),
            key=lambda course: (-course.width, course.strips),
        )
        whole = [course for course in own if len(course.strips) == 1]
        order += _between([course for course in own if len(course.strips) > 1], whole)
    ways = [_ways(strips, course, long) for course in order]
    best: list[list[tuple[float, int]]] = []  # of every course and way: the least gap up to it, and the way before
    far = float("inf")
    for place, own in enumerate(ways):
        row = []
        for way in own:
            here = way.butts(strips)
            before = ways[place - 1] if place else []
            gaps = [
                (min(best[-1][k][0], *(abs(a - b) for a in here for b in other.butts(strips)), far), k)
                for k, other in enumerate(before)
            ]
            row.append(max(gaps, key=lambda gap: gap[0]) if gaps else (far, 0))
        best.append(row)
    if not best:
        return Layout((), None)
    k = max(range(len(best[-1])), key=lambda way: best[-1][way][0])
    least = best[-1][k][0]
    laid = []
    for place in reversed(range(len(order))):
        laid.append(ways[place][k])
        k = best[place][k][1]
    return Layout(tuple(reversed(laid)), None if least == far else least)


def _between(butted: list[Course], whole: list[Course]) -> list[Course]:
    """Whole strips between the butted ones as far as they go, and the rest of them in front, the widest first."""
    inner = whole[len(whole) - max(0, len(butted) - 1) :] if butted else []
    outer = whole[: len(whole) - len(inner)]
    order = list(outer)
    for place, course in enumerate(butted):
        order.append(course)
        order += inner[place : place + 1]
    return order


def _ways(strips: Sequence[CourseStrip], course: Course, long: float) -> list[Course]:
    """Every order of its strips, what is too long sawn off at one end or the other; a butt stays on the plank."""
    if len(course.strips) == 1:
        return [course]
    over = max(0.0, sum(strips[n].length for n in course.strips) - long)
    ways = [
        course._replace(strips=some, sawn=sawn)
        for some in permutations(course.strips)
        for sawn in dict.fromkeys((0.0, over))
        if strips[some[0]].length > sawn
    ]
    return [way for way in ways if all(a < b for a, b in pairwise((0.0, *way.butts(strips), long)))] or [course]
