"""`--boat`, `--spar`, `--at` and `--preset` on the demo boats and on boats of our own."""

import json

import pytest

YAWL = ("--boat", "saltmarsh-yawl")
MIZZEN = (*YAWL, "--spar", "mizzen mast")


@pytest.fixture
def inputs(call):
    def of(*argv: str) -> dict[str, str]:
        said = call(*argv, "--json")
        assert (said.status, said.err) == (0, "")
        return {name: one["text"] for name, one in json.loads(said.out)["inputs"].items()}

    return of


@pytest.fixture
def folder(tmp_path):
    """A folder of profiles with one boat, `skiff`, in it."""

    def make(text: str) -> tuple[str, str, str, str]:
        (tmp_path / "skiff.toml").write_text("format = 1\n" + text, encoding="utf-8")
        return ("--profiles", str(tmp_path), "--boat", "skiff")

    return make


ONE_SPAR = """
[boat]
name = "Skiff"
units = "mm"
[[spar]]
name = "sprit"
length = "2 m"
stations = [{ at = "0", width = "40" }, { at = "2 m", width = "30" }]
"""
PRESETS = """
[boat]
name = "Skiff"
units = "in"
[[spar]]
name = "mast"
length = "9 ft"
stations = [{ at = "0", width = "3" }, { at = "9 ft", width = "2" }]
[[spar]]
name = "boom"
length = "8 ft"
stations = [{ at = "0", width = "2" }, { at = "8 ft", width = "1-1/2" }]
[[preset]]
calculator = "facets"
name = "usual"
inputs = { ridge_ok = "1/32", width = "4" }
[[preset]]
calculator = "facets"
name = "fine"
spar = "mast"
inputs = { ridge_ok = "1/64" }
[[preset]]
calculator = "facets"
name = "fine"
spar = "boom"
inputs = { ridge_ok = "1/128" }
"""


def test_the_spar_at_a_station(call):
    """The mizzen thins from 2-3/4 in at 2 ft to 1-3/4 in at 11 ft 3 in: at 5 ft it has 2-3/4 − 36/111 in."""
    said = call("facets", *MIZZEN, "--at", "5 ft", "--json")
    width = json.loads(said.out)["inputs"]["width"]["value"]
    assert width == pytest.approx((2.75 - 36 / 111) * 25.4, abs=1e-9)
    words = call("facets", *MIZZEN, "--at", "5 ft")
    assert words.err == ""
    assert "  Width across flats  2-7/16 in bare  the spar here\n" in words.out


def test_every_calculator_answers_for_every_demo_spar(call):
    from shopcompanion import catalog
    from shopcompanion.timber.species import find

    for name, length in (("saltmarsh-yawl", "1 ft"), ("fjord-lugger", "500 mm")):
        spars = json.loads(call("show", name, "--json").out)["spars"]
        assert spars
        for spar in spars:
            for calculator in catalog.NAMES:
                if calculator in ("lightest", "compare") and spar is not spars[0]:
                    continue  # searches of seconds: tests/calculators/test_lightest.py has them for every spar
                said = call(calculator, "--boat", name, "--spar", spar["name"]["value"], "--at", length)
                if calculator == "moisture" and "BR 241" in find(spar["species"]["value"]).source:
                    assert "has no published shrinkage" in said.err
                    continue
                if spar["section"]["value"] == "staves" and calculator in ("rip", "scarf", "shoulder", "glueup"):
                    assert "is needed" in said.err  # of a blank, and it has none
                    continue
                assert (said.status, said.err) == (0, ""), (name, spar, calculator)


def test_what_is_typed_wins(inputs):
    assert inputs("facets", *MIZZEN, "--at", "5 ft", "--width", "3")["width"] == "3 in"
    assert inputs("drum", *MIZZEN, "--drum", "6")["drum"] == "6 in"


def test_the_boat_sets_rule_and_units_unless_they_are_given(inputs):
    assert inputs("facets", "--boat", "fjord-lugger", "--width", "90")["width"] == "90 mm"
    assert inputs("facets", "--boat", "fjord-lugger", "--width", "3", "--units", "in")["width"] == "3 in"
    shown = inputs("facets", *MIZZEN, "--at", "5 ft", "--rule", "1/64 in")["width"]
    assert shown == "2-27/64 in full"


def test_a_boat_alone_gives_the_shop(inputs):
    found = inputs("drum", *YAWL, "--widest", "3")
    assert (found["drum"], found["belt_length"]) == ("4 in", "2 ft")


def test_at_is_the_input_as_well(inputs):
    found = inputs("taper", *MIZZEN, "--at", "5 ft")
    assert (found["at"], found["length"]) == ("5 ft", "11 ft 3 in")


def test_the_only_spar_needs_no_name(folder, inputs):
    assert inputs("facets", *folder(ONE_SPAR), "--at", "1 m")["width"] == "35 mm"


def test_presets(folder, inputs):
    boat = folder(PRESETS)
    assert inputs("facets", *boat, "--preset", "usual")["ridge_ok"] == "1/32 in"
    typed = inputs("facets", *boat, "--preset", "usual", "--ridge-ok", "1/16")
    assert (typed["ridge_ok"], typed["width"]) == ("1/16 in", "4 in")
    fine = inputs("facets", *boat, "--preset", "FINE", "--spar", "mast", "--at", "0")
    assert (fine["ridge_ok"], fine["width"]) == ("1/64 in", "3 in")


def test_a_bare_number_of_a_preset_keeps_the_unit_of_its_boat(folder, call):
    said = call("facets", *folder(PRESETS), "--preset", "usual", "--units", "mm", "--json")
    assert json.loads(said.out)["inputs"]["width"]["value"] == pytest.approx(101.6, abs=1e-12)


def test_a_preset_of_one_spar_brings_it_along(inputs):
    found = inputs("roundover", *YAWL, "--preset", "bowsprit, 3/4 in bit in four passes", "--at", "2 ft 3 in")
    assert (found["stock"], found["bit_radius"], found["passes"]) == ("3 in", "3/4 in", "4")


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (("--boat", "saltmarsh-yaw"), "(did you mean 'saltmarsh-yawl'?)"),
        (("--boat", "../etc/passwd"), "'../etc/passwd'"),
        ((*YAWL, "--spar", "mizen mast"), "no spar is called 'mizen mast' (did you mean 'mizzen mast'?)"),
        ((*YAWL, "--preset", "rubber on the drum"), "--preset: facets has no preset 'rubber on the drum'"),
        ((*YAWL, "--preset", "mizzen at the partner"), "(did you mean 'mizzen at the partners, fine'?)"),
        ((*YAWL, "--spar", "boom", "--preset", "mizzen at the partners, fine"), "for the boom"),
        ((*MIZZEN, "--at", "12 ft"), "--at: 12 ft lies beyond the head of the mizzen mast, which is at 11 ft 3 in"),
        ((*MIZZEN, "--at", "-3"), "--at: -3 in lies before the heel"),
        ((*MIZZEN, "--at", "5 x"), "--at: 5 »x«: not a unit of length"),
        ((*YAWL, "--at", "5 ft"), "--at: needs a spar"),
        (YAWL, "--width: width across flats is needed, as 3-1/2 in, or a spar with --spar: main mast, gaff, boom"),
        (MIZZEN, "--width: width across flats is needed, as 3-1/2 in, or the station with --at"),
    ],
)
def test_what_the_boat_does_not_have_is_a_line(call, argv, words):
    said = call("facets", *argv)
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert words in said.err


def test_two_presets_of_a_name_want_the_spar(folder, call):
    said = call("facets", *folder(PRESETS), "--preset", "fine")
    assert (said.status, said.out) == (2, "")
    assert said.err == "shopcompanion: --preset: more than one spar has a preset 'fine': give --spar NAME as well\n"


def test_a_faulty_profile_still_answers_from_its_good_parts(folder, call):
    faulty = folder(ONE_SPAR + "[[spar]]\nname = 'yard'\nlength = '1 m'\nstations = 3\n[shop]\nkref = '3 mm'\n")
    said = call("facets", *faulty, "--spar", "sprit", "--at", "1 m")
    assert said.status == 0
    assert said.out.startswith("Facet at 8 sides: ")
    assert said.err == "shopcompanion: note: the profile has 3 faults; see shopcompanion check 'skiff'\n"
    said = call("facets", *faulty, "--spar", "yard", "--at", "1 m")
    assert (said.status, said.out) == (2, "")
    assert "the spar 'yard' is left out until this is mended: stations: 3 is not a list of rows" in said.err


def test_a_text_that_is_no_profile(folder, call):
    said = call("facets", *folder("[boat\n"), "--spar", "sprit")
    assert (said.status, said.out) == (2, "")
    assert said.err.splitlines()[0].endswith("the profile has a fault; see shopcompanion check 'skiff'")


def test_a_square_part_and_an_oval_are_told(call):
    said = call("facets", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--at", "1 ft").out
    assert "⚠ The spar stays square here, from the heel to 14 in: no lines, no rounding." in said.splitlines()
    assert "stays square" not in call("facets", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--at", "5 ft").out
    said = call("taper", "--boat", "fjord-lugger", "--spar", "boom", "--at", "1 m", "--json").out
    assert json.loads(said)["cautions"][0].startswith("This spar is oval")
