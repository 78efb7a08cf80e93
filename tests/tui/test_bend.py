"""The spar bent along the strip: to the scale that it says, over its ghost, with the hardest worked place marked."""

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.drawing.bend import Bend, bent_strip
from shopcompanion.drawing.strip import Mark, SparStrip, strip
from shopcompanion.lengths import RULES
from shopcompanion.spar.outline import Outline

from .conftest import LUGGER, NORMAL, SMALL, WIDE, Opener, own_copy

METRIC = RULES[5]
MAST = Outline(((0.0, 80.0), (5000.0, 60.0)))
# A cantilever's own curve, s²(3 − s)/2, of a quarter of a metre.
BLOW = Bend(tuple((50.0 * k, 250 * (k / 100) ** 2 * (3 - k / 100) / 2) for k in range(101)), 600.0)
DOTS = [(0, 0, 0x01), (0, 1, 0x02), (0, 2, 0x04), (1, 0, 0x08), (1, 1, 0x10), (1, 2, 0x20), (0, 3, 0x40), (1, 3, 0x80)]


def texts(drawn: SparStrip) -> list[str]:
    return ["".join(text for text, _ in line) for line in drawn.lines]


def roles(drawn: SparStrip, line: int) -> list[str]:
    return [role for text, role in drawn.lines[line] for _ in text]


def dots(drawn: SparStrip, column: int) -> list[int]:
    """The heights, in dots from the top, that the left half of a column of wood has set."""
    heights = []
    for row, text in enumerate(texts(drawn)[1:-1]):
        if roles(drawn, row + 1)[column] not in ("scale", "air"):
            heights += [4 * row + y for x, y, bit in DOTS if not x and (ord(text[column]) - 0x2800) & bit]
    return heights


@st.composite
def bends(draw: st.DrawFn) -> Bend:
    far = draw(st.floats(-500, 500))
    other = draw(st.floats(-200, 200))
    line = tuple((50.0 * k, far * (k / 100) ** 2 + other * (k / 100) * (1 - k / 100)) for k in range(101))
    return Bend(line, draw(st.floats(0, 5000)))


@given(bends(), st.floats(0, 5000), st.integers(22, 160), st.booleans(), st.booleans())
def test_every_line_is_as_wide_as_there_is_room(bend: Bend, at: float, columns: int, low: bool, plain: bool) -> None:
    drawn = bent_strip(MAST, at, METRIC, columns, bend=bend, low=low, ascii_only=plain)
    assert [len(text) for text in texts(drawn)] == [columns] * (2 if low else 5)
    here = min(columns - 1, int(at / 5000 * columns))
    assert [k for k, letter in enumerate(texts(drawn)[-1]) if letter in "▲^"] == [here]
    if plain:
        assert "".join(texts(drawn)).isascii()
    worst = min(columns - 1, int(bend.worst_at / 5000 * columns))
    signs = [k for k, letter in enumerate(texts(drawn)[-1 if low else 0]) if letter in "×x"]
    assert any(abs(k - worst) <= 1 for k in signs)


@given(bends().filter(lambda bend: max(abs(far) for _, far in bend.line) > 1))
def test_the_bend_is_drawn_as_many_times_its_size_as_it_says(bend: Bend) -> None:
    """A dot is a quarter of a row high, and a row is two columns: so many millimetres of the length."""
    columns = 100
    drawn = bent_strip(MAST, 0.0, METRIC, columns, bend=bend)
    said = re.search(r"bend drawn ([\d .]+) times", texts(drawn)[-1])
    assert said
    times = float(said[1].replace(" ", ""))
    dot = 5000 / columns * 2 / 4
    middles = {k: sum(heights) / len(heights) for k in range(1, columns) if (heights := dots(drawn, k))}
    ends = max(middles.values()) - min(middles.values())
    ats = [bend.at((k + 0.25) / columns * 5000) for k in middles]
    meant = (max(ats) - min(ats)) * times / dot
    assert abs(ends - meant) <= 2 + 0.06 * meant  # two figures are said; a dot is the least step at either end


def test_it_hangs_down_over_its_ghost() -> None:
    drawn = bent_strip(MAST, 0.0, METRIC, 80, bend=BLOW)
    heights = [dots(drawn, k) for k in range(1, 80)]
    assert min(heights[0]) == 0
    assert max(heights[-1]) >= 10  # of 11: thin, and in the middle of the widest
    assert all(min(a) <= min(b) for a, b in pairwise(heights))
    ghost = [text for text, role in drawn.lines[1] if role == "scale"]
    assert ghost  # the straight one goes on where the bent one has left it
    assert set("".join(ghost)) - {" "}
    assert "× hardest" in texts(drawn)[0]


def test_no_bend_is_said() -> None:
    still = Bend(((0.0, 0.0), (5000.0, 0.0)), 0.0)
    drawn = bent_strip(MAST, 3000.0, METRIC, 80, bend=still)
    assert "it does not bend" in texts(drawn)[-1]
    assert drawn.exaggerated == 0


def test_in_ascii_the_straight_strip_is_plain_letters() -> None:
    marks = [Mark(1000.0, "◇", "scarf"), Mark(2000.0, "▾", "step")]
    for low in (True, False):
        drawn = strip(MAST, 2500.0, METRIC, 80, marks=marks, slots=[(4000.0, 4200.0)], low=low, ascii_only=True)
        assert "".join(texts(drawn)).isascii()


@pytest.mark.parametrize("size", [WIDE, NORMAL, SMALL])
async def test_the_strip_bends_while_strength_is_open(desk: Opener, home, size) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast", at=None, size=size) as it:
        straight = it.part("#strip")
        await it.find("strength")
        await it.answered()
        bent = it.part("#strip")
        assert "times its size" in bent
        assert "×" in bent
        assert bent != straight
        await it.press("ctrl+g", *"0.6 m", "enter")  # the station goes along it
        assert it.part("#strip") != bent
        await it.find("facets")
        assert "times its size" not in it.part("#strip")


async def test_it_is_straight_for_another_length_than_the_spars(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast", at=None) as it:
        await it.find("strength")
        await it.answered()
        it.session.type("length", "3 m")
        it.session.type("sail_to", "2.5 m")
        it.app.bench.redraw()
        await it.answered()
        assert it.session.shown().faults == ()
        assert "times its size" not in it.part("#strip")
