"""The command of the cutting plan."""

import json
import os
import signal
import subprocess
import sys
from math import prod
from pathlib import Path

import pytest

import shopcompanion
from shopcompanion import __version__
from shopcompanion.card.yard import page
from shopcompanion.profile.parse import read
from shopcompanion.stock.blanks import task
from shopcompanion.stock.check import faults
from shopcompanion.stock.search import Search

pytestmark = pytest.mark.usefixtures("searched_once")
PROFILES = Path(__file__).parents[2] / "profiles"
NONE = 'format = 1\n[boat]\nname = "Punt"\nunits = "in"\n'
POLE = (
    '[[spar]]\nname = "pole"\nlength = "9 ft"\nstations = [{at = "0", width = "2 in"}, {at = "9 ft", width = "1 in"}]\n'
)
YARD = '[[yard]]\nname = "deal"\nnominal = "4 x 4"\nlengths = ["10 ft"]\nprice = "20 EUR"\n'


@pytest.fixture
def stock(call, tmp_path):
    """Run the command with a folder of its own."""
    return lambda *argv: call("stock", *argv, "--profiles", str(tmp_path))


@pytest.fixture
def boat(tmp_path):
    """Keep a boat of this text as 'punt'."""
    return lambda text: (tmp_path / "punt.toml").write_text(NONE + text, encoding="utf-8")


def test_what_to_buy_and_how_to_cut_it(stock):
    said = stock("--boat", "fjord-lugger")
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith("Fjord lugger: timber\n\nTo buy\n")
    assert "Total 163.23 EUR, 69.0 board feet, 0.163 cubic metres." in said.out
    assert "Proved: no other plan is cheaper" in said.out
    assert "120 x 120  mast, part 1" in said.out  # on hand, the other part of the mast is bought


def test_the_plan_in_json_is_the_plan(stock):
    """Every cut lies in its timber, clear of knots; cost and waste are those of what is sawn."""
    said = stock("--boat", "saltmarsh-yawl", "--json")
    told = json.loads(said.out)
    assert (said.status, told["boat"], told["currency"]) == (0, "Saltmarsh yawl", "USD")
    assert told["proof"]["proved"] is True
    assert told["cost"] == sum(one["price"] or 0 for one in told["timbers"])
    assert told["cost"] == sum(one["price"] * one["count"] for one in told["to_buy"])
    new = [one for one in told["timbers"] if one["price"] is not None]
    assert sum(one["count"] for one in told["to_buy"]) == len(new)
    assert told["board_feet"] * 144 * 25.4**3 == pytest.approx(sum(prod(one["nominal"]) for one in new))
    assert told["cubic_metres"] * 1e9 == pytest.approx(
        sum(one["thickness"] * one["width"] * one["length"] for one in new)
    )
    blanks = [cut for one in told["timbers"] for strip in one["strips"] for cut in strip["cuts"]]
    assert {cut["for"] for cut in blanks} == {
        "main mast", "gaff", "boom", "mizzen mast", "bowsprit", "bowsprit bitt 1", "bowsprit bitt 2", "jaw cheek 1",
        "jaw cheek 2", "bitts' crosspiece",
    }  # fmt: skip
    for one in told["timbers"]:
        assert {len(line) for line in one["drawing"]} == {72}
        for strip in one["strips"]:
            for cut in strip["cuts"]:
                start, end = cut["at"], cut["at"] + cut["length"]
                assert end <= one["length"]
                assert all(end <= knot["from"] or start >= knot["to"] for knot in one["knots"])
                assert cut["why"]
    volume = sum(one["thickness"] * one["width"] * one["length"] for one in told["timbers"])
    sawn = sum(cut["thickness"] * cut["width"] * cut["length"] for cut in blanks)
    assert told["waste"] == pytest.approx(volume - sawn, rel=5e-3)  # reckoned in whole tenths


def test_the_page(stock):
    said = stock("--boat", "saltmarsh-yawl", "--page", "--date", "2026-05-02")
    of = read((PROFILES / "saltmarsh-yawl.toml").read_text(encoding="utf-8")).boat
    job = task(of, of.rule)
    with Search(job.problem) as search:
        *_, plan = search
    assert faults(job.problem, plan) == []
    wanted = page(of, job, plan, rule=of.rule, source="saltmarsh-yawl.toml", version=__version__, date="2026-05-02")
    assert (said.status, said.out) == (0, wanted)


def test_another_unit_shows_the_same_plan(stock):
    told, metric = (stock("--boat", "saltmarsh-yawl", *more).out for more in ((), ("--units", "mm", "--ascii")))
    assert "20 ft" in told
    assert "x 6096 " in metric
    assert metric.isascii()
    assert "898.77 USD" in told
    assert "898.77 USD" in metric


def test_a_boat_with_a_yard_alone_and_one_with_timber_alone(stock, boat):
    boat(POLE + YARD)
    assert "Total 20.00 EUR" in stock("--boat", "punt").out
    boat(POLE + '[[timber]]\nname = "plank"\nthickness = "3 in"\nwidth = "3 in"\nlength = "10 ft"\n')
    assert "To buy: nothing: the timber on hand will do." in stock("--boat", "punt").out


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (POLE, "enter what is on hand ([[timber]]) or what is sold ([[yard]])"),
        (YARD, "nothing to cut"),
    ],
)
def test_a_boat_that_makes_no_plan(stock, boat, text, told):
    boat(text)
    said = stock("--boat", "punt")
    assert (said.status, said.out, said.err.count("\n")) == (2, "", 1)
    assert told in said.err


def test_the_rest_of_a_faulty_profile_is_planned(stock, boat):
    """Overlapping knots, a price without a currency: told by check, and the plan is made with what is left."""
    timber = '[[timber]]\nname = "plank"\nthickness = "3 in"\nwidth = "3 in"\nlength = "14 ft"\n'
    knots = 'knots = [{ from = "1 ft", to = "2 ft" }, { from = "18 in", to = "30 in" }]\n'
    boat(POLE + timber + knots + YARD.replace(" EUR", ""))
    said = stock("--boat", "punt")
    assert said.status == 3
    assert "2 faults" in said.err
    assert "2 ft 6 to 11 ft 8" in said.out


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        ((), "--boat: is needed"),
        (("--boat", "fjord-luger"), "fjord-lugger"),
        (("--boat", "fjord-lugger", "--seconds", "soon"), "--seconds: 'soon' is not a number of seconds"),
        (("--boat", "fjord-lugger", "--seconds", "0"), "--seconds: '0'"),
        (("--boat", "fjord-lugger", "--seconds", "nan"), "--seconds: 'nan'"),
        (("--boat", "fjord-lugger", "--json", "--page"), "not both"),
        (("--boat", "fjord-lugger", "--date", "today"), "--date: "),
    ],
)
def test_what_is_at_fault_is_one_line(stock, argv, told):
    said = stock(*argv)
    assert (said.status, said.out, said.err.count("\n")) == (2, "", 1)
    assert told in said.err


def test_a_search_cut_short_is_told_as_it_is(stock, monkeypatch):
    """When its time is up the best so far is shown, and not called proved."""
    monkeypatch.setattr(Search, "__iter__", lambda search: iter([search.plan]))
    said = stock("--boat", "saltmarsh-yawl", "--seconds", "5")
    assert said.status == 0
    assert "Best found so far. A cheaper plan is not ruled out." in said.out
    assert "Proved" not in said.out


def test_an_interrupt_gives_the_best_so_far(stock, monkeypatch):
    def interrupted(search):
        yield search.plan
        raise KeyboardInterrupt

    monkeypatch.setattr(Search, "__iter__", interrupted)
    said = stock("--boat", "fjord-lugger", "--json")
    assert said.status == 0
    assert json.loads(said.out)["proof"] == {"proved": False, "stage": "first plan", "within": None}


def test_a_real_interrupt(tmp_path):
    """Sent as soon as the process runs its search; whenever it comes, there is a plan or nothing, never a traceback."""
    code = (
        "import os, signal, sys\n"
        "from shopcompanion.stock import search\n"
        "start = search._start\n"
        "def started(problem):\n"
        "    child = start(problem)\n"
        "    os.kill(os.getpid(), signal.SIGINT)\n"
        "    return child\n"
        "search._start = started\n"
        "from shopcompanion.cli.main import main\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    argv = ["stock", "--boat", "fjord-lugger", "--json", "--profiles", str(tmp_path)]
    found = subprocess.run(
        [sys.executable, "-c", code, *argv],
        env={**os.environ, "PYTHONPATH": str(Path(shopcompanion.__file__).parents[1])},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (found.returncode, found.stderr) == (0, "")
    assert json.loads(found.stdout)["proof"]["proved"] is False


def test_the_help_says_what_it_takes(call):
    said = call("stock", "--help")
    assert said.status == 0
    for option in ("--boat", "--seconds", "--page", "--date", "--units", "--rule", "--ascii", "--json", "--profiles"):
        assert option in said.out


def test_the_boat_is_shown_with_its_timber(call, tmp_path):
    told = json.loads(call("show", "saltmarsh-yawl", "--json", "--profiles", str(tmp_path)).out)
    assert told["yard"][0]["price"]["value"] == "11.50 USD"
    assert told["timbers"][1]["knots"][0]["from"]["text"] == "6 ft 11 in"
    assert [one["count"]["value"] for one in told["pieces"]] == [2, 1]
    words = call("show", "saltmarsh-yawl", "--profiles", str(tmp_path)).out
    for title in ("Pieces", "Timber on hand", "The yard sells"):
        assert f"\n{title}\n" in words
