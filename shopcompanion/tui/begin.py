"""What a new boat still needs, in the order in which it is entered."""

from collections.abc import Mapping

from ..record import NamedTuple
from .keys import first_key
from .paint import Row, Rows, folded, row
from .session import Session


class Want(NamedTuple):
    """One thing to enter: in words, by which key, and whether it is there."""

    words: str
    key: str
    there: bool


def wants(session: Session, keys: Mapping[str, str]) -> tuple[Want, ...]:
    """The first spar, the shop, the timber; nothing for an example, and nothing once the work on a spar has begun."""
    opened, boat = session.opened, session.boat
    if opened is None or opened.listing.is_example or any(spar.done or spar.log for spar in boat.spars):
        return ()
    shop = first_key(keys, "shop")
    return (
        Want("inches" if session.rule.unit == "in" else "millimetres", first_key(keys, "units"), True),
        Want("the first spar", first_key(keys, "spars"), bool(boat.spars)),
        Want("the shop", shop, boat.shop != type(boat.shop)()),
        Want("yard and timber", shop, bool(boat.timbers or boat.yard)),
    )


def next_row(session: Session, keys: Mapping[str, str]) -> Rows:
    """The next thing to do, as one row; none when there is nothing left, or the trestles say it."""
    ahead = next((want for want in wants(session, keys) if not want.there), None)
    if ahead is None or not session.boat.spars:
        return Rows()
    more = {"the shop": ": saw, bits, drum"}.get(ahead.words, "")
    return Rows([row((f" Next: {ahead.words}{more}, {ahead.key}", "bold accent"))])


def trestles(session: Session, keys: Mapping[str, str], width: int, high: int, *, ascii_only: bool = False) -> Rows:
    """A boat without a spar: empty trestles, and what to enter, in `high` rows."""
    post, beam = ("T", "- ") if ascii_only else ("╥", "─ ")
    words = " no spar yet " if width > 40 else ""
    half = max(0, (width - 4 - len(words)) // 4)
    top = row(" ", (f"{post}{beam * half}{words}{beam * half}".rstrip() + post, "quiet"))
    tick = "+" if ascii_only else "✓"
    said: list[str] = []
    for number, want in enumerate(wants(session, keys), 1):
        said.append(f"{number} {want.words} {tick if want.there else want.key}")
    steps = folded([row((f" {'   '.join(said)}", "bold accent"))], width - 1)
    if len(steps) >= high:  # hardly a row: the last word of each
        brief = [f"{want.words.split()[-1]} {tick if want.there else want.key}" for want in wants(session, keys)]
        steps = folded([row((f" {'  '.join(brief)}", "bold accent"))], width - 1)
    lines: list[Row] = [top, *([row("")] if high > 3 else []), *steps]
    return Rows((lines + [row("")] * high)[:high])
