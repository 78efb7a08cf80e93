"""The boat's spars: choosing, adding, copying, renaming and dropping one."""

from collections.abc import Callable
from typing import Any

from ..errors import InputFault
from ..lengths import read
from ..spar.kinds import SPARS
from .changes import Changes
from .full_screens import FullScreens
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller


class Spars:
    """Lists the boat's spars, and adds, copies, renames, drops and opens one."""

    def __init__(
        self, session: Session, teller: Teller, screens: Screens, changes: Changes, full_screens: FullScreens
    ) -> None:
        self.session, self.teller, self.screens, self.changes = session, teller, screens, changes
        self.full_screens = full_screens

    def do_spars(self) -> None:
        """List the spars of the boat, to choose from and to change."""
        session = self.session
        if session.opened is None:
            self.teller.tell(f"no boat is open; {self.teller.key('boats')} opens or makes one", wrong=True)
            return
        spars = session.boat.spars
        if not spars:
            self.screens.home(self._new)
            return
        names = [spar.name for spar in spars]
        start = names.index(session.spar_name) if session.spar_name in names else 0
        choices = [PickerRow(spar.name, f"{spar.kind}, {spar.section}", spar.name) for spar in spars]
        choices.append(PickerRow("new spar …", "add one to this boat", ""))
        extra = {"ctrl+t": ("copy", "copy"), "ctrl+r": ("rename", "rename"), "ctrl+x": ("drop", "drop")}
        does = {"copy": self._copy, "rename": self._rename, "drop": self._drop}

        def picked(value: Any) -> None:
            if value == "":
                self._new()
            elif not isinstance(value, tuple):
                self.open(value)
            elif value[1]:
                does[value[0]](value[1])

        self.screens.pick(f"Spars of {session.boat.name}", choices, picked, extra=extra, start=start)

    def open(self, name: str) -> None:
        """Take up a spar; a screen of another one gives way to the same of this one."""
        again = self.screens.place if self.screens.place in ("sheet", "job") else ""
        if again == "sheet" and not getattr(self.screens.top, "of_spar", True):
            again = ""

        def there() -> None:
            self.session.choose_spar(name)
            self.screens.bench.renew()
            if again:
                self.full_screens.open(again)

        self.screens.home(there)

    def _new(self) -> None:
        """Ask name, length, and widths at heel and head, and add the spar; all else is set on its sheet."""
        from ..profile_text import edit_spar

        session = self.session
        unit = session.rule.unit
        answers: dict[str, str] = {}
        asked = (("length", "Its length"), ("butt", "Its width at the heel"), ("head", "Its width at the head"))

        def ask(step: int) -> None:
            if step == len(asked):
                name = answers["name"]
                kind = next((word for word in name.casefold().split() if word in SPARS), "other")
                self._edit(
                    f"new spar '{name}'", name, lambda text: edit_spar.add_spar(text, kind=kind, **answers, unit=unit)
                )
                self.teller.tell(
                    f"{name} is on the trestles; {self.teller.key('sheet')} has its joints, fittings and all else"
                )
                return
            key, title = asked[step]

            def check(text: str) -> None:
                if read(text, unit) <= 0:
                    raise InputFault("must be more than zero")

            def go(text: str) -> None:
                answers[key] = text
                ask(step + 1)

            self.screens.ask_line(f"{answers['name']}: {title}", check, go)

        def named(name: str) -> None:
            answers["name"] = name.strip()
            ask(0)

        self.screens.ask_line("Name of the new spar", self._free_name, named)

    def _free_name(self, name: str) -> None:
        self.session.check_name(name)
        if any(spar.name.casefold() == name.strip().casefold() for spar in self.session.boat.spars):
            raise InputFault("this boat already has a spar of that name; choose another")

    def _copy(self, name: str) -> None:
        from ..profile_text import edit_spar

        def go(new: str) -> None:
            called = new.strip()
            self._edit(f"copy of '{name}'", called, lambda text: edit_spar.copy_spar(text, name, called))

        self.screens.ask_line(f"Name of the copy of {name}", self._free_name, go)

    def _rename(self, name: str) -> None:
        from ..profile_text import edit_spar

        def go(new: str) -> None:
            self._edit(
                f"new name of '{name}'", new.strip(), lambda text: edit_spar.rename_spar(text, name, new.strip())
            )

        self.screens.ask_line(f"New name of {name}", self._free_name, go, name)

    def _drop(self, name: str) -> None:
        from ..profile_text import edit_spar

        self._edit(f"dropping '{name}'", "", lambda text: edit_spar.drop_spar(text, name))
        self.teller.tell(f"{name} dropped; {self.teller.key('undo')} brings it back")

    def _edit(self, what: str, then_open: str, change: Callable[[str], str]) -> None:
        self.session.edit(what, change)
        self.changes.keep()
        self.open(then_open or self.session.spar_name)
