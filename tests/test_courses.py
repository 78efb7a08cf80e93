"""Courses of strips: which make one, and butts as far apart as they can be, against every way there is."""

from itertools import permutations, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shopcompanion.timber.courses import MOST_IN_ONE, CourseStrip, groups, layout

from .examples import share

LONG = 1000.0
SHORT = st.builds(CourseStrip, st.integers(30, 60).map(float), st.integers(260, 900).map(float), st.just(""))


@given(st.lists(SHORT, min_size=2, max_size=7))
def test_a_group_is_long_enough_and_has_no_strip_too_many(strips: list[CourseStrip]) -> None:
    masks = set(groups(strips, LONG))
    for mask in range(1, 1 << len(strips)):
        sizes = [strip.length for n, strip in enumerate(strips) if mask >> n & 1]
        wanted = sum(sizes) >= LONG and all(sum(sizes) - size < LONG for size in sizes)
        assert (mask in masks) == (wanted and 2 <= len(sizes) <= MOST_IN_ONE)


def _butts(sizes: tuple[float, ...], off: float) -> list[float]:
    return [sum(sizes[: k + 1]) - off for k in range(len(sizes) - 1)]


@given(st.lists(st.tuples(st.integers(510, 900), st.integers(510, 900)), min_size=2, max_size=3))
@settings(max_examples=share(60))
def test_butts_of_neighbours_lie_as_far_apart_as_turning_and_sawing_brings_them(pairs: list[tuple[int, int]]) -> None:
    """Courses of two strips each, of widths of their own so that they stand in that order; every way is tried here."""
    strips = [CourseStrip(60.0 - n, float(size)) for n, pair in enumerate(pairs) for size in pair]
    wide = sum(60.0 - n for n in range(len(pairs)))
    laid = layout(strips, LONG, wide, 0.0, 1e9)
    assume(all(len(course.strips) == 2 and course.strips[0] // 2 == course.strips[1] // 2 for course in laid.courses))
    best = -1.0
    ways = [
        [_butts(turned, off) for turned in permutations(pair) for off in (0.0, sum(pair) - LONG) if turned[0] > off]
        for pair in pairs
    ]
    for some in product(*ways):
        if all(0 < at < LONG for course in some for at in course):
            best = max(best, min(abs(a - b) for k in range(len(some) - 1) for a in some[k] for b in some[k + 1]))
    assert laid.stagger == pytest.approx(best)


@given(st.lists(SHORT, max_size=6), st.floats(50, 200))
def test_what_is_asked_for_staggered_is_staggered_or_the_least_wood(strips: list[CourseStrip], apart: float) -> None:
    whole = [CourseStrip(40.0, 1100.0)] * 3
    eager, calm = (layout([*strips, *whole], LONG, 110.0, 1.5, stagger) for stagger in (apart, 0.0))

    def wood(courses: object) -> float:
        return sum([*strips, *whole][n].width * [*strips, *whole][n].length for n in courses.used)  # type: ignore[attr-defined]

    assert wood(calm) <= wood(eager)
    if eager.stagger is not None and eager.stagger < apart:
        assert wood(eager) == wood(calm)
