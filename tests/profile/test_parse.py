"""Reading a profile: the good parts are usable, every fault is listed, and no text at all makes it raise."""

import tomllib
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.calculator import FOLLOWS
from shopcompanion.errors import InputFault
from shopcompanion.lengths import RULES
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import LARGEST, Reading, read
from shopcompanion.profile.records import Boat

from ..storage.conftest import DEMOS, demo

HEAD = 'format = 1\n[boat]\nname = "Dabchick"\nunits = "in"\n'
SPAR = """
[[spar]]
name = "boom"
length = "10 ft"
stations = [{ at = "0", width = "2 in" }, { at = "4 ft", width = "2-1/2 in" }, { at = "10 ft", width = "1-3/4 in" }]
"""


def told(text: str) -> list[str]:
    return [str(fault) for fault in read(text).faults]


def spar(**changed: object) -> str:
    """The boom with some keys changed, or left out where the value is None."""
    row = {**tomllib.loads(SPAR)["spar"][0], **changed}
    kept = {key: value for key, value in row.items() if value is not None}
    return tomli_w.dumps({**tomllib.loads(HEAD), "spar": [kept]})


@pytest.mark.parametrize("name", DEMOS)
def test_the_demo_boats_have_no_fault(name: str) -> None:
    reading = read(demo(name))
    assert reading.faults == ()
    assert len(reading.boat.spars) >= 3
    assert reading.boat.presets


def test_the_mizzen_is_as_it_was_drawn() -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    mizzen = boat.spar("Mizzen  mast")
    assert mizzen.length == pytest.approx(135 * 25.4)
    assert [at for at, _ in mizzen.outline().stations] == pytest.approx([0, 609.6, 3429])
    assert [width for _, width in mizzen.outline().stations] == pytest.approx([63.5, 69.85, 44.45])
    assert [(joint.at, joint.kind) for joint in mizzen.joints] == [(pytest.approx(1524), "hinge")]
    assert mizzen.square_to == pytest.approx(14 * 25.4)
    assert str(boat.rule) == "1/32 in"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ["format: missing; write format = 1 at the top", "boat: missing; a profile has a table [boat]"]),
        ("format = 2\n" + HEAD[11:], ["format: written by a newer companion (format 2): this one knows format 1"]),
        ("format = true\n" + HEAD[11:], ["format: true is not a format"]),
        (
            HEAD.replace("units", "unitss"),
            ["boat, unitss: unknown key (did you mean 'units'?)", "boat, units: missing"],
        ),
        (HEAD + "rule = '1/33 in'", ["boat, rule: no rule is divided in '1/33 in'"]),
        (HEAD + "rule = '1 mm'", ["boat, rule: the rule is in millimetres, the boat in inches"]),
        (HEAD.replace("Dabchick", "Dab\\u001bchick"), ["boat, name: 'Dab�chick' has characters that cannot be shown"]),
        (HEAD + "[shp]", ["shp: unknown key (did you mean 'shop'?)"]),
        (HEAD + "[shop]\nkerf = true", ["shop, kerf: true will not do, try '3-1/2 in'"]),
        (HEAD + "[shop]\nkerf = '3 kg'", ["shop, kerf: 3 »kg«: this is a mass, not a length"]),
        (HEAD + "[shop]\ndrums = 4", ["shop, drums: 4 is not a list of rows"]),
        (HEAD + "[shop]\ndrums = [{}]", ["shop, drums 1, diameter: missing; for example diameter = '3-1/2 in'"]),
        (HEAD + "[shop]\nbits = [{ radius = 1979-05-27 }]", ["shop, bits 1, radius: a date or time will not do"]),
        (HEAD + "[shop]\nbelts = [{ length = 1e300 }]", ["shop, belts 1, length: 1e+300 is absurdly large"]),
        (HEAD + "[shop]\nbelts = [{ length = nan }]", ["shop, belts 1, length: nan is not a number"]),
        (HEAD + f"[shop]\nkerf = {'9' * 400}", ["shop, kerf: a number of many digits is absurdly large"]),
        (HEAD + "[spar]\nname = 'boom'", ["spar: a table is not a list of rows"]),
        (HEAD + "spar = 3".join(["", "\n"]), ["boat, spar: unknown key"]),
    ],
)
def test_a_fault_says_where_and_what(text: str, expected: list[str]) -> None:
    lines = told(text)
    assert len(lines) == len(expected), lines
    for line, begins in zip(lines, expected, strict=True):
        assert line.startswith(begins), line


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({"length": None}, "length: missing; for example length = '3-1/2 in'"),
        ({"length": "3/0"}, "length: 3/»0«: the fraction has a zero below the line"),
        ({"length": "9 ft"}, "stations 3, at: the station at 10 ft lies past the head, which is at 9 ft"),
        ({"length": "11 ft"}, "stations 3, at: the last station is at 10 ft, it must be at the head, 11 ft"),
        ({"length": "99999 km"}, "length: "),
        ({"stations": []}, "stations: none; give the width at 0, the heel, and at the head"),
        ({"stations": "2 in"}, "stations: '2 in' is not a list of rows"),
        ({"stations": [3, {"at": 0}]}, "stations 1: 3 is not a table"),
        ({"law": "boowed"}, "law: 'boowed' is none of straight, bowed, faired, steel 1794 yard, "),
        ({"law": "bowed", "stations": [{"at": 0, "width": 2}, {"at": 40, "width": 1.9}, {"at": 120, "width": 1}]},
         "stations 2, width: a bowed spar has stations only at its ends and where it has its full size, 2 in"),
        ({"section": "Round"}, "section: 'Round' is none of round, square"),
        ({"section": "oval"}, "stations 1, depth: missing; an oval needs a depth at every station"),
        ({"stations": [{"at": 0, "width": 2, "depth": 3}, {"at": 120, "width": 1}]},
         "stations 1, depth: only a spar whose section is oval has a depth"),
        ({"stations": [{"at": 1, "width": 2}, {"at": 120, "width": 1}]},
         "stations 1, at: the first station is at 1 in, it must be at 0, the heel"),
        ({"stations": [{"at": 0, "width": 2}, {"at": 60, "width": 2}, {"at": 60, "width": 1}, {"at": 120, "width": 1}]},
         "stations 3, at: the station at 5 ft stands after the one at 5 ft"),
        ({"stations": [{"at": 0, "width": 2}, {"at": 120, "width": -1}]},
         "stations 2, width: -1 in will not do, it must be more than 0 in"),
        ({"stations": [{"at": 0, "width": 2}, {"at": 120, "width": "200 ft"}]}, "stations 2, width: 200 ft"),
        ({"blank": "2-1/4 in"}, "blank: 2-1/4 in is less than the spar's thickest, 2-1/2 in"),
        ({"blank": ["3 in"]}, "blank: a list will not do"),
        ({"name": "\u202eboom"}, "name: '�boom' has characters that cannot be shown"),
        ({"name": 7}, "name: 7 is not text; write it in quotes"),
    ],
)  # fmt: skip
def test_a_spar_that_no_sum_can_be_built_on_is_left_out_and_listed(changed: dict[str, Any], expected: str) -> None:
    text = spar(**changed)
    boat = read(text).boat
    lines = told(text)
    assert boat.spars == ()
    assert any(expected in line and line.startswith("spar 1") for line in lines), lines
    assert lines[-1].endswith("left out until this is mended")


@pytest.mark.parametrize(
    ("changed", "expected", "lost"),
    [
        ({"kind": "boon"}, "kind: 'boon' is none of mast", {"kind": "other"}),
        ({"species": 3}, "species: 3 is not text; write it in quotes", {"species": None}),
        ({"square_to": "11 ft"}, "square_to: 11 ft lies past the head, which is at 10 ft", {"square_to": None}),
        ({"joints": [{"at": "12 ft", "kind": "hinge"}, {"at": "1 ft", "kind": "hinge"}]},
         "joints 1: the hinge at 12 ft lies past the head", {}),
        ({"fittings": [{"at": "1 ft", "kind": "klete"}, {"at": "2 ft", "kind": "cleat"}]},
         "fittings 1, kind: 'klete' is none of", {}),
        ({"fittings": [{"at": "1 ft"}, {"at": "2 ft", "kind": "cleat"}]}, "fittings 1, kind: missing; for example", {}),
        ({"colour": "red"}, "colour: unknown key", {}),
    ],
)  # fmt: skip
def test_other_faults_cost_only_themselves(changed: dict[str, Any], expected: str, lost: dict[str, object]) -> None:
    text = spar(**changed)
    (line,) = told(text)
    assert expected in line
    kept = read(text).boat.spar("boom")
    assert kept.outline() == read(HEAD + SPAR).boat.spar("boom").outline()
    assert {key: getattr(kept, key) for key in lost} == lost
    assert len(kept.joints) == ("joints" in changed)
    assert len(kept.fittings) == ("fittings" in changed)


def test_all_faults_are_listed_at_once_and_the_rest_is_used() -> None:
    text = (
        HEAD.replace("format", "fromat")
        + "[shop]\nkref = '1/8 in'\nplaning = '1/8'\ndrums = [{ diameter = '4 in', rpm = 'fast' }]\n"
        + SPAR
        + SPAR.replace("boom", "BOOM")
        + SPAR.replace("boom", "gaff").replace("width", "widht")
        + "[[preset]]\ncalculator = 'drumm'\nname = 'a'\n"
        + "[[preset]]\ncalculator = 'drum'\nname = 'b'\nspar = 'bom'\n"
        + "[[preset]]\ncalculator = 'drum'\nname = 'c'\n"
        + "inputs = { drm = '4', drum = '4', rpm = '3/0', belt_length = 24 }\n"
    )
    lines = told(text)
    for part in (
        "fromat: unknown key (did you mean 'format'?)",
        "format: missing",
        "shop, kref: unknown key (did you mean 'kerf'?)",
        "shop, drums 1, rpm: fast is not a number",
        "spar 2 'BOOM', name: another spar has the same name",
        "spar 3 'gaff', stations 2, widht: unknown key (did you mean 'width'?)",
        "preset 1 'a', calculator: 'drumm' is none of",
        "preset 2 'b', spar: no spar is called 'bom' (did you mean 'boom'?)",
        "preset 3 'c', inputs, drm: drum has no such input (did you mean 'drum'?)",
        "preset 3 'c', inputs, rpm: 3/0 is not a number",
    ):
        assert any(line.startswith(part) for line in lines), (part, lines)
    boat = read(text).boat
    assert [spar.name for spar in boat.spars] == ["boom"]
    assert boat.shop.planing == pytest.approx(25.4 / 8)
    assert [(drum.diameter, drum.rpm) for drum in boat.shop.drums] == [(pytest.approx(101.6), None)]
    assert [(preset.name, preset.inputs) for preset in boat.presets] == [
        ("c", (("drum", "4 in"), ("rpm", "3/0"), ("belt_length", "24 in")))
    ]


@pytest.mark.parametrize(("units", "factor"), [("in", 25.4), ("mm", 1.0)])
def test_bare_numbers_take_the_boats_units(units: str, factor: float) -> None:
    boat = read(
        f'format = 1\nboat = {{ name = "x", units = "{units}" }}\nshop = {{ kerf = 1.5, planing = "1.5" }}'
    ).boat
    assert boat.shop.kerf == boat.shop.planing == pytest.approx(1.5 * factor)


def test_without_units_a_bare_number_is_no_length_but_a_named_one_is() -> None:
    text = "format = 1\n[boat]\nname = 'x'\n[shop]\nkerf = 3\nplaning = '3'\nbits = [{ radius = '19 mm' }]"
    reading = read(text)
    assert reading.boat.shop.kerf is None
    assert reading.boat.shop.planing is None
    assert reading.boat.shop.bits[0].radius == 19
    assert [fault.key for fault in reading.faults] == ["units", "kerf", "planing"]


def test_a_syntax_error_is_one_fault_with_its_line() -> None:
    (line,) = told("format = 1\n[boat\n")
    assert "line 2" in line
    assert read("format = 1\n[boat\n").boat == Boat()


def test_a_byte_order_mark_and_foreign_line_ends_do_not_matter() -> None:
    text = demo("saltmarsh-yawl")
    assert read("\ufeff" + text.replace("\n", "\r\n")) == read(text)


@pytest.mark.parametrize(
    "text",
    [
        "[" * 5000,
        "a = " + "[" * 5000 + "]" * 5000,
        "a = " + "{b=" * 3000,
        ".".join("a" * 5000) + " = 1",
        "a = 0x" + "f" * 100_000,
        "a = " + "1" * 5000,
        HEAD + "[shop]\nkerf = 0x" + "f" * 100_000,
        HEAD + "[shop]\nkerf = " + "1" * 4000,
        HEAD + "[[preset]]\ncalculator = 'drum'\nname = 'a'\ninputs = { drum = 0x" + "f" * 100_000 + " }",
        "\ud800",
        "a = '\ud800'",
        "x" * (LARGEST + 1),
        HEAD + "x = 1\n" + "".join(f"k{n} = 1\n" for n in range(3000)),
        HEAD + "[[spar]]\nstations = [" + "{}," * 1900 + "]",
        HEAD + "[[spar]]\nstations = [" + "{}," * 2100 + "]",
    ],
    ids=range(15),
)
def test_monstrous_texts_are_faults(text: str) -> None:
    assert_sound(read(text), at_least=1)


def assert_sound(reading: Reading, at_least: int = 0) -> None:
    """Whatever was read: every fault is one clear line, and what there is can be used."""
    assert len(reading.faults) >= at_least
    for fault in reading.faults:
        line = str(fault)
        assert line.isprintable()
        assert 0 < len(line) <= 400
    boat = reading.boat
    assert boat.rule in RULES
    assert boat.rule.unit == boat.units
    assert len({spar.name.casefold() for spar in boat.spars}) == len(boat.spars)
    for spar in boat.spars:
        assert boat.spar(spar.name) is spar
        outline = spar.outline()
        assert outline.length == spar.length
        assert 0 < spar.body().section_at(spar.length / 2).area <= (2 * spar.thickest) ** 2
        for at in (-1.0, 0.0, spar.length / 3, spar.length, spar.length + 1):
            followed = follow(boat, spar, at)
            assert set(followed) <= set(FOLLOWS)
            width = followed["spar.width_at"]
            assert isinstance(width, float)
            assert 0 < width <= spar.thickest
    for preset in boat.presets:
        assert preset.spar is None or preset.spar.isprintable()


@given(st.text())
def test_reading_any_text_is_total(text: str) -> None:
    assert_sound(read(text))
    assert_sound(read(HEAD + text))


PIECES = sorted(
    {'"', "'", "=", "[[spar]]", "[", "]", "{", "}", ",", "\n", "#", "0", "-", "in", "at", "true", "1e9", "\x00", "é"}
)


@given(st.sampled_from(DEMOS), st.data())
def test_reading_a_damaged_profile_is_total(name: str, data: st.DataObject) -> None:
    text = demo(name)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(text)))
        until = min(len(text), at + data.draw(st.integers(0, 30)))
        text = text[:at] + data.draw(st.sampled_from(["", *PIECES]) | st.text(max_size=5)) + text[until:]
    assert_sound(read(text))


LEAVES: st.SearchStrategy[Any] = (
    st.booleans() | st.integers(-(10**20), 10**20) | st.floats() | st.text(max_size=8) | st.dates()
    | st.sampled_from(["0", "5 ft", "-1 in", "1e9", "3-1/2", "bowed", "oval", "round", "drum", "boom", "1000 ft"])
    | st.sampled_from(["faired", "steel 1794 mast", "hollow", "square", "2026-05-02"])
)  # fmt: skip
VALUES = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
)


@given(st.sampled_from(DEMOS), st.data())
def test_reading_a_profile_with_wrong_values_is_total(name: str, data: st.DataObject) -> None:
    whole = tomllib.loads(demo(name))
    for _ in range(data.draw(st.integers(1, 4))):
        here: Any = whole
        while True:
            keys = sorted(here) if isinstance(here, dict) else list(range(len(here)))
            key = data.draw(st.sampled_from(keys))
            if isinstance(here[key], dict | list) and here[key] and data.draw(st.integers(0, 4)):
                here = here[key]
                continue
            here[key] = data.draw(VALUES)
            break
    assert_sound(read(tomli_w.dumps(whole)))


def test_a_spar_is_found_by_name_and_missed_with_the_nearest() -> None:
    boat = read(demo("fjord-lugger")).boat
    assert boat.spar(" YARD ").name == "yard"
    with pytest.raises(InputFault, match=r"no spar is called 'yarrd' \(did you mean 'yard'\?\)"):
        boat.spar("yarrd")
    with pytest.raises(InputFault, match="there are mast, yard, boom"):
        boat.spar("zzz\x1b")
    with pytest.raises(InputFault, match="none is in the profile"):
        Boat().spar("boom")
