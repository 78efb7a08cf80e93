"""What a change costs, counted and not timed: how much of the text is parsed again, and how many spars are read."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from shopcompanion.profile import toml
from shopcompanion.profile.parse import Reader, read
from shopcompanion.profile_text import edit_spar
from shopcompanion.storage import store
from shopcompanion.tui.session import Session

MANY = 200


def boat(spars: int, stations: int) -> str:
    """A boat of faired spars, each of as many stations, a foot apart."""
    rows = "".join(f'    {{ at = "{n} ft", width = "{3 + n % 2 / 64:.6g} in" }},\n' for n in range(stations))
    head = 'format = 1\n[boat]\nname = "Fleet"\nunits = "in"\n'
    law = f'length = "{stations - 1} ft"\nlaw = "faired"\nstations = [\n{rows}]\n'
    return head + "".join(f'\n[[spar]]\nname = "spar {n}"\n{law}' for n in range(spars))


@pytest.fixture
def parses(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """The lengths of the texts that are parsed, from a state that knows none."""
    lengths: list[int] = []
    loads = tomllib.loads

    def counted(text: str, **named: object) -> object:
        lengths.append(len(text))
        return loads(text, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(tomllib, "loads", counted)
    for cached in (toml.parsed, toml._part, read):
        cached.cache_clear()
    yield lengths
    for cached in (toml.parsed, toml._part, read):
        cached.cache_clear()


def test_opening_parses_once_and_an_enter_in_the_sheet_only_its_spar(
    tmp_path: Path, parses: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    places = store.places(str(tmp_path))
    text = boat(MANY, MANY)
    (tmp_path / "fleet.toml").write_text(text, encoding="utf-8")
    session = Session()
    session.open(store.open_boat(store.find(places, "fleet")))
    assert len(session.boat.spars) == MANY
    assert sum(parses) == len(text)
    parses.clear()
    spars = []
    made = Reader.spar

    def counted(self: Reader, *args: object) -> object:
        spars.append(args)
        return made(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(Reader, "spar", counted)
    rows = [dict(row) for row in edit_spar.rows(session.state.text, "spar 100", "stations")]
    rows[7]["width"] = "3-3/64 in"
    session.edit("width", lambda text: edit_spar.set_rows(text, "spar 100", "stations", rows, "in"))
    assert session.opened is not None
    store.recover_note(places, session.opened, session.state.text)
    assert session.boat.spar("spar 100").stations[7].width == pytest.approx(3.046875 * 25.4)
    assert len([size for size in parses if size]) == len(spars) == 1
    assert max(parses) < len(text) / (MANY - 1)


@pytest.mark.parametrize(
    "text",
    [
        'a = """\n[[spar]]\nname = "x"\n"""\n',
        "a = '''\n[[spar]]\n'''\n[[spar]]\nname = 1\n",
        "x = [\n[[1]],\n[[spar]]\n]\n".replace("spar", "2"),
        "[[spar]]\na = 1\n[shop]\nb = 2\n[[spar]]\na = 2\n[[preset]]\nc = 1\n[[spar]]\n[[preset]]\nc = 2\n",
        "[[spar]]\n[spar.x]\na = 1.50\n[[ spar ]] # again\nd = 2026-05-02\n",
        "[spar]\na = 1\n",
    ],
)
def test_a_text_parsed_by_its_spars_is_what_the_whole_is(text: str) -> None:
    assert toml.parsed(text) == tomllib.loads(text)


@pytest.mark.parametrize(
    "text",
    [
        "[shop]\na = 1\n[[spar]]\nb = 1\n[shop]\na = 2\n",
        "spar = [{ a = 1 }]\n[[spar]]\na = 1\n",
        "[[spar]]\na = 1\na = 2\n",
        "[spar]\na = 1\n[[spar]]\n",
        "[[spar]]\n[shop]\na = 1\n[[spar]]\n[shop.b]\nc = 1\n[shop.b]\n",
        "[[spar]]\nx = [\n[[spar]]\n",
    ],
)
def test_what_the_whole_refuses_is_refused_with_its_own_line(text: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as whole:
        tomllib.loads(text)
    with pytest.raises(tomllib.TOMLDecodeError) as parts:
        toml.parsed(text)
    assert str(parts.value) == str(whole.value)


def test_a_number_stays_as_it_is_written() -> None:
    data = toml.parsed("a = 1_000.50\n")
    assert (str(data["a"]), data["a"]) == ("1000.50", 1000.5)
