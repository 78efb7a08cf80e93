"""What the tests of the app share: places of their own, the app at any size, real keys, and the screen as text."""

import os
import shutil
import stat
import tomllib
from asyncio import wrap_future
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from functools import partial
from pathlib import Path
from time import monotonic
from typing import Any

import pytest
from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.form import fill, solve
from shopcompanion.lengths import DEFAULT_RULES, Rule, read
from shopcompanion.profile.follow import follow
from shopcompanion.profile.records import Spar
from shopcompanion.storage.store import Listing, Places, find, listings, open_boat, places
from shopcompanion.tui.app import Companion
from shopcompanion.tui.config import Config, read_config
from shopcompanion.tui.pages import answers, headline
from shopcompanion.tui.session import Session, ShownCalculator

NORMAL, WIDE, SMALL = (80, 24), (120, 40), (60, 20)
UNDONE = ("layout_required", "repaint_required", "scroll_required", "recompose_required", "dirty_widgets", "callbacks")
CHARACTERS = {
    "less_than_sign": "<",
    "greater_than_sign": ">",
    "question_mark": "?",
    "exclamation_mark": "!",
    "vertical_line": "|",
    "tab": "\t",
    "enter": "\r",
}
YAWL, LUGGER = "saltmarsh-yawl", "fjord-lugger"
INCH, FOOT = 25.4, 304.8


class Desk:
    """The running app under a pair of hands: keys in, the screen out."""

    def __init__(self, app: Companion, pilot: Pilot[None]) -> None:
        self.app, self.pilot = app, pilot

    @property
    def session(self) -> Session:
        return self.app.session

    async def press(self, *keys: str) -> None:
        """Press keys, by their names or as single characters, all in one go as fast fingers do; then let it settle."""
        for key in keys:
            name = _character_to_key(key) if len(key) == 1 else key
            event = events.Key(name, key if len(key) == 1 else CHARACTERS.get(name))
            event.set_sender(self.app)
            self.app.post_message(event)
        await self.settle()

    async def settle(self) -> None:
        """Wait until nothing is left to be done or painted."""
        quiet, end = 0, monotonic() + 20
        while quiet < 2 and self.app.is_running:
            assert monotonic() < end, "the app does not come to rest"
            await self.pilot._wait_for_screen()
            await self.app.animator.wait_until_complete()
            screen = self.app.screen
            screen._on_timer_update()
            pumps = [self.app, *self.app.screen_stack, *screen.walk_children()]
            finder = getattr(self.app, "finder", None)
            busy = (finder is not None and finder.looking) or any(
                pump.message_queue_size or pump._next_callbacks for pump in pumps
            )
            left = any(getattr(screen, f"_{what}") for what in UNDONE)
            quiet = 0 if busy or left else quiet + 1

    async def answered(self) -> None:
        """Wait until a slow answer, which is worked out beside the keys, stands on the screen."""
        await self.settle()
        end = monotonic() + 60
        while (shown := self.app.bench.view.shown) is not None and shown.pending is not None:
            assert monotonic() < end, "the answer does not come"
            if self.app.bench.work:
                await wrap_future(self.app.bench.work)
            await self.settle()

    async def write(self, text: str, *keys: str) -> None:
        """Type a text letter by letter, then press keys."""
        await self.press(*text, *keys)

    async def paste(self, text: str) -> None:
        self.app.post_message(events.Paste(text))
        await self.settle()

    async def find(self, words: str) -> None:
        """Go somewhere by the finder."""
        await self.write_in("ctrl+f", words)

    async def write_in(self, key: str, words: str) -> None:
        """Open a small screen by its key, write in it and finish, without a look in between."""
        await self.press(key, *words, "enter")

    @property
    def lines(self) -> list[str]:
        """The screen as it is painted, a line for every row, without the blanks at the ends."""
        return [line.rstrip() for line in painted(self.app)]

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    @property
    def told(self) -> list[str]:
        """What was told at the corner, the newest last."""
        return list(self.app.teller.told)

    async def quiet(self) -> None:
        """Take the message at the foot away, as time does."""
        self.app.teller.silence()
        await self.settle()

    def sign(self, label: str) -> str:
        """The sign that stands beside the field called `label`."""
        return dict(zip(self.part("#labels").splitlines(), self.part("#notes").splitlines(), strict=True))[label][0]

    def said(self, selector: str) -> str:
        """What a piece says as running words, wherever its lines are broken."""
        return " ".join(self.part(selector).split())

    def part(self, selector: str) -> str:
        """What one of the bench's plain pieces says, whole, whether or not it is scrolled into view."""
        return str(self.app.bench.parts[selector.removeprefix("#")])

    @property
    def field(self) -> str:
        """The name of the input that has the cursor."""
        view = self.app.bench.view
        return "" if view.hides_form(self.app.size.width) else view.form.fields[view.form.in_hand].name

    def values(self) -> dict[str, str]:
        """What is typed in every field of the form on the screen, by input."""
        view = self.app.bench.view
        return {
            field.name: edit.text for field, edit in zip(view.form.fields, view.form.edits, strict=True) if edit.text
        }


def painted(app: Companion) -> list[str]:
    """The rows of the screen as a terminal would show them, with what lies under a small screen."""
    compositor = app.screen._compositor
    update = compositor.render_update(full=True, screen_stack=app._background_screens)
    return ["".join(segment.text for segment in strip) for strip in update.strips]  # type: ignore[union-attr]


Opener = Callable[..., AbstractAsyncContextManager[Desk]]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Places:
    """Places of the test's own; the user's config and boats are not looked at."""
    monkeypatch.setenv("SHOPCOMPANION_CONFIG", str(tmp_path / "config.toml"))
    monkeypatch.setenv("SHOPCOMPANION_PROFILES", str(tmp_path / "boats"))
    return places(str(tmp_path / "boats"))


@asynccontextmanager
async def opened(
    home: Places,
    boat: str | Listing | None = YAWL,
    *,
    spar: str | None = "mizzen mast",
    at: str | None = "5 ft",
    size: tuple[int, int] = NORMAL,
    config: Config | None = None,
    corner: bool = False,
) -> AsyncIterator[Desk]:
    """The app on a boat, a spar and a station; with `corner`, what is told is on the screen as well."""
    listing = find(home, boat) if isinstance(boat, str) else boat
    config = config or read_config("")
    config = config if config.theme else config._replace(theme="lamplight")  # whatever colours the tests' terminal has
    app = Companion(home, listing, spar if boat is not None else None, config)
    app.animation_level = "none"
    async with app.run_test(size=size, notifications=corner) as pilot:
        if at is not None and app.session.spar is not None:
            app.session.go_to(float(read(at, "in")))
            app.bench.redraw()
        it = Desk(app, pilot)
        await it.settle()
        yield it


@pytest.fixture
def desk(home: Places) -> Opener:
    """`async with desk(...) as it`: the app in this test's own places."""
    return partial(opened, home)


def own_copy(home: Places, name: str = YAWL, text: str | None = None) -> Path:
    """A boat of one's own called as a demo boat, with its text or another one."""
    home.profiles.mkdir(parents=True, exist_ok=True)
    path = home.profiles / f"{name}.toml"
    if text is None:
        shutil.copyfile(home.examples / f"{name}.toml", path)
    else:
        path.write_bytes(text.encode())
    return path


def example(home: Places, name: str = YAWL) -> Listing:
    return next(listing for listing in listings(home) if listing.name == name and listing.is_example)


def session_on(home: Places, name: str = YAWL, spar: str = "mizzen mast", at: float = 5 * FOOT) -> Session:
    """A session, without a screen, on a demo boat."""
    session = Session()
    session.open(open_boat(example(home, name)))
    session.choose_spar(spar)
    session.go_to(at)
    return session


@pytest.fixture
def session(home: Places) -> Session:
    """On the mizzen mast of the yawl, 5 ft from the heel."""
    return session_on(home)


def spar_of(session: Session) -> Spar:
    assert session.spar is not None
    return session.spar


def value(session: Session, name: str) -> Any:
    """What an input of the open calculator comes to."""
    return next(entry.value for entry in session.shown().form.entries if entry.field.name == name)


def inches(session: Session, name: str) -> float:
    return round(float(value(session, name)) / INCH, 9)


def answer(
    calculator: str, boat: dict[str, object] | None = None, rule: Rule = DEFAULT_RULES["in"], **texts: str
) -> Result:
    """What the calculator itself says to texts as they are typed, over what the boat gives."""
    result: Result = solve(load(calculator), texts, boat or {}, rule)  # type: ignore[arg-type]
    return result


def own_answers(it: Desk, calculator: str, **texts: str) -> str:
    """What the page should say: the calculator's answers to these texts on this spar, by the rule in force."""
    session = it.session
    boat = dict(follow(session.boat, session.spar, session.at))
    result = answer(calculator, boat, session.rule, **texts)
    shown = ShownCalculator(load(calculator), fill(load(calculator), texts, boat, session.rule), result, ())
    view = it.app.bench.view
    return f"{headline(shown, view.answers_width, view.few)}\n{answers(shown, view.answers_width)}"


THEIRS = '\n[[preset]]\ncalculator = "taper"\nname = "theirs"\ninputs = { blank = "4 in" }\n'


async def keep_preset(it: Desk, name: str = "three", text: str = "3") -> None:
    """An unsaved change of the boat: a preset of facets."""
    await it.press("ctrl+u", *text, "ctrl+p", "enter", *name, "enter")
    assert it.session.unsaved


def preset_names(path: Path) -> list[str]:
    return [preset["name"] for preset in tomllib.loads(path.read_text(encoding="utf-8")).get("preset", [])]


def failing(call: str, number: int) -> Callable[..., Any]:
    """A call of the system that fails so wherever a file is to be written."""
    real = getattr(os, call)

    def act(*given: Any, **named: Any) -> Any:
        if call == "open":
            writes = len(given) > 1 and bool(given[1] & os.O_CREAT)
        else:
            writes = call != "fsync" or stat.S_ISREG(os.fstat(given[0]).st_mode)
        if writes:
            raise OSError(number, os.strerror(number))
        return real(*given, **named)

    return act
