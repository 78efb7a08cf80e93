"""Every change, on files with faults: it is made, or refused by an InputFault of one line; nothing else comes out."""

from collections.abc import Callable, Iterator
from datetime import date

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.profile.records import Preset
from shopcompanion.profile_text import edit_boat, edit_fitting, edit_spar

HEAD = 'format = 1\n[boat]\nname = "T"\nunits = "in"\n'
SPAR = (
    '[[spar]]\nname = "mast"\nlength = "9 ft"\n'
    'stations = [{ at = "0", width = "3 in" }, { at = "9 ft", width = "2 in" }]\n'
)
PRESET = '[[preset]]\ncalculator = "drum"\nname = "x"\nspar = "mast"\n'
TEXTS = {
    "log without at": HEAD + SPAR + 'log = [{ widths = ["3 in", "3 in"] }]\n',
    "text in log": HEAD + SPAR + 'log = ["x"]\n',
    "log a text": HEAD + SPAR + 'log = "x"\n',
    "lists for texts": HEAD + SPAR + 'log = [{ at = ["x"], widths = "3" }]\n',
    "a table for widths": HEAD + SPAR + 'log = [{ at = "1 ft", widths = { a = 1 } }]\n',
    "bare numbers": HEAD + SPAR + "log = [{ at = 3, widths = [3, 3] }]\n",
    "booleans": HEAD + SPAR + "log = [{ at = true, girth = true }]\n",
    "not finite": HEAD + SPAR + "log = [{ at = nan, girth = inf }]\n",
    "dates": HEAD + SPAR + "log = [{ at = 2020-01-01, widths = [2020-01-01] }]\n",
    "two of a name": HEAD + SPAR + SPAR,
    "spar a text": HEAD.replace("format", 'spar = "x"\nformat'),
    "a text among spars": 'spar = ["x"]\n' + HEAD,
    "spar a table": HEAD + '[spar]\nname = "mast"\n',
    "stations a text": HEAD + SPAR[: SPAR.index("stations")] + 'stations = "x"\n',
    "a text among stations": HEAD + SPAR.replace('{ at = "0", width = "3 in" }', '"x"'),
    "done a table": HEAD + SPAR + "done = { a = 1 }\n",
    "done numbers": HEAD + SPAR + "done = [1]\n",
    "a text among fittings": HEAD + SPAR + 'fittings = ["x", { at = "1 ft", kind = "eye" }]\n',
    "a table for at": HEAD + SPAR + "fittings = [{ at = { a = 1 }, kind = 3 }]\n",
    "name a number": HEAD + SPAR.replace('"mast"', "3"),
    "preset a text": 'preset = "x"\n' + HEAD + SPAR,
    "texts among presets": 'preset = ["x", 1]\n' + HEAD + SPAR,
    "boat a text": 'format = 1\nboat = "x"\n' + SPAR,
    "no boat": "format = 1\n" + SPAR,
    "a list for section": HEAD + SPAR + 'section = ["oval"]\n',
    "lists in joints": HEAD + SPAR + 'joints = [[{ at = "1 ft" }]]\n',
    "inputs a text": HEAD + SPAR + PRESET + 'inputs = "x"\n',
    "inputs a list": HEAD + SPAR + PRESET + "inputs = [1]\n",
    "preset name a number": HEAD + SPAR + PRESET.replace('"x"', "3"),
    "dotted": HEAD + SPAR + "log.x = 1\n",
    "a long number": HEAD + SPAR + f"bow = {'9' * 50}\n",
    "not TOML": "[[[",
    "empty": "",
}
ROWS = ("stations", "regions", "joints", "fittings", "log")
DAY = date(2026, 5, 2)


def changes() -> Iterator[Callable[[str], object]]:
    for key in ROWS:
        yield lambda text, key=key: edit_spar.rows(text, "mast", key)  # type: ignore[misc]
        yield lambda text, key=key: edit_spar.set_rows(text, "mast", key, [], "in")  # type: ignore[misc]
        yield lambda text, key=key: edit_spar.set_rows(  # type: ignore[misc]
            text, "mast", key, [*edit_spar.rows(text, "mast", key), {"at": "2 ft", "kind": "eye"}], "in"
        )
    yield lambda text: edit_spar.add_spar(text, "new", length="3 ft", butt="1", head="1", unit="in")
    yield lambda text: edit_spar.copy_spar(text, "mast", "new")
    yield lambda text: edit_spar.rename_spar(text, "mast", "new")
    yield lambda text: edit_spar.drop_spar(text, "mast")
    for key, value in (
        ("length", "10 ft"),
        ("section", "oval"),
        ("law", "steel 1794 yard"),
        ("bow", None),
        ("name", "new"),
    ):
        yield lambda text, key=key, value=value: edit_spar.set_key(text, "mast", key, value, "in")  # type: ignore[misc]
    for on in (True, False):
        yield lambda text, on=on: edit_spar.tick(text, "mast", "sand", on)  # type: ignore[misc]
    yield lambda text: edit_spar.put_measure(text, "mast", "1 ft", ["3 in", "3 in"], None, when=DAY, unit="in")
    yield lambda text: edit_spar.retarget(text, "mast", [(0.0, 70.0)], [(0.0, 60.0)])
    yield lambda text: edit_fitting.add_fitting(text, "mast", {"at": "1 ft", "kind": "eye"}, "in")
    for inputs in ((), (("drum", "4 in"),)):
        for spar in (None, "mast"):
            preset = Preset(calculator="drum", name="x", spar=spar, inputs=inputs)
            yield lambda text, preset=preset: edit_boat.put_preset(text, preset)  # type: ignore[misc]
    yield lambda text: edit_boat.drop_preset(text, "drum", "x", "mast")
    yield lambda text: edit_boat.rename_preset(text, "drum", "x", "mast", "y")
    for key, value in (("name", "Z"), ("units", "mm"), ("rule", "1/64 in")):
        yield lambda text, key=key, value=value: edit_boat.set_boat(text, key, value)  # type: ignore[misc]


@pytest.mark.parametrize("text", TEXTS.values(), ids=list(TEXTS))
def test_a_change_to_a_faulty_file_is_made_or_refused_in_one_line(text: str) -> None:
    refused = []
    for change in changes():
        try:
            change(text)
        except InputFault as fault:
            refused.append(str(fault))
    assert all(line.isprintable() for line in refused)
