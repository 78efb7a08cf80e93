"""What stands on the pages of a pane: every answer, whole and apart, in whatever width there is."""

from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcompanion.catalog import NAMES
from shopcompanion.lengths import RULES, Rule
from shopcompanion.storage.store import Places
from shopcompanion.tui import pages
from shopcompanion.tui.figures import large
from shopcompanion.tui.session import Session, ShownCalculator

from .conftest import FOOT, LUGGER, session_on

WIDTHS = (38, 42, 58, 64, 78, 100)
SPARS = ["main mast", "gaff", "boom", "mizzen mast", "bowsprit", "bowsprit bitt"]


def shown_of(session: Session, calculator: str, **texts: str) -> ShownCalculator:
    session.calculator = calculator
    for name, text in texts.items():
        session.type(name, text)
    return session.shown()


def lines_of(content: object) -> list[str]:
    return str(content).split("\n")


def flat(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize(
    ("calculator", "texts", "said"),
    [
        ("glueup", {"strips": "3 = 8 ft", "needed_width": "5", "needed_length": "7 ft"}, ("SHORT BY", "Another strip")),
        (
            "glueup",
            {"strips": "3 = 8 ft; 3 = 8 ft", "needed_width": "5", "needed_length": "7 ft"},
            ("STRIPS IN ORDER",),
        ),
        ("bore", {"thickness": "6", "hole": "1/2", "drill_reach": "4"}, ("DRILL", "Halves overlap by")),
        ("bore", {"thickness": "9", "hole": "1/2", "drill_reach": "4"}, ("DRILL", "Wood left between the halves")),
    ],
)
def test_the_headline_answers_the_question(
    session: Session, calculator: str, texts: dict[str, str], said: tuple[str, ...]
) -> None:
    lines = lines_of(pages.headline(shown_of(session, calculator, **texts), 78))
    assert lines[0] == said[0].upper()
    assert all(any(line.startswith(words) for line in lines) for words in said[1:])


def test_the_log_s_headline_says_what_is_too_thin_and_where(session: Session) -> None:
    shown = shown_of(session, "log", measured="5 ft = 2-1/4 & 2-1/4")
    lines = lines_of(pages.headline(shown, 78))
    assert lines[0] == "THE SPAR IS"
    # 2.42568 - 2.25 in, 5-5/8 thirty-seconds
    assert "Too thin by  3/16 in bare" in lines
    assert "Thinnest at  5 ft" in lines


# --- the headline -------------------------------------------------------------------------------------------------


def test_the_headline_is_the_fraction_large_and_the_decimal_small(session: Session) -> None:
    # At 5 ft the mizzen is 2.42568 in; its facet 0.414214 of that, 1.0047 in: 1 in full; its line 0.29289 of it.
    lines = lines_of(pages.headline(shown_of(session, "facets"), 42))
    assert lines[0] == "FACET AT 8 SIDES"
    figures = large("1")
    assert lines[1:4] == [figures[0], f"{figures[1]}  in full", f"{figures[2]}  1.0047 in"]
    assert lines[4:] == ["Line for 8, from each edge  23/32 in bare"]


def test_a_page_of_few_rows_has_its_headline_in_one(session: Session) -> None:
    lines = lines_of(pages.headline(shown_of(session, "facets"), 42, plain=True))
    assert lines[0] == "FACET AT 8 SIDES"
    assert lines[1:] == ["1  in full  1.0047 in  Line for 8, from each edge 23/32 in bare"]


def test_feet_stand_in_the_headline(session: Session) -> None:
    # (72 - 2.4257) / 2 = 34.7872 in, 2 ft 10-25/32 in full.
    shown = shown_of(session, "taper", blank="6 ft")
    lines = lines_of(pages.headline(shown, 78))
    assert lines[2] == large("2' 10-25/32")[1] + "  in full"
    stacked = lines_of(pages.headline(shown, 46))
    assert stacked[4:] == large("10-25/32")
    assert lines_of(pages.headline(shown, 30))[2] == "2' 10-25/32  in full"  # no room for large figures


@pytest.mark.parametrize(("calculator", "word"), [("drum", "YES"), ("roundover", "LEAVES FLATS")])
def test_a_verdict_is_large(session: Session, calculator: str, word: str) -> None:
    lines = lines_of(pages.headline(shown_of(session, calculator), 60))
    assert [line.rstrip() for line in lines[1:]] == [line.rstrip() for line in large(word)]


def test_a_verdict_that_is_too_long_stands_under_itself(session: Session) -> None:
    lines = lines_of(pages.headline(shown_of(session, "roundover"), 30))
    assert [line.rstrip() for line in lines[1:]] == [line.rstrip() for line in [*large("LEAVES"), *large("FLATS")]]


def test_last_answers_say_that_they_are_from_before(session: Session) -> None:
    session.shown()
    shown = shown_of(session, "facets", width="3-1/")
    lines = lines_of(pages.headline(shown, 46))
    assert lines[0] == "FACET AT 8 SIDES  (last good answer)"
    assert large("1")[0] in lines[1]
    assert lines_of(pages.headline(shown, 30))[:2] == ["FACET AT 8 SIDES", "(last good answer)"]


def test_without_an_answer_there_is_a_dash(home: Places) -> None:
    session = Session()
    shown = session.shown()
    assert lines_of(pages.headline(shown, 42))[1] == "—"
    assert str(pages.answers(shown, 42)) == ""
    assert str(pages.working(shown)) == "no answer yet"
    assert str(pages.drawing(shown, 40, 10, False)) == "nothing to draw yet"
    assert str(pages.tables(shown, 0, 40, 10)) == "this calculator has no table"


@pytest.mark.parametrize("calculator", NAMES)
def test_no_headline_is_wider_than_its_page(session: Session, calculator: str) -> None:
    for rule, width in product(RULES, WIDTHS):
        session.use_rule(rule)
        lines = lines_of(pages.headline(shown_of(session, calculator), width))
        assert max(map(len, lines)) <= width
        assert set("".join(lines[1:])) & set("█▀▄—"), (rule, width)


# --- the other answers --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("calculator", NAMES)
def test_every_answer_is_there_and_none_runs_over_the_edge(session: Session, calculator: str) -> None:
    asked = 0
    for spar, rule in product(SPARS, (RULES[3], RULES[6])):
        session.choose_spar(spar)
        session.use_rule(rule)
        shown = shown_of(session, calculator)
        asked += shown.result is not None
        for width in WIDTHS if shown.result is not None else ():
            every_answer_is_there(shown, rule, width)
    assert asked


def every_answer_is_there(shown: ShownCalculator, rule: Rule, width: int) -> None:
    assert shown.result is not None
    lines = lines_of(pages.answers(shown, width))
    assert max(map(len, lines)) <= width
    said = flat("\n".join(lines))
    for field in shown.calculator.answer_fields:
        value = getattr(shown.result.answers, field.name)
        if value is None or field in shown.result.heads():
            continue
        text = field.kind.show(value, rule)
        bare = text.removesuffix(f" {rule.unit}").replace(f" {rule.unit} ", " ")
        assert flat(field.kind.label) in said or (field.kind.row and flat(field.kind.row) in said)
        assert flat(text).replace(";", "") in said.replace(";", "") or (field.kind.row and flat(bare) in said)


@given(width=st.integers(38, 120), across=st.floats(1, 2000), rule=st.sampled_from(RULES))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_answers_of_a_row_stand_apart(session: Session, width: int, across: float, rule: Rule) -> None:
    session.use_rule(rule)
    shown = shown_of(session, "facets", width=f"{across:.4f} mm")
    assert shown.result is not None
    lines = lines_of(pages.answers(shown, width))
    assert max(map(len, lines)) <= width
    if not lines[1].startswith("Line "):  # one to a line, as there is no room
        return
    for row, line in zip(("Line", "Facet", "Cut", "Ridge"), lines[1:5], strict=True):
        fields = [field for field in shown.calculator.answer_fields if field.kind.row == row]
        wanted = [field.kind.show(getattr(shown.result.answers, field.name), session.rule) for field in fields]
        words = [text.removesuffix(f" {rule.unit}").replace(f" {rule.unit} ", " ").split() for text in wanted]
        assert line.split() == [row, *(word for text in words for word in text)]


# --- working ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("calculator", NAMES)
def test_working_has_every_sum_and_every_source(session: Session, calculator: str) -> None:
    shown = shown_of(session, calculator)
    assert shown.result is not None
    lines = lines_of(pages.working(shown))
    for step in shown.result.working():
        place = lines.index(f"{step.label}  {step.result}")
        after = [line.strip().removeprefix("= ") for line in lines[place + 1 : place + 4]]
        assert after[0] == step.words
        assert step.put_in in after
        assert step.source in after
    assert lines[-len(shown.calculator.sources) :] == list(shown.calculator.sources)


# --- drawing ------------------------------------------------------------------------------------------------------


def test_the_wood_stands_in_its_colour_and_what_comes_off_in_another(session: Session) -> None:
    """The lines and figures on it have the colour of words, so that they are read."""
    drawn = pages.drawing(session.shown(), 60, 20, False)
    roles = {text.strip(): role for line in drawn[1:] for text, role in line if text.strip()}
    assert {role for text, role in roles.items() if set(text) == {"▓"}} == {"wood"}
    assert {role for text, role in roles.items() if set(text) == {"░"}} == {"squared"}
    assert {role for text, role in roles.items() if any(letter.isdigit() for letter in text)} == {""}


@pytest.mark.parametrize("calculator", NAMES)
@pytest.mark.parametrize("ascii_only", [False, True])
def test_a_drawing_stays_on_its_page(session: Session, calculator: str, ascii_only: bool) -> None:
    shown = shown_of(session, calculator)
    for width, height in ((38, 8), (58, 10), (42, 16), (76, 14)):
        lines = lines_of(pages.drawing(shown, width, height, ascii_only))
        assert len(lines) <= height
        if lines == ["nothing to draw yet"]:
            assert shown.result is not None
            assert shown.result.drawing() is None
            continue
        assert max(map(len, lines[1:])) <= width
        assert not ascii_only or all(line.isascii() for line in lines[1:])
        assert any(line.strip() for line in lines[1:])


# --- tables -------------------------------------------------------------------------------------------------------


def test_the_table_of_stations_shows_those_about_the_cursor(session: Session) -> None:
    shown = shown_of(session, "taper")
    assert pages.by_station(shown)
    lines = lines_of(pages.tables(shown, 5 * FOOT, 76, 30))
    assert [line[:2] for line in lines].count("▸ ") == 1
    marked = next(line for line in lines if line.startswith("▸"))
    assert " 5 ft " in marked
    assert " 2-7/16 bare " in marked
    assert len(lines) == 2 + 13  # two of headings; 0 to 11 ft by feet, and the head
    assert "2-1/2" in lines[2]
    assert "11 ft 3 in" in lines[-1]


@pytest.mark.parametrize("at", [0, 5 * FOOT, 135 * 25.4])
def test_a_low_page_says_how_much_is_above_and_below(session: Session, at: float) -> None:
    session.go_to(at)
    shown = shown_of(session, "taper")
    assert shown.result is not None
    lines = lines_of(pages.tables(shown, at, 76, 10))
    rows = len(shown.result.tables[0].rows)
    *_, foot = lines
    above = int(foot.split("↑ ")[1].split()[0]) if "↑" in foot else 0
    below = int(foot.split("↓ ")[1].split()[0]) if "↓" in foot else 0
    shown_rows = len(lines) - 3
    assert above + shown_rows + below == rows
    assert len(lines) <= 10
    assert any(line.startswith("▸") for line in lines)


@pytest.mark.parametrize("calculator", NAMES)
def test_no_table_is_wider_than_its_page_and_what_is_left_out_is_named(session: Session, calculator: str) -> None:
    for width, height in product((36, 42, 58, 76, 116), (6, 14)):
        shown = shown_of(session, calculator)
        assert shown.result is not None
        lines = lines_of(pages.tables(shown, session.at, width, height))
        cut = [line for line in lines if "on a wider screen" in line]
        assert all(len(line) <= width for line in lines if line not in cut)
        if not shown.result.tables:
            continue
        columns = [column.kind.label for table in shown.result.tables for column in table.columns]
        said = flat(" ".join(lines))
        for label in columns:
            words = label.split()
            assert flat(label) in said or all(flat(word) in said for word in words), label


@pytest.mark.parametrize(("calculator", "by_station"), [("facets", False), ("taper", True), ("roundover", False)])
def test_which_tables_follow_the_station(session: Session, calculator: str, by_station: bool) -> None:
    assert pages.by_station(shown_of(session, calculator)) == by_station


def test_an_oval_has_its_table_of_facets(home: Places) -> None:
    session = session_on(home, LUGGER, "boom", 1000)
    shown = shown_of(session, "facets")
    assert shown.result is not None
    assert shown.result.tables[0].name == "facets"
    assert "Tilt" in str(pages.tables(shown, 0, 76, 30))
