"""The benchmarks run, and their figures have the shape that is read; never how fast they are."""

import json
import math

import pytest

from tests.bench import __main__ as command
from tests.bench import beam, boats, keys, lookup, start, stock
from tests.bench.figures import Figure, in_turn, quantile, table
from tests.stock.problems import small_boat

FEW = small_boat()._replace(needs=small_boat().needs[:4])
SMALL = {
    "start": lambda: start.measure(1, ((80, 24),), 0.1),
    "lookup": lambda: lookup.measure(1),
    "keys": lambda: keys.measure(1, ("facets",), ((80, 24),), 0),
    "boats": lambda: boats.measure((1, 2), 10, 20, 1, 0),
    "stock": lambda: stock.measure(1, FEW, FEW),
    "beam": lambda: beam.measure(1, 20),
}


@pytest.mark.parametrize("name", list(command.BENCHES))
def test_every_bench_gives_figures_beside_a_yardstick(name):
    found = SMALL[name]()
    assert len({one.name for one in found}) == len(found) >= 2
    for one in found:
        assert one.unit in ("ms", "µs", "MB")
        assert one.yardstick
        assert one.runs >= 1
        assert all(math.isfinite(number) and number > 0 for number in (one.value, one.yardstick_value, one.ratio))
    assert any(one.target for one in found)


def test_json_is_what_the_figures_say(monkeypatch, capsys):
    one = Figure("a lookup", 30.0, "ms", "nothing", 10.0, 4.0, 5)
    monkeypatch.setattr(command, "BENCHES", {"lookup": lambda: [one]})
    assert command.main(["--json"]) == 0
    whole = json.loads(capsys.readouterr().out)
    assert whole["load"] >= 0
    (told,) = whole["figures"]
    assert (told["name"], told["value"], told["yardstick_value"], told["ratio"]) == ("a lookup", 30.0, 10.0, 3.0)
    assert (told["target"], told["reached"], told["runs"]) == (4.0, True, 5)


def test_a_target_is_on_the_ratio_or_on_the_figure():
    assert Figure("one", 30.0, "ms", "two", 10.0, 2.9, 5).reached is False
    assert Figure("one", 30.0, "ms", "two", 10.0, 31.0, 5, of_value=True).reached is True
    assert Figure("one", 30.0, "ms", "two", 10.0, None, 5).reached is None


def test_the_table_has_a_line_for_every_figure():
    lines = table([Figure("a lookup", 30.0, "ms", "nothing", 10.0, 2.0, 5)] * 2)
    assert len(lines) == 3
    assert lines[1] == lines[2] == "a lookup  30 ms    nothing    10 ms  3.00 ×  ≤ 2 ×   5  missed"


def test_an_unknown_bench_is_named(capsys):
    assert command.main(["stat"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "no bench is called stat" in told.err


def test_quantiles_and_turns():
    assert quantile([5.0, 1.0, 3.0], 0.99) == 5.0
    assert quantile([5.0, 1.0, 3.0], 0.01) == 1.0
    calls = iter(range(100))
    assert in_turn(2, [lambda: float(next(calls)), lambda: -1.0]) == [[1.0, 2.0], [-1.0, -1.0]]
