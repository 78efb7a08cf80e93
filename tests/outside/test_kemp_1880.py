"""D. Kemp, A Manual of Yacht and Boat Sailing, 1880: ends as parts of the largest diameter.

Seen. Bowsprit, outer end 0.72; boom of a cutter, fore end 0.7, after end 0.75. Where they are largest, and the sizes
here, are ours.
"""

import pytest

from ..asking import ask


@pytest.mark.parametrize(
    ("law", "at", "part"),
    [
        ("kemp 1880 bowsprit", 800.0, 1),
        ("kemp 1880 bowsprit", 2400.0, 0.72),
        ("kemp 1880 cutter boom", 0.0, 0.7),
        ("kemp 1880 cutter boom", 800.0, 1),
        ("kemp 1880 cutter boom", 2400.0, 0.75),
    ],
)
def test_the_ends(law: str, at: float, part: float) -> None:
    result = ask("taper", length=2400.0, law=law, widest=100.0, widest_at=800.0, at=at)
    assert result.answers.width_at == pytest.approx(100 * part, rel=1e-12)
