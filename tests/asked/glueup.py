"""Sound questions for glueup, and what it says in words checked by every way of putting strips together."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.timber.courses import CourseStrip

from . import SOMETIMES

GIVEN = ("--strips", "2 x 2 = 6 ft; 1-3/4 = 40; 2 = 40", "--needed-width", "5", "--needed-length", "5 ft",
         "--thickness", "1")  # fmt: skip


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {
        "needed_width": draw(st.floats(30, 250)),
        "needed_length": draw(st.floats(300, 1500)),
        "thickness": draw(st.floats(5, 60)),
        "jointing": draw(st.floats(0, 4)),
        "trim": draw(st.floats(0, 30)),
        "stagger": draw(st.floats(0, 300)),
        "clamp_spacing": draw(st.floats(100, 500)),
        "spread": draw(st.floats(100, 400)),
    }
    if draw(SOMETIMES):
        asked["planing"] = draw(st.floats(0, 6))
    if draw(st.integers(0, 5)):
        part = st.sampled_from([0.3, 0.4, 0.45, 0.55, 0.6, 0.8, 1.1, 1.1, 1.2])
        strip = st.builds(
            CourseStrip,
            st.floats(12, 90),
            part.map(lambda size: size * asked["needed_length"]),
            st.sampled_from(["", "", "", "dark"]),
        )
        asked["strips"] = tuple(draw(st.lists(strip, min_size=1, max_size=6)))
    return asked


def every_way(strips: tuple[CourseStrip, ...], long: float) -> Iterator[list[list[int]]]:
    """All sets of courses, by putting each strip in turn aside, into a new course, or into one that is begun."""

    def go(n: int, courses: list[list[int]]) -> Iterator[list[list[int]]]:
        if n == len(strips):
            if all(sum(strips[k].length for k in course) >= long - 1e-6 for course in courses):
                yield [list(course) for course in courses]
            return
        yield from go(n + 1, courses)
        for course in courses:
            if strips[course[0]].tone == strips[n].tone and len(course) < 4:
                course.append(n)
                yield from go(n + 1, courses)
                course.pop()
        yield from go(n + 1, [*courses, [n]])

    yield from go(0, [])


def wood(strips: tuple[CourseStrip, ...], courses: list[list[int]]) -> float:
    return sum(strips[n].width * strips[n].length for course in courses for n in course)


def jointed(strips: tuple[CourseStrip, ...], courses: list[list[int]], off: float) -> float:
    return sum(min(strips[n].width for n in course) - 2 * off for course in courses)


def chosen(result: Result) -> list[list[int]]:
    plan = result.answers.plan
    return [[int(n) - 1 for n in row.split(" + ")] for row in plan.split("; ")] if plan else []


def no_set_takes_less_wood(result: Result) -> None:
    """Unless a dearer one was taken for its butts; and when none will do, none is wider."""
    given, answers = result.inputs, result.answers
    strips, long, wide = given.strips or (), answers.rough_length, answers.rough_width
    mine = chosen(result)
    assert all(sum(strips[n].length for n in row) >= long - 1e-6 for row in mine)
    assert all(len({strips[n].tone for n in row}) == 1 for row in mine)
    used = [n for row in mine for n in row]
    assert len(used) == len(set(used))
    every = list(every_way(strips, long))
    if answers.short_by is not None:
        assert answers.glued_width == pytest.approx(max(jointed(strips, way, given.jointing) for way in every))
        return
    will_do = [way for way in every if jointed(strips, way, given.jointing) >= wide - 1e-6]
    least = min(wood(strips, way) for way in will_do)
    assert wood(strips, mine) >= least - 1e-6
    if wood(strips, mine) > least + 1e-6:
        assert answers.stagger_got is None or answers.stagger_got >= given.stagger - 1e-6


def its_width(result: Result) -> None:
    strips = result.inputs.strips or ()
    assert result.answers.glued_width == pytest.approx(
        jointed(strips, chosen(result), result.inputs.jointing), abs=1e-9
    )


def its_courses(result: Result) -> None:
    assert result.answers.courses == len(chosen(result))


def its_strips(result: Result) -> None:
    assert result.answers.strips_used == sum(map(len, chosen(result)))


def butts_apart(result: Result) -> None:
    """From the table: where the pieces of a course meet, against those of the next."""
    rows = result.as_json()["tables"]["strips"]["rows"]
    ends: dict[int, list[float]] = {}
    for course, _, start, *_ in rows:
        ends.setdefault(course, []).extend([start] if start > 0 else [])
    apart = [abs(a - b) for end, other in pairwise(sorted(ends)) for a in ends[end] for b in ends[other]]
    assert result.answers.stagger_got == pytest.approx(min(apart), abs=1e-9)


def what_is_lost(result: Result) -> None:
    given = result.inputs
    plank = given.needed_width * given.needed_length
    assert result.answers.waste == pytest.approx(100 - 100 * plank / wood(given.strips, chosen(result)))


def gaps_between_clamps(result: Result) -> None:
    """One at each end, none farther from the next than the spacing, and no more than that takes."""
    long, gaps = result.answers.rough_length, result.answers.clamps - 1
    assert long / gaps <= result.inputs.clamp_spacing
    assert gaps == 1 or long / (gaps - 1) > result.inputs.clamp_spacing


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "plan": no_set_takes_less_wood,
    "glued_width": its_width,
    "courses": its_courses,
    "strips_used": its_strips,
    "stagger_got": butts_apart,
    "waste": what_is_lost,
    "clamps": gaps_between_clamps,
}
