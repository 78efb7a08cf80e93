"""The boat's cutting plan, which stands as long as the boat is the same, and the screens that are made of it."""

from typing import TYPE_CHECKING

from ..errors import InputFault
from .paint import rows
from .screens import Screens
from .session import Session

if TYPE_CHECKING:
    from .stock import Cutting


class Planning:
    """Keeps the cutting plan, and opens the pages made of it. `ascii_only`: no letters beyond ASCII in them."""

    def __init__(self, session: Session, screens: Screens, ascii_only: bool) -> None:
        self.session, self.screens, self.ascii_only = session, screens, ascii_only
        self._cutting: tuple[object, Cutting] | None = None  # with what it is of

    def known(self) -> "Cutting | None":
        """The plan so far, of the boat as it is now; None when none was begun."""
        return self._cutting[1] if self._cutting and self._cutting[0] == self._of() else None

    def _of(self) -> object:
        """What a plan is of: the boat and what is left out of it; a notch in its tally changes no plan."""
        boat = self.session.boat
        return boat._replace(tally=()), boat.left_out

    def _begun(self) -> "Cutting":
        """The plan that is known, or a new first one."""
        from .stock import Cutting

        if (cutting := self.known()) is None:
            cutting = Cutting(self.session.boat)
            self._cutting = (self._of(), cutting)
        return cutting

    def do_stock(self) -> None:
        """Open the cutting plan, which goes on improving there."""
        from .stock import StockPage

        if self.session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        page = StockPage(self.session, self._begun())
        self.screens.home(lambda: self.screens.show(page, self.screens.bench.renew))

    def do_supplies(self) -> None:
        """Open the list of all that is to be bought, by the cutting plan so far."""
        from ..card.lines import Paper
        from ..card.supplies import planned, screen_lines, supplies
        from .reader import TextScreen

        session = self.session
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        boat, job, plan = session.boat, planned(session.boat), None
        if job is not None:
            cutting = self._begun()
            job, plan = cutting.job, cutting.plan
        width = max(40, min(100, self.screens.width - 3))
        lines = screen_lines(supplies(boat, job, plan, session.rule), Paper(session.rule, self.ascii_only, width))
        self.screens.home(lambda: self.screens.show(TextScreen("To buy", rows(lines))))
