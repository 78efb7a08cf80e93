"""Putting on the spar what the open calculator makes: a fitting, with its joint where it needs one, or new widths."""

from collections.abc import Callable
from functools import partial

from ..catalog import load
from ..lengths import read
from .changes import Changes
from .put_on import fittings_of, joint_wanted, places_of, put_on, put_on_with_joint
from .screens import Screens
from .session import Session
from .teller import Teller


class FittingActions:
    """Puts the fitting or the widths of the open calculator on the spar."""

    def __init__(self, session: Session, teller: Teller, screens: Screens, changes: Changes) -> None:
        self.session, self.teller, self.screens, self.changes = session, teller, screens, changes

    def do_fit(self) -> None:
        """Ask what the fitting is for, or where its joint is, and put it on the spar."""
        session = self.session
        if load(session.calculator).target is not None:
            from .adopt import adopt

            self._put(lambda: adopt(session))
            return
        fittings = fittings_of(session)
        kind = "fitting" if fittings[0]["kind"] == "other" else str(fittings[0]["kind"])
        kind = kind if len(fittings) == 1 else f"{len(fittings)} {kind}s"
        if joint := joint_wanted(session.spar, fittings):

            def there(text: str) -> None:
                session.go_to(float(read(text, session.rule.unit)))

            self.screens.ask_line(
                f"{session.spar_name} has no {joint} yet. Where is it, from the heel?",
                there,
                lambda text: self._put(partial(put_on_with_joint, session, joint, text)),
                places_of(fittings, session.rule),
            )
            return

        def check(name: str) -> None:
            if name.strip():
                session.check_name(name)

        self.screens.ask_line(
            f"{kind.capitalize()} at {places_of(fittings, session.rule)}: what for? (optional)",
            check,
            lambda name: self._put(partial(put_on, session, name)),
        )

    def _put(self, add: Callable[[], str]) -> None:
        """Make the change, and tell what it was."""
        told: list[str] = []
        self.changes.make(lambda: told.append(add()))
        undo, save = self.teller.key("undo"), self.teller.key("save")
        self.teller.tell(f"{told[0]}; {undo} takes it back, {save} saves the boat")
