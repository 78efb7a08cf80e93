"""Norman L. Skene, Elements of Yacht Design, 1927: tapers as parts of the largest diameter, and a worked mast.

Seen. Unstayed jib-headed mast by fifths of its height above the deck 0.942, 0.849, 0.726, 0.575, top 0.406; gaff mast
0.99 at two thirds, top 0.65; gaff, largest at the middle, jaws 0.93, tip 0.75; boom, largest two thirds aft, fore end
0.79, after end 0.71. Worked mast, as quoted by a later writer who says that some figures are extrapolated (not seen in
the book): 120 in, 1.86 in at the deck: 1.75, 1.58, 1.35, 1.07, top 0.755 in.
"""

import pytest

from shopcompanion.spar.outline import Outline

from ..asking import ask, typed

UNSTAYED = "skene 1927 unstayed mast"


@pytest.mark.parametrize(
    ("fifths", "printed", "last_digit"),
    [(1, 1.75, 0.01), (2, 1.58, 0.01), (3, 1.35, 0.01), (4, 1.07, 0.01), (5, 0.755, 0.001)],
)
def test_the_worked_mast_as_quoted_to_its_printed_digits(fifths: int, printed: float, last_digit: float) -> None:
    at = f"{24 * fifths} in"
    width = typed("taper", length="120 in", law=UNSTAYED, widest="1.86", widest_at="0", at=at).answers.width_at / 25.4
    assert width == pytest.approx(printed, abs=last_digit / 2)


@pytest.mark.parametrize(("fifths", "part"), list(enumerate((1, 0.942, 0.849, 0.726, 0.575, 0.406))))
def test_an_unstayed_mast_by_fifths_above_the_deck(fifths: int, part: float) -> None:
    mast = Outline.published(UNSTAYED, 7000.0, 1000.0, 110.0)
    assert mast.width_at(1000 + 1200 * fifths) == pytest.approx(110 * part, rel=1e-12)


@pytest.mark.parametrize(
    ("law", "part_of_length", "part"),
    [
        ("skene 1927 gaff mast", 2 / 3, 0.99),
        ("skene 1927 gaff mast", 1, 0.65),
        ("skene 1927 gaff", 0, 0.93),
        ("skene 1927 gaff", 1 / 2, 1),
        ("skene 1927 gaff", 1, 0.75),
        ("skene 1927 boom", 0, 0.79),
        ("skene 1927 boom", 2 / 3, 1),
        ("skene 1927 boom", 1, 0.71),
    ],
)
def test_masts_gaffs_and_booms(law: str, part_of_length: float, part: float) -> None:
    deck = {"widest_at": 0.0} if "mast" in law else {}
    result = ask("taper", length=6000.0, law=law, widest=90.0, at=6000 * part_of_length, **deck)
    assert result.answers.width_at == pytest.approx(90 * part, rel=1e-12)
