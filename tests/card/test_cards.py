"""Every card, to the letter.

The cards are kept in `cards` as they are printed; read them before you keep them. To renew them after a change that is
meant: `SHOPCOMPANION_RENEW=1 python -m pytest tests/card/test_cards.py`, and read the difference.
"""

import os

import pytest

from shopcompanion.card.head import facts, head
from shopcompanion.card.lines import Paper
from shopcompanion.card.plan import CardPlan
from shopcompanion.card.text import card
from shopcompanion.lengths import RULES, Rule
from shopcompanion.profile.records import Boat

from ..test_drawing import dots
from .boats import HERE, boat, one_spar, spar, spars

CARDS = HERE / "cards"
RENEW = bool(os.environ.get("SHOPCOMPANION_RENEW"))
INCH_64, MM = RULES[3], RULES[4]


def printed(name: str, of: str | None, rule: Rule | None = None, ascii_only: bool = False) -> str:
    wanted = spar(name, of) if of else None
    return card(
        boat(name),
        wanted,
        rule=rule or boat(name).rule,
        source=f"{name}.toml",
        version="0.1.0",
        date="2026-05-02",
        ascii_only=ascii_only,
    ).text


def kept(file: str, text: str) -> None:
    path = CARDS / file
    if RENEW:
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(("name", "of"), spars())
def test_the_card_of_a_spar(name: str, of: str) -> None:
    kept(f"{name}, {of}.txt", printed(name, of))


def test_a_card_by_another_rule() -> None:
    """A boat of millimetres at an inch bench, and one of inches at a bench of millimetres."""
    kept("fjord-lugger, yard, in inches.txt", printed("fjord-lugger", "yard", INCH_64))
    kept("saltmarsh-yawl, gaff, in millimetres.txt", printed("saltmarsh-yawl", "gaff", MM))


def test_a_card_in_plain_ascii() -> None:
    text = printed("fjord-lugger", "boom", ascii_only=True)
    assert text.isascii()
    kept("fjord-lugger, boom, in ascii.txt", text)


def test_the_cards_of_a_boat_are_those_of_its_spars_behind_a_list() -> None:
    whole = printed("saltmarsh-yawl", None).split("\f")
    of_spars = [
        page for spar in boat("saltmarsh-yawl").spars for page in printed("saltmarsh-yawl", spar.name).split("\f")
    ]
    assert whole[1:] == of_spars
    kept("saltmarsh-yawl.txt", whole[0])


def test_no_card_is_left_over() -> None:
    files = {path.name for path in CARDS.iterdir()}
    extra = {
        "fjord-lugger, yard, in inches.txt",
        "saltmarsh-yawl, gaff, in millimetres.txt",
        "fjord-lugger, boom, in ascii.txt",
        "saltmarsh-yawl.txt",
    }
    assert files == extra | {f"{name}, {of}.txt" for name, of in spars()}


@pytest.mark.parametrize("path", sorted(CARDS.iterdir()), ids=lambda path: path.stem)
def test_every_card_fits_its_paper(path: os.PathLike[str]) -> None:
    """72 columns, 58 lines to a page: within the margins of A4 and of Letter, at ten characters and six lines to the
    inch."""
    with open(path, encoding="utf-8") as file:
        pages = file.read().split("\f")
    for number, page in enumerate(pages, 1):
        lines = page.removesuffix("\n").split("\n")
        assert len(lines) <= 58
        assert max(map(len, lines)) <= 72
        assert all(line == line.rstrip() for line in lines)
        assert f"page {number} of {len(pages)}" in lines[0]
        assert lines[1] in ("─" * 72, "-" * 72)
    assert "Date: 2026-05-02" in pages[-1]


@pytest.mark.parametrize("wide", [58, 40])
@pytest.mark.parametrize(("name", "of"), spars())
def test_on_a_narrow_screen_the_head_of_a_card_is_drawn_narrower_and_no_size_is_broken(
    name: str, of: str, wide: int
) -> None:
    plan = CardPlan(boat(name), spar(name, of), boat(name).rule)
    facts_of, drawn_of = head(plan, Paper(plan.rule, wide=wide))
    lines = [line for block in (facts_of, drawn_of) for part in block.parts for line in part]
    assert max(map(len, lines)) <= wide
    assert max(map(len, drawn_of.parts[0][1:7])) == wide  # the wood and its scale are as wide as there is room
    said = " ".join(" ".join(lines).split())
    for label, text in facts(plan):
        assert f"{label} {text}" in said


def drawn(built: Boat) -> list[str]:
    """The lines of wood in the drawing of a boat's first spar."""
    _, block = head(CardPlan(built, built.spars[0], built.rule), Paper(built.rule))
    return list(block.parts[0][1:6])


@pytest.mark.parametrize(("face", "high"), [("A", (6, 14)), ("B", (3, 17))])
def test_a_slot_is_drawn_where_it_is_cut(face: str, high: tuple[int, int]) -> None:
    """From 1400 to 1600 mm of 3 m, on 144 dots: 67 to 77. A third as wide as the spar, seen from A, else its ends."""
    stick = 'length = "3 m"\nsection = "square"\n'
    stick += 'stations = [{ at = "0", width = "60 mm" }, { at = "3 m", width = "60 mm" }]\n'
    slot = f'fittings = [{{ at = "1.5 m", kind = "sheave", slot = "20 mm", slot_long = "200 mm", face = "{face}" }}]'
    rows = [dots(drawn(built)) for built in (one_spar(stick), one_spar(stick + slot))]
    only = rows[1] - rows[0]
    assert {x for x, _ in only} <= set(range(66, 79))
    assert min(x for x, _ in only) in (66, 67, 68)
    assert max(x for x, _ in only) in (76, 77, 78)
    assert abs(min(y for _, y in only) - high[0]) <= 1
    assert abs(max(y for _, y in only) - high[1]) <= 2
