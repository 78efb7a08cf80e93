"""Nothing that a profile or a folder is called reaches a terminal as a command to it, and no file is endless work."""

import os
import re
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from shopcompanion.profile.parse import read
from shopcompanion.tui.config import load_config

RICH = (Path(__file__).parent / "rich.toml").read_text(encoding="utf-8")
EVIL = "\x1b]0;owned\x07\x9b31m\u202e"
OBEYED = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u202a-\u202e]")
SPARS = ("mast", "gaff", "bowsprit")


def poisoned(data: Any, keep: tuple[str, ...] = ()) -> Any:
    """The same with an escape sequence at the end of every text, but for those of the keys in `keep`."""
    if isinstance(data, dict):
        return {key: value if key in keep else poisoned(value, keep) for key, value in data.items()}
    if isinstance(data, list):
        return [poisoned(one, keep) for one in data]
    return data + EVIL if isinstance(data, str) else data


SOUND = ("calculator", "kind", "law", "section", "units", "rule", "per", "currency", "price", "face", "lengths", "at")
TEXTS = {
    "every text": tomli_w.dumps(poisoned(tomllib.loads(RICH))),
    "names": tomli_w.dumps(poisoned(tomllib.loads(RICH), (*SOUND, "width", "length", "thickness", "stations"))),
    "keys": tomli_w.dumps({**tomllib.loads(RICH), f"key{EVIL}": 1}),
    "not a profile": RICH + EVIL,
    "a comment": RICH + "# \x9b31m \u202e\n",
}


@pytest.mark.parametrize("text", TEXTS.values(), ids=list(TEXTS))
@pytest.mark.usefixtures("searched_once")
def test_no_command_passes_a_control_character_on(call, tmp_path, text):
    (tmp_path / "boat.toml").write_text(text, encoding="utf-8")
    place = ("--profiles", str(tmp_path))
    asked = [
        ("list",), ("check", "boat"), ("check", "boat", "--json"), ("show", "boat"), ("show", "boat", "--toml"),
        ("show", "boat", "--json"), ("species", "--boat", "boat"), ("species", "--boat", "boat", "--json"),
        ("card", "--boat", "boat"), ("stock", "--boat", "boat", "--page"), ("stock", "--boat", "boat", "--json"),
        ("restore", "boat"), ("new", "Punt", "--like", "boat"),
        *(("weight", "--boat", "boat", "--spar", name) for name in SPARS),
        *(("weight", "--boat", "boat", "--spar", name + EVIL, "--json") for name in SPARS),
        ("drum", "--boat", "boat", "--preset", f"big drum{EVIL}"), ("facets", "--boat", f"boat{EVIL}"), (f"x{EVIL}",),
        ("facets", f"--x{EVIL}"), ("facets", "--width", f"3{EVIL}"),
    ]  # fmt: skip
    for argv in asked:
        said = call(
            *argv,
            *(place if argv[0] in ("list", "check", "show", "card", "stock", "species") or "--boat" in argv else ()),
        )
        assert not OBEYED.search(said.out), argv
        assert not OBEYED.search(said.err), argv


def test_a_place_with_such_a_name_is_shown_without_it(call, tmp_path):
    folder = tmp_path / f"b{EVIL}"
    for argv in (("new", "Punt"), ("where",), ("list",), ("show", "punt"), ("where", "--json")):
        said = call(*argv, "--profiles", str(folder))
        assert said.status == 0
        assert not OBEYED.search(said.out + said.err), argv


def test_toml_shown_means_what_the_file_means(call, tmp_path):
    (tmp_path / "boat.toml").write_text(
        RICH.replace('source = "weighed at home"', 'source = "\x85weighed"'), encoding="utf-8"
    )
    said = call("show", "boat", "--toml", "--profiles", str(tmp_path))
    assert tomllib.loads(said.out)["species"][0]["source"] == "\x85weighed"


@pytest.mark.parametrize(
    "key",
    ["x." * 10_000 + "y = 1", "[" + "a." * 10_000 + "b]", '"x" . ' * 10_000 + "y = 1"],
    ids=["key", "table", "quoted"],
)
def test_a_key_of_ten_thousand_words_is_told_at_once(call, tmp_path, key):
    """Its square would take seconds, at two hundred thousand minutes."""
    (tmp_path / "boat.toml").write_text(f"{RICH}\n{key}\n", encoding="utf-8")
    begun = time.process_time()
    said = call("check", "boat", "--profiles", str(tmp_path))
    assert (said.status, said.out) == (2, "")
    assert "a key of more than 60 words with dots between" in said.err
    assert time.process_time() - begun < 0.5


def test_long_words_without_dots_are_no_work():
    begun = time.process_time()
    assert read(f"{RICH}# {'x' * 2_000_000}\n").faults == ()
    assert time.process_time() - begun < 2


def test_a_config_that_is_no_file_or_endless_is_told(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path, reason in (
        (pipe, "is not a plain file"),
        (Path("/dev/zero"), "is not a plain file"),
        (tmp_path, "it is a folder"),
    ):
        (fault,) = load_config(path).faults
        assert reason in fault.reason
    big = tmp_path / "big.toml"
    with big.open("wb") as file:
        file.truncate(30_000_000)
    assert "larger than 20 MB" in load_config(big).faults[0].reason
    assert load_config(tmp_path / "none.toml").faults == ()


def test_a_working_directory_that_is_gone_is_one_line(call, tmp_path, monkeypatch):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    try:
        said = call("list", "--profiles", "boats")
        assert (said.status, said.out) == (1, "")
        assert said.err == "shopcompanion: could not find the working directory for boats: it is not there\n"
        assert call("facets", "--width", "3").status == 0
        assert call("facets", "--boat", "saltmarsh-yawl", "--spar", "boom", "--at", "1 ft").status == 0
    finally:
        os.chdir(tmp_path)


def test_a_name_of_three_hundred_letters_is_one_line(call, tmp_path):
    long = "x" * 300
    for argv, status in (
        (("restore", long), 2), (("restore", long, "--version", "1"), 2), (("check", long), 2),
        (("check", f"{long}.toml"), 1), (("show", long), 2), (("new", long), 2), (("card", "--boat", long), 2),
        (("list", "--profiles", str(tmp_path / long)), 1), (("new", "Punt", "--profiles", str(tmp_path / long)), 1),
    ):  # fmt: skip
        said = call(*argv)
        assert (said.status, said.out) == (status, ""), argv
        assert len(said.err.splitlines()) == 1, argv
        assert "unforeseen" not in said.err
