"""The working is true: every formula that is shown, worked out as it stands, gives the answer that is shown.

The formulas are the companion's own strings; nothing of a user's comes here. An answer whose formula is a search or a
choice in words is named in `IN_WORDS`, with a check of its own by other means.
"""

import math
import re
from collections.abc import Callable
from itertools import pairwise
from random import Random
from typing import Any

import numpy as np
import pytest
from hypothesis import Phase, find, given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq, minimize_scalar
from scipy.special import ellipe

from shopcompanion.calculator import Result
from shopcompanion.catalog import NAMES
from shopcompanion.fields import Choice, Speed
from shopcompanion.lengths import RULES
from shopcompanion.spar import belt
from shopcompanion.spar.polygon import oval_facets
from shopcompanion.spar.tables import PUBLISHED

from .asking import INCH_64, ask
from .questions import QUESTIONS
from .working_log import LOG

_PYTHON = str.maketrans({"·": "*", "−": "-", "π": "pi", "√": "sqrt", "²": "**2"})
_KNOWN = {name: getattr(math, name) for name in ("pi", "tan", "cos", "sin", "atan", "asin", "sqrt")}
_KNOWN |= {"rad": math.radians, "min": min, "max": max, "__builtins__": {}}


def worth(formula: str, result: Result) -> Any:
    """The formula worked out with the unrounded inputs and answers: millimetres, degrees, turns a minute."""
    names = {one.name: getattr(result.inputs, one.name) for one in result.calculator.input_fields}
    names |= {one.name: getattr(result.answers, one.name) for one in result.calculator.answer_fields}
    return eval(formula.translate(_PYTHON), _KNOWN, names)


# What words say, checked by other means. Each gets the result, and raises when the answer is wrong.


def least_sides(result: Result) -> None:
    found, given = result.answers, result.inputs
    depth = given.width if given.depth is None else given.depth
    wide, deep = (given.width, depth) if given.section == "oval" else (found.across, found.across)
    for n in (8, 16, 32, 64, 128):
        enough = max(one.ridge for one in oval_facets(wide, deep, n)) <= given.ridge_ok
        assert enough == (n >= found.sides_needed)


def once_round_the_oval(result: Result) -> None:
    """By the complete elliptic integral of the second kind."""
    given = result.inputs
    a, b = sorted((given.width / 2, (given.width if given.depth is None else given.depth) / 2))
    assert result.answers.girth == pytest.approx(4 * b * ellipe(1 - (a / b) ** 2), rel=1e-12)


def greatest_of_the_oval(name: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        rows = result.as_json()["tables"]["facets"]["rows"]
        what, sides = name.split("_")
        column = {"cut": 4, "ridge": 5}[what]
        greatest = max(row[column] for row in rows if row[0] == int(sides))
        assert getattr(result.answers, name) == pytest.approx(greatest, rel=1e-12)

    return check


def stations_of(result: Result) -> list[tuple[float, float]]:
    """The stations of a taper, put together again."""
    given = result.inputs
    if given.law not in PUBLISHED:
        parallel = [(given.parallel_to, given.butt)] if given.parallel_to else []
        return [(0.0, given.butt), *parallel, *(given.stations or ()), (given.length, given.head)]
    table, length = PUBLISHED[given.law], given.length
    at = (table.place or 0) * length if given.widest_at is None else given.widest_at
    parts = {at: 1.0, 0.0: 1.0 if at == 0 or not table.to_heel else table.to_heel[-1][1]}
    parts |= {at * (1 - way): part for way, part in table.to_heel if at}
    parts |= {at + (length - at) * way: part for way, part in table.to_head}
    return [(place, given.widest * part) for place, part in sorted(parts.items())]


def widest_of_the_stations(result: Result) -> None:
    assert result.answers.blank_side == pytest.approx(max(width for _, width in stations_of(result)), rel=1e-12)


def the_piece_that_holds_the_station(result: Result) -> None:
    given, found, ends = result.inputs, result.answers, stations_of(result)
    assert found.piece_from <= given.at <= found.piece_to
    for place, start in enumerate(ends[:-1]):
        if start == pytest.approx((found.piece_from, found.width_from)):
            assert ends[place + 1] == pytest.approx((found.piece_to, found.width_to))
            return
    pytest.fail("the piece begins at no station")


def the_slopes_of_the_curve(result: Result) -> None:
    ends, found = stations_of(result), result.answers
    rise = PchipInterpolator(*zip(*ends, strict=True)).derivative() if len(ends) > 2 else lambda at: chord(*ends)
    assert found.slope_from == pytest.approx(-rise(found.piece_from), rel=1e-9, abs=1e-12)
    assert found.slope_to == pytest.approx(-rise(found.piece_to), rel=1e-9, abs=1e-12)


def chord(one: tuple[float, float], other: tuple[float, float]) -> float:
    return (other[1] - one[1]) / (other[0] - one[0])


def where_it_begins_and_ends_to_slip(result: Result) -> None:
    """The widths on either side of the place say it: by the equal grip of Eytelwein, with a root finder."""
    given, found = result.inputs, result.answers
    _, (middle, widest), (length, _) = given.outline

    def width(at: float) -> float:
        (x0, w0), (x1, w1) = given.outline[:2] if at <= middle else given.outline[1:]
        t = (at - middle) / ((x0 if at <= middle else x1) - middle)
        end = w0 if at <= middle else w1
        return widest - (widest - end) * (t * t if given.law == "bowed" else t)

    def grip(at: float) -> float:
        apart = belt.centres(given.drum, width(at), given.belt_length)
        if apart is None:
            return -1.0  # too short: beyond where it slips
        lean = belt.lean(given.drum, width(at), apart)
        return float(given.grip_ratio * (math.pi + 2 * lean) - (math.pi - 2 * lean))

    assert grip(middle) <= 1e-9
    first = 0.0 if grip(0) <= 0 else brentq(grip, 0, middle, xtol=1e-9)
    last = length if grip(length) <= 0 else brentq(grip, middle, length, xtol=1e-9)
    # a bowed spar is level at its widest, so there a place is known only as well as a width of float noise allows
    assert found.slips_from == pytest.approx(first, abs=0.05)
    assert found.slips_to == pytest.approx(last, abs=0.05)
    for at in (found.slips_from, found.slips_to):
        assert at in (0, length) or width(at) == pytest.approx(found.largest_driven, abs=1e-6)


def the_bit_chosen(result: Result) -> None:
    given, found = result.inputs, result.answers
    if given.bit_radius is not None:
        assert found.bit_used == given.bit_radius
        return
    least = min(given.stock, given.stock if given.stock_other is None else given.stock_other)
    sizes = [size for size, _ in given.rack]
    assert found.bit_used in sizes
    fitting = [size for size in sizes if 2 * size <= least + 0.1]
    assert found.bit_used == (max(fitting) if fitting else min(sizes))


def the_pilot_chosen(result: Result) -> None:
    given, found = result.inputs, result.answers
    own = [pilot for size, pilot in given.rack or () if abs(size - found.bit_used) < 0.1 and pilot is not None]
    assert found.pilot_used in ([given.pilot] if given.pilot is not None else own or [12.7])


def the_nearest_on_the_rack(result: Result) -> None:
    need, sizes = result.answers.needed_radius, sorted(size for size, _ in result.inputs.rack)
    between = [size for size in sizes if (result.answers.rack_below or 0) < size < (result.answers.rack_above or 1e9)]
    assert between == []
    assert (result.answers.rack_below or 0) <= need < (result.answers.rack_above or 1e9)


def the_speed_of_its_size(result: Result) -> None:
    inches = result.answers.bit_diameter / 25.4
    steps = [(1, 24000), (2, 18000), (2.5, 16000), (3.5, 12000)]
    assert result.answers.speed_limit == next(rpm for up_to, rpm in steps if inches <= up_to + 1e-6)


def equal_parts(result: Result) -> None:
    depths, r = result.answers.pass_depths, result.answers.bit_used
    step = next(one for one in result.working() if one.name == "pass_depths")
    area = step.formula.translate(_PYTHON)
    taken = [eval(area, _KNOWN, {"h": h, "bit_used": r}) for h in depths]
    assert taken == pytest.approx([(1 - math.pi / 4) * r**2 * (k + 1) / len(depths) for k in range(len(depths))])
    assert depths[-1] == r


def the_rule_that_reaches_across(result: Result) -> None:
    span, division = result.answers.slant_span, result.inputs.division
    assert span >= result.answers.widest_face * (1 - 1e-9)
    assert span == 24 * division or span / 2 < result.answers.widest_face
    assert math.log2(span / 24 / division) == pytest.approx(round(math.log2(span / 24 / division)), abs=1e-9)


def the_faces_of_the_oval(result: Result) -> None:
    given = result.inputs
    sizes = [size for _, size in (*given.outline, *given.depths)]
    assert (result.answers.widest_face, result.answers.narrowest_face) == (max(sizes), min(sizes))


def sharpest_corner(k: int) -> Callable[[Result], None]:
    """The corners of the flats so far, each to the nearest point of the ellipse by a search."""

    def check(result: Result) -> None:
        given, found = result.inputs, result.answers
        long, radius = found.tip_length, given.diameter / 2
        flats = sorted([0.0, 90.0, *{1: (45.0,), 2: (30.0, 60.0), 3: (45.0, 22.5, 67.5)}[given.chamfers][:k]])
        stands = []
        for below, above in pairwise(flats):
            u, v = math.radians(below), math.radians(above)  # where sin·x/L + cos·y/R = 1 for both
            x, y = np.linalg.solve([[math.sin(u), math.cos(u)], [math.sin(v), math.cos(v)]], [1, 1])
            x, y = x * long, y * radius
            nearest = minimize_scalar(
                lambda t, x=x, y=y: math.hypot(x - long * math.sin(t), y - radius * math.cos(t)),
                bounds=(0, math.pi / 2), method="bounded", options={"xatol": 1e-10},
            )  # fmt: skip
            stands.append(nearest.fun)
        assert getattr(found, f"proud_{k}") == pytest.approx(max(stands), rel=1e-6)

    return check


IN_WORDS: dict[str, dict[str, Callable[[Result], None]]] = {
    "facets": {
        "sides_needed": least_sides,
        "girth": once_round_the_oval,
        **{f"{what}_{n}": greatest_of_the_oval(f"{what}_{n}") for what in ("cut", "ridge") for n in (8, 16, 32)},
    },
    "taper": {
        "blank_side": widest_of_the_stations,
        **dict.fromkeys(("piece_from", "width_from", "piece_to", "width_to"), the_piece_that_holds_the_station),
        **dict.fromkeys(("slope_from", "slope_to"), the_slopes_of_the_curve),
    },
    "drum": dict.fromkeys(("slips_from", "slips_to"), where_it_begins_and_ends_to_slip),
    "roundover": {
        "bit_used": the_bit_chosen,
        "pilot_used": the_pilot_chosen,
        "rack_below": the_nearest_on_the_rack,
        "rack_above": the_nearest_on_the_rack,
        "speed_limit": the_speed_of_its_size,
        "pass_depths": equal_parts,
    },
    "gauge": {
        "slant_span": the_rule_that_reaches_across,
        **dict.fromkeys(("widest_face", "narrowest_face"), the_faces_of_the_oval),
    },
    "tip": {f"proud_{k}": sharpest_corner(k) for k in (1, 2, 3)},
    "log": LOG,
}
_WORDS = re.compile(r"[A-Za-z_][A-Za-z_0-9]*")


def in_words(name: str, formula: str, result: Result) -> bool:
    """Whether a formula is no sum: it names itself, or has a word that is no input, no answer and no function."""
    fields = (*result.calculator.input_fields, *result.calculator.answer_fields)
    names = {one.name for one in fields} | set(_KNOWN)
    words = _WORDS.findall(formula.replace(" m/s", ""))
    return formula == name or any(word not in names for word in words) or "rack" in words


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
@settings(max_examples=150)
def test_every_formula_gives_its_answer(calculator: str, data: st.DataObject) -> None:
    result = ask(calculator, **data.draw(QUESTIONS[calculator]))
    kinds = {one.name: one.kind for one in result.calculator.answer_fields}
    for step in result.working():
        answer = getattr(result.answers, step.name)
        if in_words(step.name, step.formula, result):
            IN_WORDS[calculator][step.name](result)
        elif (calculator, step.name) == ("roundover", "verdict"):
            over = worth(step.formula, result)
            assert (answer != "bit too big") == (over <= 0.1)
        elif isinstance(kinds[step.name], Choice):
            if "—" in step.put_in:  # the belt does not go round there
                assert answer in ("no", "in part")
            else:
                assert worth(step.formula, result) == (answer == "yes")
        elif " = " in step.formula:
            left, right = (worth(side, result) for side in step.formula.split(" = "))
            assert left == pytest.approx(right, rel=1e-9)
        else:
            value = worth(step.formula.replace(" m/s", "*60000"), result)
            if isinstance(kinds[step.name], Speed):
                value /= 60000  # mm a minute, as mm and turns a minute give it, to m/s
            assert answer == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
def test_every_answer_has_its_working_with_all_numbers_put_in(calculator: str, data: st.DataObject) -> None:
    rule = data.draw(st.sampled_from(RULES))
    result = ask(calculator, rule, **data.draw(QUESTIONS[calculator]))
    there = [one for one in result.calculator.answer_fields if getattr(result.answers, one.name) is not None]
    assert [step.name for step in result.working()] == [one.name for one in there]
    names = {one.name for one in (*result.calculator.input_fields, *result.calculator.answer_fields)}
    for step, one in zip(result.working(), there, strict=True):
        assert not names & set(_WORDS.findall(step.put_in)) - {"law", "measured"}, step  # words of answers as well
        assert step.result == one.kind.show(getattr(result.answers, one.name), rule)
        assert step.source


@pytest.mark.parametrize(("calculator", "name"), [(one, name) for one, names in IN_WORDS.items() for name in names])
def test_every_answer_in_words_comes_up_and_is_checked(calculator: str, name: str) -> None:
    def comes_up(question: dict[str, Any]) -> bool:
        result = ask(calculator, **question)
        return any(step.name == name and in_words(name, step.formula, result) for step in result.working())

    once = settings(max_examples=500, phases=[Phase.generate])
    question = find(QUESTIONS[calculator], comes_up, settings=once, random=Random(1))
    IN_WORDS[calculator][name](ask(calculator, **question))


def test_a_number_put_in_stands_in_the_rules_unit() -> None:
    result = ask("facets", INCH_64, width=88.9)
    steps = {step.name: step for step in result.working()}
    assert steps["facet_8"].put_in == "3.5000·tan(π/8)"
    assert steps["mark_8"].put_in == "(3.5000 − 1.4497) / 2"
