"""The commands of the calculators: words, JSON, exit status, and that a fault leaves standard output empty."""

import json
from math import pi, sqrt, tan

import pytest

from shopcompanion import catalog
from shopcompanion.calculator import RESERVED
from shopcompanion.cli.calculators import OWN, command
from shopcompanion.cli.grammar import spelled
from shopcompanion.profile.fields import declared
from shopcompanion.spar.fitting import Fitting

from ..asked import GIVEN


def test_the_headline_comes_first(call):
    said = call("facets", "--width", "3-1/2")
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    facet, line = (
        "Facet at 8 sides: 1-29/64 in bare (1.4497 in)",
        "Line for 8, from each edge: 1-1/32 in bare (1.0251 in)",
    )
    assert lines[0] == f"{facet}; {line}"
    assert "  Width across flats  3-1/2 in" in lines
    assert lines[-1].startswith("⚠ ")
    assert "\x1b" not in said.out


@pytest.mark.parametrize("name", catalog.NAMES)
def test_json_has_the_shape_that_is_promised(call, name):
    said = call(name, *GIVEN[name], "--json")
    assert (said.status, said.err) == (0, "")
    found = json.loads(said.out)
    calculator = catalog.load(name)
    whole = ["calculator", "inputs", "answers", "tables", "cautions", "sources", "working"]
    fitted = [key for key in found if key == "fitting"]
    assert list(found) == [*whole, *fitted]
    assert not (fitted and calculator.fitting is None)
    assert isinstance(found.get("fitting", {}), dict)  # these questions ask for one
    assert set(found.get("fitting", ())) <= {one.name for one in declared(Fitting)} - {"name"}
    assert found["calculator"] == name
    assert list(found["inputs"]) == [one.name for one in calculator.input_fields]
    assert list(found["answers"]) == [one.name for one in calculator.answer_fields]
    for one in (*found["inputs"].values(), *found["answers"].values()):
        assert set(one) == {"value", "unit", "text"}
    for table in found["tables"].values():
        assert {len(row) for row in table["rows"]} == {len(table["columns"])} == {len(table["units"])}
    assert found["cautions"]
    assert found["sources"]
    assert {"name", "formula", "with", "result"} <= set(found["working"][0])


def test_json_is_not_rounded(call):
    answers = json.loads(call("facets", "--width", "3-1/2", "--json").out)["answers"]
    assert answers["facet_8"]["value"] == pytest.approx(88.9 * tan(pi / 8), rel=1e-12)
    assert answers["mark_8"]["value"] == pytest.approx(88.9 * (1 - 1 / sqrt(2)), rel=1e-12)
    assert answers["facet_8"]["unit"] == "mm"
    assert answers["facet_8"]["text"] == "1-29/64 in bare"


def test_tables_cautions_and_units(call):
    said = call("taper", *GIVEN["taper"], "--station-step", "4 ft", "--units", "mm", "--length", "3 m")
    assert said.status == 2
    assert said.err == "shopcompanion: --length is given twice\n"
    said = call("taper", "--length=3 m", "--butt=90", "--head", "60", "--at", "1500", "--units", "mm")
    assert said.out.splitlines()[0] == "Off each face: 7.5 mm (7.50 mm)"
    table = said.out.split("Stations\n")[1].splitlines()
    assert table[0].split("  ")[1:3] == ["Station", "Width"] or table[0].split()[:2] == ["Station", "Width"]
    assert table[1].split()[:4] == ["0", "mm", "90", "mm"]


def test_working_has_the_formula_the_numbers_and_the_source(call):
    plain, full = call("facets", "--width", "4").out, call("facets", "--width", "4", "--working").out
    assert full.startswith(plain)
    assert "  Facet at 8 sides: 1-21/32 in full\n    = finished size·tan(π/8)\n    = 4·tan(π/8)\n" in full
    assert "[regular polygon, across flats]" in full
    assert "\nSources\n" in full


@pytest.mark.parametrize("name", catalog.NAMES)
def test_drawings_in_dots_and_in_ascii(call, name):
    dots = call(name, *GIVEN[name], "--drawing").out
    plain = call(name, *GIVEN[name], "--ascii").out
    assert any("\u2800" < letter <= "\u28ff" for letter in dots)
    assert not any("\u2800" <= letter <= "\u28ff" for letter in plain)
    assert "*" in plain
    assert "to scale)" in plain


def test_units_and_rule(call):
    mm = json.loads(call("facets", "--width", "90", "--units", "mm", "--json").out)
    assert mm["inputs"]["width"] == {"value": 90.0, "unit": "mm", "text": "90 mm"}
    by_rule = json.loads(call("facets", "--width", "3-1/2", "--rule", "1/8 in", "--json").out)
    assert by_rule["answers"]["facet_8"]["text"] == "1-1/2 in bare"
    for argv, word in (
        (("--units", "inch"), "--units: 'inch' is none of in, mm (did you mean 'in'?)"),
        (("--rule", "1/7 in"), "no rule is divided in '1/7 in'"),
        (("--rule", "1/32 in", "--units", "mm"), "--rule 1/32 in is no rule in mm"),
    ):
        said = call("facets", "--width", "90", *argv)
        assert (said.status, said.out) == (2, "")
        assert word in said.err


@pytest.mark.parametrize(
    ("argv", "lines"),
    [
        (("facets",), ["--width: width across flats is needed, as 3-1/2 in"]),
        (("facets", "--width"), ["--width needs a value: Width across flats"]),
        (("facets", "--width="), ["--width needs a value"]),
        (("facets", "--width", "--json"), ["--width needs a value"]),
        (("facets", "--width", "3/0"), ["--width: 3/»0«: the fraction has a zero below the line"]),
        (("facets", "--width", "3", "--wdith", "4"), ["there is no option --wdith (did you mean '--width'?)"]),
        (("facets", "--wid", "3"), ["there is no option --wid"]),
        (("facets", "--width", "3", "4"), ["unexpected argument '4'"]),
        (("facets", "--width", "3", "--json=yes"), ["--json takes no value"]),
        (("facets", "--width", "3", "--json", "--drawing"), ["--json has no drawing"]),
        (("facets", "--width", "-3", "--ridge-ok", "x"), ["--width: -3 in will not do", "--ridge-ok: »x«"]),
        (("facets", "--width", "3", "--spar", "boom"), ["--spar: needs a boat"]),
        (("facets", "--width", "3", "--at", "5"), ["--at: needs a boat"]),
        (("facets", "--width", "3", "--preset", "fine"), ["--preset: needs a boat"]),
        (("facts", "--width", "3"), ["no command is called 'facts' (did you mean 'facets'?)"]),
        (("--profiles",), ["--profiles needs a value"]),
        (("--boat", "x", "completion", "bash"), ["completion has no option --boat"]),
        (("roundover", "--stock", "1", "--bit-radius", "x\x1b[31m"), ["--bit-radius: "]),
        (("taper", *GIVEN["taper"][:-1], "12 ft"), ["--at: 12 ft lies beyond the head"]),
    ],
)  # fmt: skip
def test_a_fault_is_a_line_each_and_nothing_is_answered(call, argv, lines):
    said = call(*argv)
    assert (said.status, said.out) == (2, "")
    told = said.err.splitlines()
    assert len(told) == len(lines)
    for line, words in zip(told, lines, strict=True):
        assert line.startswith(f"shopcompanion: {words}")
        assert line.isprintable()


@pytest.mark.parametrize("argv", [("--at", "-3"), ("--at=-3",)])
def test_a_leading_dash_reaches_the_grammar(call, argv):
    said = call("taper", "--length", "9 ft", "--butt", "3", "--head", "2", *argv)
    assert (said.status, said.out) == (2, "")
    assert said.err == "shopcompanion: --at: -3 in will not do, it must be at least 0 in\n"


@pytest.mark.parametrize("name", catalog.NAMES)
def test_help_names_every_input_with_its_label(call, name):
    said = call(name, "--help")
    assert (said.status, said.err) == (0, "")
    words = " ".join(said.out.split())
    for one in catalog.load(name).typed_fields:
        assert f"{spelled(one.name)} " in words
        assert one.kind.label in words


def test_help_tells_bounds_default_and_what_is_followed(call):
    words = " ".join(call("facets", "-h").out.split())
    assert "more than 0; at most 2000 mm; as 3-1/2 in; follows the spar here" in words
    assert "one of round, oval; default round" in words
    assert "Square if within; more than 0; at most 20 mm; follows the rule" in words
    assert "Ridge for sanding; at least 0.01 mm; at most 20 mm; default 1/64 in, metric 0.5 mm" in words
    words = " ".join(call("moisture", "-h").out.split())
    assert "at least 30 °F; at most 270 °F; default 70 °F, metric 20 °C" in words


def test_the_whole_help_lists_every_calculator(call):
    said = call("--help")
    assert said.status == 0
    for name in catalog.NAMES:
        assert f"    {name} " in said.out


@pytest.mark.parametrize("name", catalog.NAMES)
def test_no_input_takes_an_option_of_the_command_line(name):
    own = {one.name for one in OWN}
    inputs = {one.name for one in catalog.load(name).typed_fields}
    assert own & inputs <= {"at"}
    assert set(RESERVED) - {"help"} <= own
    names = [one.name for one in command(name).options]
    assert len(names) == len(set(names))


def test_the_reference_has_every_input_and_answer(call):
    said = call("reference")
    assert said.status == 0
    for name in catalog.NAMES:
        section = said.out.split(f"### {name}\n")[1].split("\n### ")[0]
        calculator = catalog.load(name)
        assert calculator.question in section
        for one in calculator.typed_fields:
            assert f"| `{spelled(one.name)}` | " in section
        for one in calculator.answer_fields:
            assert f"| `{one.name}` | " in section
            assert one.kind.source in section
        for line in calculator.sources:
            assert f"- {line}" in section


def test_an_option_may_have_the_stable_names_underscores(call):
    given = ("--length", "6 m", "--butt", "90 mm", "--head", "80 mm", "--species", "sitka",
             "--supports", "0 = fixed", "--loads", "6 m = 50 N")  # fmt: skip
    assert call("strength", *given, "--own_weight", "no").out == call("strength", *given, "--own-weight", "no").out
    assert "--own-weight is given twice" in call("strength", *given, "--own_weight", "no", "--own-weight=no").err


def test_a_mast_answers_with_nothing_typed(call):
    said = call("strength", "--boat", "fjord-lugger", "--spar", "mast", "--json")
    assert (said.status, said.err) == (0, "")
    found = json.loads(said.out)
    assert found["answers"]["worst_at"]["value"] == pytest.approx(620, abs=0.5)
    assert found["inputs"]["supports"]["value"] == [
        {"at": 0.0, "kind": "pinned", "stiffness": 0.0}, {"at": 620.0, "kind": "pinned", "stiffness": 0.0},
    ]  # fmt: skip
    assert found["tables"]["stations"]["columns"] == ["at", "width", "moment", "stress", "deflection"]
    assert found["cautions"][0].startswith("Guidance, not a design approval")
