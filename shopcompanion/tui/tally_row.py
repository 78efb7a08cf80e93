"""The tally as one row: the newest notches that there is room for."""

from .paint import Rows, cells, fit, row
from .session import Session

_GROOVE = "▏"


def tally_row(session: Session, width: int) -> Rows:
    """The newest notches that there is room for, and how many there are, in one row; none where nothing is notched."""
    notches = session.tally
    if not notches:
        return Rows()
    room = width - len(f" {len(notches)} … ")
    said: list[str] = []
    for notch in reversed(notches):
        words = f"{_GROOVE}{notch.removeprefix(f'{session.spar_name}, ') if session.spar_name else notch} "
        if sum(map(cells, (*said, words))) > room:
            break
        said.insert(0, words)
    if not said:  # the answer rather than what it is of
        words = notches[-1].partition(": ")[2] or notches[-1]
        said = [_GROOVE + (words if cells(words) < room else f"…{words[len(words) - max(0, room - 2) :]}")]
    more = "… " if len(said) < len(notches) else ""
    return Rows([fit(row((f" {len(notches)} {more}{''.join(said)}".rstrip(), "bold quiet")), width)])
