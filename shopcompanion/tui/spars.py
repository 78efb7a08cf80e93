"""Choosing, adding, copying, renaming and dropping spars, and the sheet of one."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from .. import version
from ..catalog import load
from ..errors import InputFault
from ..lengths import read
from ..spar.kinds import SPARS
from .keyed import FullScreen
from .picker import Choice
from .session import Session

if TYPE_CHECKING:
    from .bench import Bench


class Spars:
    """The part of the app that is about the boat's spars."""

    session: Session
    bench: "Bench"
    tell: Callable[..., None]
    pick: Callable[..., Any]
    ask_line: Callable[..., None]
    push_screen: Callable[..., Any]
    change: Callable[[Callable[[], object]], None]
    check_name: Callable[[str], None]
    note_change: Callable[[], None]
    attempt: Callable[[Callable[[], object]], bool]
    _key_of: Callable[[str], str]
    home: Callable[[Callable[[], object]], None]
    screen: Any

    def action_spars(self) -> None:
        """The spars of the boat, to choose from and to change."""
        session = self.session
        if session.opened is None:
            self.tell("no boat is open", wrong=True)
            return
        spars = session.boat.spars
        if not spars:
            self.home(self._new_spar)
            return
        names = [spar.name for spar in spars]
        start = names.index(session.spar_name) if session.spar_name in names else 0
        choices = [Choice(spar.name, f"{spar.kind}, {spar.section}", spar.name) for spar in spars]
        choices.append(Choice("new spar …", "add one to this boat", ""))
        extra = {"ctrl+t": ("copy", "copy"), "ctrl+r": ("rename", "rename"), "ctrl+x": ("drop", "drop")}
        does = {"copy": self._copy_spar, "rename": self._rename_spar, "drop": self._drop_spar}

        def picked(value: Any) -> None:
            if value == "":
                self._new_spar()
            elif not isinstance(value, tuple):
                self.open_spar(value)
            elif value[1]:
                does[value[0]](value[1])

        self.pick(f"Spars of {session.boat.name}", choices, picked, extra=extra, start=start)

    def open_spar(self, name: str) -> None:
        """Take up a spar; a screen of another one gives way to the same of this one."""
        here = self.screen
        again = here.place if isinstance(here, FullScreen) and here.place in ("sheet", "job") else ""
        if again == "sheet" and not getattr(here, "of_spar", True):
            again = ""

        def there() -> None:
            self.session.choose_spar(name)
            self.bench.renew()
            if again:
                self._open_screen(again)

        self.home(there)

    def action_fit(self) -> None:
        """Ask what the fitting of the open calculator is for, and put it on the spar."""
        self.attempt(self._fit)

    def _fit(self) -> None:
        session = self.session
        if load(session.calculator).target is not None:
            told_of: list[str] = []
            from .adopt import adopt

            self.change(lambda: told_of.append(adopt(session)))
            keys = f"{self._key_of('undo')} takes it back, {self._key_of('save')} saves the boat"
            self.tell(f"{told_of[0]}; {keys}")
            return
        fittings = session.fittings()
        kind = "fitting" if fittings[0]["kind"] == "other" else str(fittings[0]["kind"])
        kind = kind if len(fittings) == 1 else f"{len(fittings)} {kind}s"

        def put(add: Callable[[str], str], text: str) -> None:
            told: list[str] = []
            self.change(lambda: told.append(add(text)))
            self.tell(f"{told[0]}; {self._key_of('undo')} takes it back, {self._key_of('save')} saves the boat")

        if joint := session.joint_wanted(fittings):

            def there(text: str) -> None:
                session.go_to(float(read(text, session.rule.unit)))

            at = session.places_of(fittings)
            self.ask_line(
                f"{session.spar_name} has no {joint} yet: where is it, from the heel?",
                there,
                lambda text: put(partial(session.add_joint_with_fittings, joint), text),
                at,
            )
            return

        def check(name: str) -> None:
            if name.strip():
                self.check_name(name)

        self.ask_line(
            f"{kind.capitalize()} at {session.places_of(fittings)}: what for? (may be left empty)",
            check,
            lambda name: put(session.add_fittings, name),
        )

    def _new_spar(self) -> None:
        """Name, length, heel and head make a spar; all else is set on its sheet."""
        from ..profile_text import edit_spar

        session = self.session
        unit = session.rule.unit
        answers: dict[str, str] = {}
        asked = (("length", "Its length"), ("butt", "Its width at the heel"), ("head", "Its width at the head"))

        def ask(step: int) -> None:
            if step == len(asked):
                name = answers["name"]
                kind = next((word for word in name.casefold().split() if word in SPARS), "other")
                self._edit_spars(
                    f"new spar '{name}'", name, lambda text: edit_spar.add_spar(text, kind=kind, **answers, unit=unit)
                )
                self.tell(f"{name} is on the trestles; {self._key_of('sheet')} has its joints, fittings and all else")
                return
            key, title = asked[step]

            def check(text: str) -> None:
                if read(text, unit) <= 0:
                    raise InputFault("it must be more than nothing")

            def go(text: str) -> None:
                answers[key] = text
                ask(step + 1)

            self.ask_line(f"{answers['name']}: {title}", check, go)

        def named(name: str) -> None:
            answers["name"] = name.strip()
            ask(0)

        self.ask_line("Name of the new spar", self._free_name, named)

    def _free_name(self, name: str) -> None:
        self.check_name(name)
        if any(spar.name.casefold() == name.strip().casefold() for spar in self.session.boat.spars):
            raise InputFault("this boat has a spar of that name")

    def _copy_spar(self, name: str) -> None:
        from ..profile_text import edit_spar

        def go(new: str) -> None:
            called = new.strip()
            self._edit_spars(f"copy of '{name}'", called, lambda text: edit_spar.copy_spar(text, name, called))

        self.ask_line(f"Name of the copy of {name}", self._free_name, go)

    def _rename_spar(self, name: str) -> None:
        from ..profile_text import edit_spar

        def go(new: str) -> None:
            self._edit_spars(
                f"new name of '{name}'", new.strip(), lambda text: edit_spar.rename_spar(text, name, new.strip())
            )

        self.ask_line(f"New name of {name}", self._free_name, go, name)

    def _drop_spar(self, name: str) -> None:
        from ..profile_text import edit_spar

        self._edit_spars(f"dropping '{name}'", "", lambda text: edit_spar.drop_spar(text, name))
        self.tell(f"{name} dropped; undo brings it back")

    def _edit_spars(self, what: str, then_open: str, change: Callable[[str], str]) -> None:
        self.session.edit(what, change)
        self.note_change()
        self.open_spar(then_open or self.session.spar_name)

    def action_sheet(self) -> None:
        """The spar's stations as a table: measured, to come off; and everything of the spar, to be changed."""
        self._on_the_spar("sheet")

    def action_job(self) -> None:
        """The steps of the spar in order, to be ticked off, and its card."""
        self._on_the_spar("job")

    def _on_the_spar(self, place: str) -> None:
        if self.session.spar is None:
            self.tell(f"no spar is chosen; {self._key_of('spars')} adds one", wrong=True)
            return
        self.home(lambda: self.attempt(lambda: self._open_screen(place)))

    def action_shop(self) -> None:
        """The shop, the timber, the yard, pieces and species of the boat, to be entered and changed."""
        if self.session.opened is None:
            self.tell(f"no boat is open; {self._key_of('boats')} opens or makes one", wrong=True)
            return
        self.home(lambda: self._open_screen("shop"))

    def _open_screen(self, place: str) -> None:
        """A screen over the bench; what was changed on it is on the bench afterwards."""
        from .job import Job
        from .sheet import Sheet

        makes: dict[str, Callable[[], Any]] = {
            "sheet": lambda: Sheet(self.session, self.note_change),
            "shop": lambda: Sheet(self.session, self.note_change, of_spar=False),
            "job": lambda: Job(self.session, self.note_change, version()),
        }
        self.push_screen(makes[place](), lambda _: self.bench.renew())
