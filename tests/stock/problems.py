"""Cutting problems for the tests: a boat's worth of spars, and small ones at random."""

from hypothesis import strategies as st

from shopcompanion.lengths import Phrase
from shopcompanion.stock.pieces import Blank, Need, Problem, StockTimber

SPECIES = (None, "spruce", "Spruce ", "ash")


def medley() -> Problem:
    """Twelve timbers, thirty blanks, three knots, hardly two of anything alike: as hard as it gets."""
    sizes = [
        ("main mast", 95, 95, 5400), ("mizzen mast", 75, 75, 3900), ("main boom", 65, 65, 3350),
        ("main gaff", 55, 55, 2900), ("mizzen boom", 45, 45, 1900), ("bowsprit", 80, 80, 2100),
        ("bumpkin", 50, 50, 1350), ("jib club", 40, 40, 1650), ("topsail yard", 45, 45, 2450),
        ("boathook", 38, 38, 2600), ("long oar 1", 60, 60, 3050), ("long oar 2", 60, 60, 3050),
        ("short oar 1", 55, 55, 2440), ("short oar 2", 55, 55, 2440), ("blade 1", 20, 70, 820),
        ("blade 2", 20, 70, 820), ("blade 3", 20, 70, 820), ("blade 4", 20, 70, 820),
        ("tiller", 40, 55, 1220), ("jaw cheek 1", 32, 140, 520), ("jaw cheek 2", 32, 140, 520),
        ("crutch", 28, 180, 900), ("spreader", 30, 45, 760), ("flag staff", 30, 30, 1310),
        ("whisker pole", 42, 42, 2230), ("sprit", 40, 40, 3200), ("gallows", 42, 120, 1480),
        ("pin rail", 30, 85, 690), ("cleat stock", 32, 48, 610), ("jackstaff", 25, 25, 940),
    ]  # fmt: skip
    needs = tuple(Need(name, ((Blank(name, *size),),)) for name, *size in sizes)
    timbers = (
        StockTimber("beam", 100, 200, 5600, "spruce", ((1200, 1260), (4950, 5010))),
        StockTimber("old plank", 50, 150, 3600, "spruce", ((2700, 2750),)),
        StockTimber("post", 100, 100, 2500, "spruce"),
        StockTimber("mast stock", 100, 100, 6000, "spruce", price=14800),
        StockTimber("deal 4 × 8", 89, 184, 4880, "spruce", price=13900),
        StockTimber("deal 3 × 8", 75, 200, 4800, "spruce", price=11200),
        StockTimber("deal 3 × 6", 75, 150, 4200, "spruce", price=7900),
        StockTimber("plank 2 × 8", 50, 200, 4800, "spruce", price=7400),
        StockTimber("plank 2 × 6", 50, 150, 4200, "spruce", price=4900),
        StockTimber("long plank", 65, 140, 3900, "spruce", price=6900),
        StockTimber("board 1-1/2", 40, 225, 3000, "spruce", price=3900),
        StockTimber("board 1-1/4", 32, 200, 2400, "spruce", price=2600),
    )
    return Problem(needs, timbers, 3.2)


def boat() -> Problem:
    """Twelve timbers, thirty blanks, three knots: an invented yawl's spars and their fittings, in pairs as they come,
    and a yard that has more than one of most sizes."""
    sizes = [
        (1, "main mast", 95, 95, 5400), (1, "mizzen mast", 75, 75, 3900), (1, "main boom", 65, 65, 3350),
        (1, "main gaff", 55, 55, 2900), (1, "mizzen boom", 45, 45, 1900), (1, "bowsprit", 80, 80, 2100),
        (1, "bumpkin", 50, 50, 1350), (1, "topsail yard", 45, 45, 2450), (1, "boathook", 38, 38, 2600),
        (2, "long oar", 60, 60, 3050), (2, "short oar", 55, 55, 2440), (4, "blade", 20, 70, 820),
        (1, "tiller", 40, 55, 1220), (2, "jaw cheek", 32, 140, 520), (2, "crutch", 28, 180, 900),
        (2, "spreader", 30, 45, 760), (1, "flag staff", 30, 30, 1310), (2, "whisker pole", 42, 42, 2230),
        (1, "gallows", 42, 120, 1480), (2, "pin rail", 30, 85, 690),
    ]  # fmt: skip
    needs = tuple(Need(name, ((Blank(name, *size),),)) for times, name, *size in sizes for _ in range(times))
    timbers = (
        StockTimber("beam", 100, 200, 5600, "spruce", ((1200, 1260), (4950, 5010))),
        StockTimber("old plank", 50, 150, 3600, "spruce", ((2700, 2750),)),
        StockTimber("mast stock", 100, 100, 6000, "spruce", price=14800),
        StockTimber("deal 3 × 8", 75, 200, 4800, "spruce", alike=2, price=11200),
        StockTimber("plank 2-1/2 × 6", 65, 150, 4200, "spruce", alike=2, price=7900),
        StockTimber("plank 2 × 8", 50, 200, 4800, "spruce", alike=2, price=7400),
        StockTimber("plank 2 × 6", 50, 150, 4200, "spruce", alike=2, price=4900),
        StockTimber("board 1-1/4", 32, 200, 2400, "spruce", price=2600),
    )
    return Problem(needs, timbers, 3.2)


def small_boat() -> Problem:
    """A part of the medley: twelve blanks and six timbers."""
    whole = medley()
    return whole._replace(needs=whole.needs[4:28:2], timbers=whole.timbers[1:3] + whole.timbers[6:10])


@st.composite
def problems(draw: st.DrawFn, most_needs: int = 4, most_timbers: int = 3) -> Problem:
    """Small, and tight enough that places are fought over."""
    size = st.sampled_from([1.0, 2.0, 2.5, 3.0, 4.0, 5.05])
    long = st.sampled_from([3.0, 4.0, 5.0, 6.5, 8.0, 10.02])
    why = st.builds(Phrase, st.sampled_from(["", "{} finished"]), st.tuples(long))
    blank = st.builds(Blank, st.just("blank"), size, size, long, st.sampled_from(SPECIES), why)
    way = st.lists(blank, min_size=1, max_size=2).map(tuple)
    need = st.builds(Need, st.just("need"), st.lists(way, min_size=1, max_size=2).map(tuple))
    kerf = draw(st.sampled_from([0.3, 0.5, 1.0]))

    knots = st.sampled_from([(), ((0.0, 1.5),), ((4.0, 5.5),), ((3.0, 4.55),)])
    timbers = st.builds(
        StockTimber, st.just("timber"), st.sampled_from([0.5, 2.0, 3.0, 5.0]), st.sampled_from([3.0, 5.0, 7.0, 9.03]),
        st.sampled_from([6.0, 10.0, 15.0]), st.sampled_from(["spruce", "ash"]), knots, st.integers(1, 2),
        st.sampled_from([None, 0, 100, 250]), st.sampled_from([None, (3.0, 10.0, 15.0)]),
    )  # fmt: skip
    return Problem(
        tuple(draw(st.lists(need, max_size=most_needs))),
        tuple(draw(st.lists(timbers, max_size=most_timbers))),
        kerf,
        draw(st.sampled_from([1.0, 2.0, 3.0])),
    )
