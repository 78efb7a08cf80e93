"""Random spars, and what might be measured on them."""

from hypothesis import strategies as st

from shopcompanion.spar.outline import LAWS, Outline
from shopcompanion.spar.tables import PUBLISHED

WIDTH = st.floats(20, 150)


@st.composite
def outlines(draw: st.DrawFn, laws: tuple[str, ...] = LAWS, most: int = 4) -> Outline:
    """A spar of any law, with up to `most` stations between its ends."""
    law = draw(st.sampled_from(laws))
    length = float(draw(st.integers(500, 8000)))
    if law in PUBLISHED:
        return Outline.published(law, length, length * draw(st.floats(0.05, 0.9)), draw(WIDTH))
    ats = sorted(draw(st.sets(st.integers(1, 99), max_size=most)))
    ends = draw(WIDTH), draw(WIDTH)
    full = max(*ends, draw(WIDTH))
    inner = [(length * at / 100, full if law == "bowed" else draw(WIDTH)) for at in ats]
    return Outline(((0.0, ends[0]), *inner, (length, ends[1])), law)


@st.composite
def limits(draw: st.DrawFn, design: Outline, most: int = 6) -> list[tuple[float, float]]:
    """Widths measured along the spar, some of them under size."""
    ats = [design.length * part / 200 for part in draw(st.sets(st.integers(0, 200), min_size=1, max_size=most))]
    return [(at, design.width_at(at) * draw(st.floats(0.7, 1.1))) for at in ats]
