"""Compare: the variants stand in one table, and one that cannot be made says why in its row."""

from ..asked.lightest import _OVAL, _PLAIN
from ..asking import ask


def test_the_variants_stand_in_one_table() -> None:
    result = ask("compare", **_PLAIN, measured=((1000.0, (91.0, 90.0), None),))
    (table,) = result.tables
    names = [row[0] for row in table.rows]
    assert names[:2] == ["as drawn", "as measured"]
    assert names[2].startswith("in ")
    assert names[3:] == ["hollow, as stiff", "lightest that does"]
    assert result.cautions[0].startswith("Guidance")


def test_one_that_cannot_be_made_says_why() -> None:
    asked = {name: value for name, value in _OVAL.items() if name != "factor_ok"}
    rows = {row[0]: row for row in ask("compare", **asked).tables[0].rows}
    told = next(row for name, row in rows.items() if name.startswith("hollow"))
    assert told[0] == "hollow, as stiff: only a round spar is told hollow here"
    assert told[1:] == (None,) * 5
