"""Changes to a profile's text: what was changed is changed, and every other byte is as it was."""

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Preset
from shopcompanion.profile_text.edit_boat import drop_preset, put_preset, rename_preset, set_boat

from ..storage.conftest import DEMOS, demo

YAWL = demo("saltmarsh-yawl")
NEW = Preset(calculator="drum", name="new one", spar="boom", inputs=(("drum", "4 in"), ("rpm", "900")))
HEAD = 'format = 1\nboat = {name = "x", units = "in"}\n'

# The same two presets, "a" for any spar and "b" for the boom, in ways that people write them.
LAYOUTS = {
    "rows": """
# about a
[[preset]]   # the first
  calculator = 'drum'
  name       = "a"
  inputs     = { drum = "4 in" ,  rpm='900' }   # as it was
# about b
[[preset]]
name = "b"
calculator = "drum"
spar = "boom"
inputs = {drum="5 in"}
""",
    "tables under rows": """
[[preset]]
calculator = "drum"
name = "a"
  [preset.inputs]
  # the small one
  drum = "4 in"    # measured
  rpm = "900"

# about b
[[preset]]
calculator = "drum"
name = "b"
spar = "boom"
inputs.drum = "5 in"
# and that is all
""",
    "rows with others between": """
[[preset]]
calculator = "drum"
name = "a"
inputs = { drum = "4 in", rpm = 900 }

# between
[shop]
kerf = "1/8 in"

[[ preset ]]  # [one more]
calculator = \"\"\"drum\"\"\"
name = '''b'''
spar = "boom"
"inputs" = { "drum" = "5 in" }
""",
    "an array of its own": """
preset = [ # all of them
    { calculator = "drum", name = "a", inputs = { drum = "4 in", rpm = "900" } },  # first
    { calculator = "drum", name = "b", spar = "boom", inputs = { drum = "5 in" } },
]
""",
    "dotted and awkward": """
shop.kerf = "1/8 in" # [[preset]] is no header here
[[preset]]
calculator="drum"
name="a"
inputs.rpm = "900"
inputs.drum = "4 in"
note = \"\"\"
[[preset]]
"not a row" \\\"""
\"\"\"
odd = [ '[', "]", ['''
[x]
'''] ]
[[preset]]
calculator="drum"
name="b"
spar="boom"
inputs.drum = "5 in"
""",
}
SPAR = """
[[spar]]
name = "boom"
length = "10 ft"
stations = [ {at = 0, width = "2 in"}, {at = "10 ft", width = "1-3/4 in"} ]
"""
WRITTEN = {name: HEAD + body + SPAR for name, body in LAYOUTS.items()}
STYLES = {
    "plain": lambda text: text,
    "foreign line ends": lambda text: text.replace("\n", "\r\n"),
    "marked": lambda text: "\ufeff" + text,
    "no last line end": lambda text: text.rstrip("\n"),
}


def lines_changed(before: str, after: str) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came, line ends and all."""
    from difflib import ndiff

    marked = list(ndiff(before.splitlines(keepends=True), after.splitlines(keepends=True)))
    return [line[2:] for line in marked if line[0] == "-"], [line[2:] for line in marked if line[0] == "+"]


def presets(text: str) -> dict[str, dict[str, str]]:
    return {preset.name: dict(preset.inputs) for preset in read(text).boat.presets}


@pytest.fixture(params=[(layout, style) for layout in LAYOUTS for style in STYLES], ids=" / ".join)
def written(request: pytest.FixtureRequest) -> str:
    layout, style = request.param
    text: str = STYLES[style](WRITTEN[layout])
    assert presets(text) == {"a": {"drum": "4 in", "rpm": "900"}, "b": {"drum": "5 in"}}
    return text


def test_one_leaf_changes_one_line(written: str) -> None:
    changed = put_preset(written, Preset(calculator="drum", name="b", spar="boom", inputs=(("drum", "5-1/2 in"),)))
    assert presets(changed) == {"a": {"drum": "4 in", "rpm": "900"}, "b": {"drum": "5-1/2 in"}}
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) == 1
    assert come[0] == gone[0].replace("5 in", "5-1/2 in")


def test_inputs_come_and_go(written: str) -> None:
    changed = put_preset(written, Preset(calculator="drum", name="A", inputs=(("drum", "4 in"), ("grip_ratio", "2"))))
    assert presets(changed) == {"A": {"drum": "4 in", "grip_ratio": "2"}, "b": {"drum": "5 in"}}
    gone, come = lines_changed(written, changed)
    assert all(any(word in line for word in ("rpm", "name", "grip_ratio", "inputs")) for line in gone + come)
    if "\r\n" in written:
        assert "\n" not in changed.replace("\r\n", "")
    back = put_preset(changed, Preset(calculator="drum", name="a", inputs=(("drum", "4 in"), ("rpm", "900"))))
    assert presets(back) == presets(written)


def test_the_same_again_changes_nothing(written: str) -> None:
    assert put_preset(written, Preset(calculator="drum", name="b", spar="BOOM", inputs=(("drum", "5 in"),))) == written


def test_a_new_preset_only_adds_and_dropping_it_gives_the_same_text_back(written: str) -> None:
    changed = put_preset(written, NEW)
    assert presets(changed) == {**presets(written), "new one": {"drum": "4 in", "rpm": "900"}}
    gone, come = lines_changed(written, changed)
    assert come
    assert gone == ([] if written.endswith("\n") or changed.startswith(written) else gone[-1:])
    back = drop_preset(changed, "drum", "NEW  one", "boom")
    assert back == written or (not written.endswith("\n") and back == written + "\n")


def test_dropping_takes_only_the_presets_own_lines(written: str) -> None:
    changed = drop_preset(written, "drum", "a", None)
    assert presets(changed) == {"b": {"drum": "5 in"}}
    _, come = lines_changed(written, changed)
    assert come == []
    for comment in ("# about b", "# between", "# and that is all", "# about a"):
        assert (comment in changed) == (comment in written)
    empty = drop_preset(changed, "drum", "b", "boom")
    assert presets(empty) == {}
    assert presets(put_preset(empty, NEW)) == {"new one": {"drum": "4 in", "rpm": "900"}}


def test_renaming_changes_the_name_alone(written: str) -> None:
    changed = rename_preset(written, "drum", "a", None, 'it\'s "c"')
    assert list(presets(changed)) == ['it\'s "c"', "b"]
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) == 1


def test_the_boats_name_and_rule_change_alone(written: str) -> None:
    changed = set_boat(set_boat(written, "name", 'Grebe "II" é'), "rule", "1/8 in")
    assert read(changed).boat.name == 'Grebe "II" é'
    assert str(read(changed).boat.rule) == "1/8 in"
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) == 1
    assert "boat" in gone[0]


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=20)


@given(st.sampled_from(DEMOS), WORDS, st.dictionaries(st.sampled_from(["drum", "belt_length"]), st.integers(1, 9)))
def test_any_name_goes_in_and_comes_back(name: str, called: str, inputs: dict[str, int]) -> None:
    text = demo(name)
    preset = Preset(calculator="drum", name=called, inputs=tuple((key, f"{n} in") for key, n in inputs.items()))
    changed = put_preset(text, preset)
    assert preset in read(changed).boat.presets
    assert read(changed).boat.spars == read(text).boat.spars
    assert drop_preset(changed, "drum", called, None) == text


JUNK = ["# a remark: [[preset]]\n", "\n", "   \n", "\t# 'quoted\n", '# """ and more\n']


@given(
    st.sampled_from(DEMOS), st.lists(st.tuples(st.integers(0, 200), st.sampled_from(JUNK)), max_size=8), st.booleans()
)
def test_remarks_and_spacing_anywhere_stay(name: str, junk: list[tuple[int, str]], foreign: bool) -> None:
    lines = demo(name).splitlines(keepends=True)
    for at, line in junk:
        lines.insert(at % (len(lines) + 1), line)
    text = "".join(lines)
    text = text.replace("\n", "\r\n") if foreign else text
    before = read(text)
    assert before.faults == ()
    preset = before.boat.presets[0]
    key, _ = preset.inputs[0]
    other = Preset(
        calculator=preset.calculator, name=preset.name, spar=preset.spar, inputs=((key, "6 in"), *preset.inputs[1:])
    )
    changed = put_preset(text, other)
    gone, come = lines_changed(text, changed)
    assert len(gone) == len(come) == 1
    assert come[0].replace('"6 in"', "") == gone[0].replace(f'"{preset.inputs[0][1]}"', "", 1)
    assert drop_preset(put_preset(text, NEW_FOR_ALL), "drum", NEW_FOR_ALL.name, None) == text


NEW_FOR_ALL = Preset(calculator="drum", name="new for all", inputs=(("drum", "4 in"),))


@pytest.mark.parametrize(
    ("preset", "reason"),
    [
        (Preset(calculator="drum", name="x", spar="bom"), "spar: no spar is called 'bom'"),
        (Preset(calculator="drumm", name="x"), "calculator: 'drumm' is none of"),
        (Preset(calculator="drum", name=""), "name: empty"),
        (Preset(calculator="drum", name="a\x1b[2J"), "name: .* characters that cannot be shown"),
        (Preset(calculator="drum", name="x" * 81), "name: longer than 80"),
        (Preset(calculator="drum", name="x", inputs=(("drm", "4"),)), "drm: drum has no such input"),
        (Preset(calculator="drum", name="x", inputs=(("drum", "3/0"),)), "drum: .* zero below the line"),
    ],
)
def test_a_preset_that_would_not_read_is_refused(preset: Preset, reason: str) -> None:
    with pytest.raises(InputFault, match=reason):
        put_preset(YAWL, preset)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (lambda: put_preset("a = [", NEW), "is not valid TOML, mend it first"),
        (lambda: put_preset("format = 9\n", NEW), "newer companion"),
        (lambda: put_preset("preset = 3\n", NEW), "'preset' in the file is not a list of tables"),
        (lambda: set_boat("boat = []\n", "name", "x"), "'boat' in the file is not a table"),
        (lambda: drop_preset(YAWL, "drum", "no such", None), "no preset called 'no such' for drum"),
        (lambda: rename_preset(WRITTEN["rows"], "drum", "zz", None, "a"), "no preset called"),
        (lambda: rename_preset(WRITTEN["rows"], "drum", "a", None, ""), "name: empty"),
        (lambda: set_boat(YAWL, "name", "a\nb"), "name: .* cannot be shown"),
        (lambda: set_boat(YAWL, "units", "ft"), "units: 'ft' is none of in, mm"),
        (lambda: set_boat(YAWL, "rule", "0.5 mm"), "rule: a rule in mm, and the boat is in in"),
        (lambda: set_boat(YAWL, "rule", "1/7 in"), "no rule is divided"),
        (lambda: set_boat(YAWL, "colour", "red"), "'colour' is none of name, units, rule"),
        (lambda: set_boat(WRITTEN["rows"].replace('"2 in"', "2"), "units", "mm"), "bare numbers"),
    ],
)  # fmt: skip
def test_what_cannot_be_changed_is_refused_in_one_line(change: Any, reason: str) -> None:
    with pytest.raises(InputFault, match=reason) as refused:
        change()
    assert str(refused.value).isprintable()


def test_a_name_that_is_taken_is_refused() -> None:
    text = put_preset(WRITTEN["rows"], Preset(calculator="drum", name="c"))
    with pytest.raises(InputFault, match="already a preset called 'A'"):
        rename_preset(text, "drum", "c", None, "A")


def test_other_units_take_the_rule_along_and_change_no_length() -> None:
    changed = set_boat(YAWL, "units", "mm")
    before, after = read(YAWL).boat, read(changed).boat
    assert after.units == after.rule.unit == "mm"
    assert after.spars == before.spars
    assert after.presets == before.presets
    assert lines_changed(YAWL, changed)[1] == ['units = "mm"\n', 'rule = "0.5 mm"\n']


def test_a_boat_without_its_table_gets_one() -> None:
    changed = set_boat("# mine\nformat = 1\n\n# the shop\n[shop]\n", "name", "Teal")
    assert tomllib.loads(changed) == {"format": 1, "boat": {"name": "Teal"}, "shop": {}}
    assert changed.startswith("# mine\nformat = 1\n")
    assert changed.endswith("\n# the shop\n[shop]\n")


def test_a_new_key_stands_in_its_table_before_what_is_said_of_the_next() -> None:
    text = '[boat]\nname = "Teal"\nunits = "in" # both\n\n# the shop\n[shop]\n'
    assert set_boat(text, "rule", "1/8 in") == text.replace("# both\n", '# both\nrule = "1/8 in"\n')


def test_unknown_keys_and_inputs_stay() -> None:
    text = HEAD + '[[preset]]\ncalculator = "drum"\nname = "a"\ncolour = "red"\ninputs = { drm = "1", drum = "4 in" }\n'
    changed = put_preset(text, Preset(calculator="drum", name="a", inputs=(("drum", "5 in"),)))
    assert changed == text.replace("4 in", "5 in")


def test_line_ends_of_a_text_that_has_both_are_not_touched() -> None:
    text = WRITTEN["rows"].replace("\n", "\r\n", 5)
    changed = put_preset(text, NEW)
    assert drop_preset(changed, "drum", NEW.name, NEW.spar) == text
