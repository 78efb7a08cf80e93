"""Half laps against shapely, a general library of plane geometry (shapely.org, 2.1 and later).

Stock and crossing are cut as a builder cuts them, from the numbers that are given, and put together.
"""

import pytest
import shapely
from shapely.affinity import translate

from ..asking import ask, typed


@pytest.mark.parametrize(("thick", "over"), [(57.15, 57.15), (57.15, 44.45), (44.45, 57.15), (20.0, 80.0)])
@pytest.mark.parametrize("across", [38.1, 76.2])
def test_the_two_laps_fill_each_other_exactly(thick: float, over: float, across: float) -> None:
    """Looking along the crossing where it lies in the stock, and along the stock: nothing overlaps, no gap is left."""
    wide = 50.0
    answer = ask(
        "lap", stock_thickness=thick, stock_width=wide, crossing_width=across, crossing_thickness=over, length=500.0,
        positions=(250.0,),
    ).answers  # fmt: skip
    ((near, far),) = answer.shoulder_lines
    # the stock from the side: its face is at 0, depth goes down
    stock = shapely.box(0, -thick, 500, 0).difference(shapely.box(near, -answer.lap_depth, far, 1))
    crossing = shapely.box(250 - across / 2, -(over - answer.crossing_depth), 250 + across / 2, 0)
    assert stock.intersection(crossing).area == pytest.approx(0, abs=1e-9)
    assert stock.union(crossing).equals(shapely.box(0, -thick, 500, 0))
    assert stock.intersection(crossing).length == pytest.approx(across + 2 * answer.lap_depth)  # floor and shoulders
    # the crossing from its side, over the stock's width: what is left of the stock fills the crossing's lap
    rail = shapely.box(-200, -over, 200, 0).difference(
        shapely.box(-wide / 2, -over - 1, wide / 2, -over + answer.crossing_depth)
    )
    left = shapely.box(-wide / 2, -thick, wide / 2, -answer.lap_depth)
    assert rail.intersection(left).area == pytest.approx(0, abs=1e-9)
    assert rail.union(left).bounds[3] == 0
    both = rail.union(left)
    solid = shapely.box(-200, -min(thick, over), 200, 0)
    assert solid.difference(both).area == pytest.approx(0, abs=1e-9)
    proud = 0 if thick == over else answer.proud
    assert -both.bounds[1] - min(thick, over) == pytest.approx(proud)
    assert left.area == pytest.approx(wide * answer.wood_left)
    assert min(answer.wood_left, answer.crossing_left) >= min(thick, over) / 2 - 1e-9


def test_the_frame_stands_clear_of_the_spar_on_every_side() -> None:
    """Two posts and two crossings seen along the spar: the hole between them is the spar and its clearance."""
    result = typed(
        "lap", stock_thickness="2", stock_width="2-1/4", crossing_width="1-1/2", length="30", at="14", spar_width="3",
        spar_depth="2-1/2", clearance="1/8",
    )  # fmt: skip
    answers, tables = result.answers, result.as_json()["tables"]
    laps = [row[1:3] for row in tables["crossing"]["rows"]]
    posts = shapely.union_all([shapely.box(a, 0, b, 30 * 25.4) for a, b in laps])
    rail = shapely.box(0, -19.05, answers.crossing_length, 19.05)
    rails = shapely.union_all([translate(rail, 0, at) for at in (answers.lap_at, answers.next_at)])
    frame = posts.union(rails)
    hole = shapely.Polygon(frame.interiors[0])
    assert len(frame.interiors) == 1
    left, low, right, high = hole.bounds
    assert (right - left, high - low) == (pytest.approx(3.25 * 25.4), pytest.approx(2.75 * 25.4))
    spar = shapely.box(-38.1, -31.75, 38.1, 31.75)
    there = translate(spar, (left + right) / 2, (low + high) / 2)
    assert hole.contains(there)
    assert there.distance(frame) == pytest.approx(25.4 / 8)
    outer = posts.bounds
    assert outer[2] - outer[0] == pytest.approx(answers.outside_width)
    assert rails.bounds[3] - rails.bounds[1] == pytest.approx(answers.outside_height)
