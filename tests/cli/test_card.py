"""The command of the job cards."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import shopcompanion
from shopcompanion import __version__, form
from shopcompanion.card.text import card
from shopcompanion.errors import InputFault
from shopcompanion.profile.asking import SET_UP
from shopcompanion.profile.parse import read

PROFILE = Path(__file__).parents[2] / "profiles" / "saltmarsh-yawl.toml"
MIZZEN = ["--boat", "saltmarsh-yawl", "--spar", "mizzen mast"]


@pytest.fixture
def cards(call, tmp_path):
    """Run the command with a folder of its own."""
    return lambda *argv: call("card", *argv, "--profiles", str(tmp_path))


def test_the_card_of_a_spar(cards):
    said = cards(*MIZZEN, "--date", "2026-05-02")
    boat = read(PROFILE.read_text(encoding="utf-8")).boat
    wanted = card(
        boat,
        boat.spar("mizzen mast"),
        rule=boat.rule,
        source="saltmarsh-yawl.toml",
        version=__version__,
        date="2026-05-02",
    ).text
    assert (said.status, said.err) == (0, "")
    assert said.out == wanted
    assert said.out == cards(*MIZZEN, "--date", "2026-05-02").out


def test_the_cards_of_a_boat_come_page_by_page(cards):
    said = cards("--boat", "fjord-lugger")
    pages = said.out.split("\f")
    assert said.status == 0
    assert pages[0].startswith("Fjord lugger · job cards")
    first = [page.split("\n")[0] for page in pages if " page 1 of " in page.split("\n")[0]]
    assert [line.split("  ")[0] for line in first] == [
        f"Fjord lugger · {name}" for name in ("job cards", "mast", "yard", "boom", "mizzen mast")
    ]
    assert sum(int(line.split(" of ")[1]) for line in first) == len(pages)


def test_the_rule_and_the_units_may_be_others(cards):
    assert "Rule: 1/32 in. Date:" in cards(*MIZZEN).out
    assert "Rule: 1/16 in. Date:" in cards(*MIZZEN, "--rule", "1/16 in").out
    metric = cards(*MIZZEN, "--units", "mm").out
    assert "Rule: 0.5 mm. Date:" in metric
    assert "Length   3429 mm" in metric
    clash = cards(*MIZZEN, "--units", "mm", "--rule", "1/16 in")
    assert (clash.status, clash.out, clash.err) == (2, "", "shopcompanion: --rule 1/16 in is no rule in mm\n")


def test_a_day_stands_on_the_card_or_a_line_for_it(cards):
    assert "Date: 2026-05-02\n" in cards(*MIZZEN, "--date", "2026-05-02").out
    assert "Date: ______________\n" in cards(*MIZZEN).out


@pytest.mark.parametrize("day", ["2026-5-2", "2 May 2026", "20260502", "2026-02-30", "today", "2026-05-02\x1b[31m"])
def test_what_is_no_day(cards, day):
    said = cards(*MIZZEN, "--date", day)
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert said.err.startswith("shopcompanion: --date: ")
    assert "write it as 2026-05-02" in said.err


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        ((), "--boat: is needed"),
        (("--spar", "boom"), "--boat: is needed"),
        (("--boat", "saltmarsh-yowl"), "saltmarsh-yawl"),
        (("--boat", "saltmarsh-yawl", "--spar", "mizen mast"), "did you mean 'mizzen mast'?"),
        (("--boat", "saltmarsh-yawl", "--rule", "1/7 in"), "1/7 in"),
        (("--boat", "saltmarsh-yawl", "--units", "ft"), "none of in, mm"),
        (("saltmarsh-yawl",), "unexpected argument"),
    ],
)
def test_what_is_at_fault_is_one_line(cards, argv, told):
    said = cards(*argv)
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert told in said.err


def test_a_boat_without_spars_has_no_card(cards, call, tmp_path):
    assert call("new", "Punt", "--profiles", str(tmp_path)).status == 0
    said = cards("--boat", "punt")
    assert (said.status, said.out) == (2, "")
    assert said.err == "shopcompanion: the boat has no spar, so there is no card to make\n"


def test_a_profile_with_faults_is_told_of_beside_the_card(cards, tmp_path):
    text = PROFILE.read_text(encoding="utf-8").replace('kind = "mizzen"', 'kind = "mizen"')
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    said = cards("--boat", "mine", "--spar", "mizzen mast")
    assert said.status == 3
    assert said.err == "shopcompanion: note: the profile has a fault; see shopcompanion check 'mine'\n"
    assert "Computed from mine.toml by" in said.out


def test_plain_ascii_when_it_is_asked_for(cards, tmp_path):
    text = PROFILE.read_text(encoding="utf-8").replace('species = "Spruce, Sitka"', 'species = "Spruce · ½ Übel"')
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    said = cards("--boat", "mine", "--spar", "gaff", "--ascii")
    assert said.out.isascii()
    assert "Spruce - 1/2 ?bel" in said.out
    assert "Saw tilted 45 deg." in said.out


def test_plain_ascii_where_the_output_has_nothing_else(tmp_path):
    """No place of the machine, and no letter of its locale, in the card."""
    found = subprocess.run(
        [sys.executable, "-m", "shopcompanion", "card", *MIZZEN, "--profiles", str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(Path(shopcompanion.__file__).parents[1]), "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=True,
    )
    text = found.stdout.decode("ascii")
    assert "?" not in text
    assert str(tmp_path) not in text
    assert max(len(line) for page in text.split("\f") for line in page.split("\n")) <= 72


def test_the_help_says_what_it_takes(call):
    said = call("card", "--help")
    assert said.status == 0
    for option in ("--boat", "--spar", "--date", "--units", "--rule", "--ascii", "--profiles"):
        assert option in said.out


@pytest.mark.parametrize(
    "calculator", ["taper", "facets", "gauge", "dowels", "scarf", "shoulder", "tip", "hinge", "drum"]
)
@pytest.mark.parametrize("spar", ["mizzen mast", "bowsprit"])
def test_a_question_without_an_answer_is_one_line(call, monkeypatch, calculator, spar):
    """Whatever a calculator refuses: spar, step and what works are named, and no option that `card` does not have."""
    solve = form.solve

    def refuses(asked, texts, values, rule, defaults):
        if asked.name == calculator:
            raise InputFault("{} is too thick, at most {} fits", "width_at", (6.35, 4.7625))
        return solve(asked, texts, values, rule, defaults)

    monkeypatch.setattr(form, "solve", refuses)
    said = call("card", "--boat", "saltmarsh-yawl", "--spar", spar)
    assert said.status in (0, 2)
    if said.status == 0:  # the card does without it
        assert calculator in ("hinge", "drum", "scarf", "shoulder", "tip", "dowels", "gauge")
        return
    assert said.out == ""
    (line,) = said.err.splitlines()
    assert f"no card of the {spar}: " in line
    assert "step" in line or "head" in line
    assert f"needs {calculator}" in line
    assert "1/4 in is too thick, at most 3/16 in fits" in line
    assert "change that in the profile" in line
    assert "--" not in line
    assert (f"keep a preset of {calculator}" in line) == (calculator in SET_UP)
