"""Lines to pages, and words to lines."""

from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.calculator import Column, Table
from shopcompanion.card.lines import Paper
from shopcompanion.card.pages import HIGH, WIDE, PageBlock, folded, gridded, pages, shortened
from shopcompanion.card.step import Step
from shopcompanion.card.text import card
from shopcompanion.fields import Length, Text
from shopcompanion.lengths import RULES

from .boats import one_spar

INCH_32 = RULES[2]
PAPER = Paper(INCH_32)
TAPERED = 'length = "3 m"\nstations = [{ at = "0", width = "60 mm" }, { at = "3 m", width = "40 mm" }]\n'


def rows_of(page: str) -> list[str]:
    return page.split("\n")[3:]


def test_a_page_says_what_it_is_a_page_of() -> None:
    first, second = pages("Punt · boom", [PageBlock((("x",) * 50,)), PageBlock((("y",) * 50,))], "=" * WIDE)
    assert first.split("\n")[:3] == ["Punt · boom".ljust(WIDE - 11) + "page 1 of 2", "=" * WIDE, ""]
    assert second.split("\n")[0].endswith("page 2 of 2")


def test_a_name_that_is_too_long_is_cut_with_a_sign() -> None:
    (page,) = pages("x" * 100, [PageBlock((("a",),))], "-" * WIDE)
    head = page.split("\n")[0]
    assert len(head) == WIDE
    assert "x..." in head
    assert shortened("mast", 4) == "mast"


def test_a_block_that_fits_on_a_page_is_not_torn() -> None:
    blocks = [PageBlock((tuple(f"{name}{k}" for k in range(30)),)) for name in "abc"]
    made = pages("", blocks, "")
    assert [page.count("\n") <= HIGH for page in made] == [True] * 3
    assert [rows_of(page)[0] for page in made] == ["a0", "b0", "c0"]


def test_a_block_longer_than_a_page_goes_on_under_its_heads() -> None:
    rows = tuple((f"row {k}",) for k in range(100))
    first, second = pages("", [PageBlock((("title", "heads"), *rows), "title", ("heads",), 1, 101)], "")
    assert rows_of(first)[:3] == ["title", "heads", "row 0"]
    assert rows_of(second)[:2] == ["title, continued", "heads"]
    kept = [line for page in (first, second) for line in rows_of(page) if line.startswith("row")]
    assert kept == [f"row {k}" for k in range(100)]


def test_a_part_longer_than_a_page_is_torn_as_there_is_no_help() -> None:
    made = pages("", [PageBlock((tuple(map(str, range(100))),), "title")], "")
    assert all(page.count("\n") <= HIGH for page in made)
    assert [line for page in made for line in rows_of(page) if line.isdigit()] == list(map(str, range(100)))


@given(st.lists(st.lists(st.integers(1, 9), min_size=1, max_size=40), max_size=12))
def test_no_line_is_lost_and_no_part_is_torn(shape: list[list[int]]) -> None:
    blocks = [
        PageBlock(tuple(tuple(f"{b}.{p}.{k}" for k in range(high)) for p, high in enumerate(parts)), f"{b}")
        for b, parts in enumerate(shape)
    ]
    made = pages("", blocks, "")
    assert all(page.count("\n") <= HIGH for page in made)
    kept = [[line for line in rows_of(page) if line.count(".") == 2] for page in made]
    assert [line for page in kept for line in page] == [
        line for block in blocks for part in block.parts for line in part
    ]
    for block in blocks:
        for part in block.parts:
            assert any(set(part) <= set(page) for page in kept)


@given(st.text(alphabet="ab 1/2-", max_size=300), st.integers(20, WIDE))
def test_folding_keeps_every_word(text: str, wide: int) -> None:
    lines = folded(text, "  > ", wide)
    assert all(len(line) <= wide for line in lines)
    assert "".join("".join(lines)[4:].split()) == "".join(text.split())


def test_a_length_is_not_parted_from_its_unit() -> None:
    for length in ("12 ft 6-1/2 in full", "1 725 rpm", "104 mm bare", "7 ft 2-13/32 in"):
        for wide in range(len(length) + 2, 60):
            assert any(length in line for line in folded(f"set the thing to {length} and no more than that", "", wide))


def test_the_last_column_is_folded() -> None:
    wide = "x" * 50
    _, rows = gridded(["a", "note"], [[wide, "square ends, partners"]])
    assert rows == [(f"{wide}  square ends,", " " * 52 + "partners")]
    assert gridded(["a", "b"], [["x" * 64, "1 2"]])[1] == [("x" * 64 + "  1 2",)]
    assert gridded(["a", "b"], [["x" * 64, "1 2"]], wide=68)[1] == [("x" * 64 + " 1 2",)]
    assert gridded(["a", "b\nc"], [["1", "2"]])[0] == ["   b", "a  c"]


def test_notes_without_room_are_left_out_and_nothing_else_is() -> None:
    def table(last: str) -> Table:
        return Table("t", (Column("at", Length("Station")), Column(last, Text("Last"))), ((304.8, "square ends"),))

    assert Paper(INCH_32, wide=15).grid(table("note")) == (["station"], [("12 in",)])
    assert Paper(INCH_32, wide=15).grid(table("fitting")) == (["station last"], [("12 in   square ends",)])
    assert Paper(INCH_32, wide=19).grid(table("note"))[1] == [("12 in    square", "         ends")]


def test_sizes_in_tables_are_short() -> None:
    columns = (Column("at", Length("Station")), Column("width", Length("Width")), Column("note", Text("There")))
    rows = ((0.0, 50.8, None), (304.8 * 3 + 0.3, 50.8 - 0.3, "step"), (381.0, -0.4, None), (609.6, 762.0, None))
    _, lines = PAPER.grid(Table("t", columns, rows))
    assert [line for row in lines for line in row] == [
        "0        2",
        "3 ft f   2 b      step",
        "15 in    -1/32 b",
        "2 ft     2 ft 6",
    ]


def test_a_step_on_the_card() -> None:
    table = Table("own", (Column("at", Length("Station")),), ((304.8,),))
    stations = Table("stations", (Column("at", Length("Station")),), ((609.6,),))
    step = Step("x", "Do it", ("First.",), (stations, table), ("Saw.",), ("Straight.",), ("Mind it.",))
    block = PAPER.step(step, 3, done=True)
    assert [line for part in block.parts for line in part] == [
        "[x]  3  Do it",
        "        First.",
        "    set Saw.",
        "        station",
        "        12 in",
        "  check Straight.",
        "   CARE Mind it.",
    ]
    assert PAPER.step(step, 3, done=False).parts[0] == ("[ ]  3  Do it",)


def test_steps_that_are_done_are_ticked() -> None:
    boat = one_spar(TAPERED + 'done = ["true-blank", "turn", "hollow", "fit-cleat-900"]')
    text = card(boat, boat.spars[0], rule=boat.rule, source="a.toml", version="1", date=None).text
    ticked = [line.split("  ")[1].strip() for line in text.split("\n") if line.startswith("[x]")]
    assert len(ticked) == 2
    assert "[x]  1  True the blank" in text
    assert "[x]  4  Turn it a quarter" in text


def test_a_card_without_a_day_has_room_for_it() -> None:
    boat = one_spar(TAPERED)
    text = card(boat, None, rule=boat.rule, source="a.toml", version="1.2", date=None).text
    assert text.count("Date: ______________") == 2  # on the list, and on the card
    assert "Computed from a.toml by shopcompanion 1.2.\nRule: 0.5 mm. Date:" in text


def test_a_published_table_is_named_with_its_book_and_what_is_ours() -> None:
    boat = one_spar('length = "3 m"\nlaw = "kemp 1880 bowsprit"\nstations = [{ at = "1 m", width = "60 mm" }]')
    text = card(boat, boat.spars[0], rule=boat.rule, source="a.toml", version="1", date=None).text
    words = " ".join(line[:42].strip() for line in text.split("\n")[3:18])
    assert "Book     D. Kemp, A Manual of Yacht and Boat Sailing, 1880" in words
    assert "Ours: full width from the heel" in words


def test_a_boat_of_many_stations_has_a_card() -> None:
    stations = ", ".join(f'{{ at = "{k * 20} mm", width = "{100 - k * 0.3:.2f} mm" }}' for k in range(151))
    boat = one_spar(f'length = "3 m"\nstations = [{stations}]')
    text = card(boat, boat.spars[0], rule=boat.rule, source="a.toml", version="1", date=None).text
    assert all(len(page.rstrip("\n").split("\n")) <= HIGH for page in text.split("\f"))
    assert "Station table, continued" in text
    assert "continued" in text


def test_names_of_any_length_keep_within_the_page() -> None:
    long = "a very long name of a thing " * 2 + "and more"
    boat = one_spar(
        f'species = "{"x" * 79}"\n{TAPERED}fittings = [{{ at = "1 m", kind = "tack hook", name = "{long}" }}]',
        more=f'[[species]]\nname = "{"x" * 79}"\nsg12 = 0.4',
    )
    text = card(boat, None, rule=boat.rule, source="y" * 60, version="1", date=None).text
    assert max(len(line) for page in text.split("\f") for line in page.split("\n")) <= WIDE
