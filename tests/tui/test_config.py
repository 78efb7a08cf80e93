"""The user's config file: what is sound in it counts, and every fault is told and left out."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.tui.config import config_path, load_config, read_config

from .conftest import Opener

PLAIN = read_config("")


def test_without_a_file_our_own_choices(tmp_path: Path) -> None:
    assert load_config(tmp_path / "none.toml") == PLAIN
    assert (PLAIN.theme, PLAIN.ascii_only, PLAIN.faults) == ("", False, ())


def test_a_file_with_everything_in_it(tmp_path: Path) -> None:
    path = tmp_path / "config.toml"
    path.write_text('theme = "daylight"\ndrawing = "ascii"\n[keys]\nsave = "f2"\n', encoding="utf-8")
    config = load_config(path)
    assert (config.theme, config.ascii_only, config.keys["save"], config.faults) == ("daylight", True, "f2", ())


def test_the_file_is_where_the_environment_says(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SHOPCOMPANION_CONFIG", str(tmp_path / "mine.toml"))
    assert config_path() == tmp_path / "mine.toml"
    monkeypatch.delenv("SHOPCOMPANION_CONFIG")
    assert config_path().name == "config.toml"
    assert config_path().parent.name == "shopcompanion"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('them = "daylight"', "them: no such setting (did you mean 'theme'?)"),
        ('theme = "midnight"', "theme: 'midnight' is not one of lamplight, daylight, sixteen"),
        ("theme = 3", "theme: this is not one of lamplight, daylight, sixteen"),
        ("theme = []", "theme: this is not one of lamplight, daylight, sixteen"),
        ('theme = "\\u001b[31m"', "theme: '\ufffd[31m' is not one of lamplight, daylight, sixteen"),
        ('drawing = "dots"', "drawing: 'dots' is not one of braille, ascii"),
        ('keys = "f2"', 'keys: must be a table: [keys], and under it save = "f2"'),
        ('"a\\u001b[0m" = 1', "a\ufffd[0m: no such setting"),
        ('[keys]\nsave = "ctrl+h"', "keys.save: 'ctrl+h' reaches the program as another key"),
    ],
)
def test_a_fault_is_told_and_left_out(text: str, said: str) -> None:
    config = read_config(text)
    assert [str(fault) for fault in config.faults] == [said]
    assert (config.theme, config.ascii_only, config.keys) == (PLAIN.theme, PLAIN.ascii_only, PLAIN.keys)


def test_what_is_sound_counts_beside_what_is_not() -> None:
    config = read_config('theme = "daylight"\ndrawing = "dots"\n[keys]\nsave = "f2"\nsav = "f3"\n')
    assert (config.theme, config.keys["save"]) == ("daylight", "f2")
    assert len(config.faults) == 2


def test_a_file_that_is_no_toml_says_where(tmp_path: Path) -> None:
    path = tmp_path / "config.toml"
    path.write_text("theme = daylight\n", encoding="utf-8")
    config = load_config(path)
    assert config.keys == PLAIN.keys
    (fault,) = config.faults
    assert str(fault).startswith(f"{path}: is not valid TOML: ")
    assert "line 1" in str(fault)


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (fault,) = load_config(tmp_path).faults
    assert str(fault) == f"could not read {tmp_path}: it is a folder"
    latin = tmp_path / "latin.toml"
    latin.write_bytes(b"theme = '\xe9'")
    (fault,) = load_config(latin).faults
    assert str(fault) == f"{latin} is not UTF-8 text (line 1)"


@given(
    st.text(max_size=60)
    | st.sampled_from(["[" * 5000, "a = " + "[" * 5000, "theme." * 3000 + "a = 1", f"theme = 0x{'f' * 9000}"])
)
def test_no_text_at_all_makes_it_raise(text: str) -> None:
    config = read_config(text)
    assert all(str(fault).isprintable() for fault in config.faults)
    assert config.theme in ("", "lamplight", "daylight", "sixteen")


async def test_faults_of_the_config_are_told_in_the_app(desk: Opener) -> None:
    async with desk(corner=True, config=read_config('theme = "midnight"\n[keys]\nsav = "f2"\n')) as it:
        assert it.told == [
            "in the config file: theme: 'midnight' is not one of lamplight, daylight, sixteen",
            "in the config file: keys.sav: no such action (did you mean 'save'?)",
        ]
        assert "keys.sav" in it.text


async def test_keys_of_the_config_work_and_stand_on_the_bar(desk: Opener) -> None:
    async with desk(config=read_config('[keys]\nsave = "f2"\nhelp = "f12"\n')) as it:
        bar = " ".join(it.lines[-2:])
        assert "F2 save" in bar
        assert "F12 help" in bar
        assert "^S" not in bar
        await it.press("ctrl+s")
        assert it.told == []
        await it.press("f2")
        assert it.told == ["saved as saltmarsh-yawl, a boat of your own"]


async def test_drawings_in_plain_characters(desk: Opener) -> None:
    async with desk(size=(120, 40), config=read_config('drawing = "ascii"')) as it:
        drawing = it.part("#side")
        assert not any("\u2800" <= letter <= "\u28ff" for letter in drawing)
        assert any(letter in drawing for letter in "/\\|-.+")
