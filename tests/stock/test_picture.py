"""A timber drawn: to scale, with its letters, knots and offcuts."""

from shopcompanion.stock.picture import letters, picture
from shopcompanion.stock.pieces import Blank, Cut, Offcut, Plan, PlanProof, Problem, Sawn, StockTimber, Strip

LONG, SHORT = Blank("long", 40, 40, 500), Blank("short", 40, 40, 200)
PROBLEM = Problem((), (StockTimber("plank", 40, 100, 1000, knots=((600, 650),)),), 10, 20)
PLAN = Plan(
    (Sawn(0, 0, (Strip(0, 40, (Cut(0, LONG, 0), Cut(1, SHORT, 700))),)),),
    (Offcut(0, 510, 90, 0, 40), Offcut(0, 0, 600, 50, 50)), (), 0, 0.0, PlanProof(False, "first plan"),
)  # fmt: skip


def test_everything_is_where_it_is() -> None:
    """Ten millimetres a column."""
    first, second = picture(PROBLEM, PLAN, 0, 100, ascii_only=True)
    assert first == "#" * 23 + " a ".center(4, "#") + first[27:]
    assert first[:50].strip("#").strip() == "a"
    assert first[50] == "|"
    assert first[51:60] == "-" * 9
    assert first[60:65] == "xxxxx"
    assert first[69] == first[90] == "|"
    assert first[70:90].strip("#").strip() == "b"
    assert first[91:] == "." * 9
    assert second == "-" * 60 + "xxxxx" + "." * 35


def test_the_same_in_other_signs() -> None:
    drawn = picture(PROBLEM, PLAN, 0, 100)
    plain = picture(PROBLEM, PLAN, 0, 100, ascii_only=True)
    assert [line.translate(str.maketrans("█╳─░│", "#x-.|")) for line in drawn] == plain


def test_a_narrow_drawing_has_a_column_for_the_smallest_thing() -> None:
    for columns in range(1, 30):
        lines = picture(PROBLEM, PLAN, 0, columns, ascii_only=True)
        assert {len(line) for line in lines} == {columns}
        assert columns < 3 or "x" in "".join(lines)  # with fewer, the letter has them


def test_letters_go_on_after_z() -> None:
    cuts = tuple(Cut(need, SHORT, 0) for need in range(28))
    plan = PLAN._replace(sawn=(Sawn(0, 0, (Strip(0, 40, cuts),)),))
    assert letters(plan)[0][24:] == ["y", "z", "aa", "ab"]


def test_a_letter_without_room_is_left_out_rather_than_halved() -> None:
    cuts = tuple(Cut(place, Blank("chip", 40, 40, 20), 30.0 * place) for place in range(28))
    plan = PLAN._replace(sawn=(Sawn(0, 0, (Strip(0, 40, cuts),)),), offcuts=())
    drawn = picture(PROBLEM, plan, 0, 34, ascii_only=True)[0]
    assert "aa" not in drawn
    assert "y" in drawn
    assert drawn.count("a") == 1
