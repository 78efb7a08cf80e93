"""The tally: answers that were notched, each in words with the spar and the station, kept with the boat.

A notch stays as it was cut: it says what it was of, and does not follow a spar that is changed later.
"""

from typing import Any

from ..calculator import Field
from ..errors import InputFault
from ..lengths import show
from .changes import Changes
from .paint import fitted
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller

MOST = 24  # notches of a tally
_LONGEST = 80  # characters of a notch, as a word of the profile has


class Tally:
    """Notches answers, lists the notches and clears them."""

    def __init__(self, session: Session, teller: Teller, screens: Screens, changes: Changes) -> None:
        self.session, self.teller, self.screens, self.changes = session, teller, screens, changes

    def do_notch(self) -> None:
        """Notch the answer in hand: the one that stands large. InputFault where none stands, and why."""
        self._cut(fields(self.session)[0])

    def _cut(self, field: Field) -> None:
        notch = words_of(self.session, field)
        if len(self.session.tally) >= MOST:
            raise InputFault(f"the tally has {MOST} notches, which is all it holds; {self._key()} clears them")
        self.changes.make(lambda: self.session.notch(notch))
        self.teller.tell(f"notched: {notch}; {self._key()} shows the tally")

    def _key(self) -> str:
        return self.teller.key("tally") or f"{self.teller.key('find')} tally"

    def do_tally(self) -> None:
        """All notches, the newest first, to be read and cleared; and every answer of the calculator, to be notched."""
        session = self.session
        notches = session.tally[::-1]
        choices = [PickerRow(notch.partition(": ")[2] or notch, notch.partition(": ")[0], notch) for notch in notches]
        try:
            answers = fields(session)
        except InputFault:  # told when one is to be notched
            answers = []
        result = session.shown().result
        for field in answers:
            said = field.kind.show(getattr(result.answers, field.name), session.rule) if result else ""
            choices.append(PickerRow(f"notch {field.kind.label}", said, field, session.calculator))
        extra = {"ctrl+x": ("drop", "clear"), "ctrl+a": ("all", "clear all")} if notches else {}

        def picked(value: Any) -> None:
            if isinstance(value, Field):
                self._cut(value)
                return
            does, what = value if isinstance(value, tuple) else ("", value)
            if not does:
                self.teller.tell(what)
            elif does == "all" or not isinstance(what, Field):
                gone = notches if does == "all" else (what,)
                self.changes.make(lambda: session.drop_notches(gone))
                back = f"; {self.teller.key('undo')} brings them back" if session.opened else ""
                count = f"{len(gone)} notches" if len(gone) > 1 else "1 notch"
                self.teller.tell(f"{count} cleared{back}")

        heading = f"Tally: {len(notches)} notched" if notches else "Tally: nothing notched yet"
        self.screens.pick(heading, choices, picked, extra=extra)


def fields(session: Session) -> list[Field]:
    """The answers that can be notched, the one that stands large first. InputFault when none stands, and why."""
    shown = session.shown()
    for fault in shown.faults:
        raise InputFault(f"there is no answer to notch: {fault.reason}")
    result = shown.result
    if result is None:
        raise InputFault("there is no answer to notch yet")
    heads = result.heads()
    rest = [field for field in result.calculator.answer_fields if field not in heads]
    return [field for field in (*heads, *rest) if getattr(result.answers, field.name) is not None]


def words_of(session: Session, field: Field) -> str:
    """A notch: where, of which calculator, the answer, and what was typed over for it."""
    shown = session.shown()
    assert shown.result is not None
    place = f"{session.spar_name}, {show(session.at, session.rule)}, " if session.spar else ""
    value = field.kind.show(getattr(shown.result.answers, field.name), session.rule)
    typed = [
        f"{entry.field.kind.label} {entry.field.kind.show(entry.value, session.rule)}"
        for entry in shown.form.typed
        if entry.origin == "typed"
    ]
    by = f" ({', '.join(typed)})" if typed else ""
    return fitted(f"{place}{shown.calculator.name}: {field.kind.label} {value}{by}", _LONGEST)
