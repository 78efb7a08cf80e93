"""The boat at a glance: every spar to one scale on its trestles, how far each is, and what is next on this boat."""

from collections.abc import Mapping, Sequence

from textual import events
from textual.message import Message

from ..card.glance import Aloft, Lying, aloft, lying
from ..errors import CompanionError, printable
from ..lengths import Rule, show
from ..profile.records import Boat, Spar
from ..quantities import Mass
from ..record import NamedTuple
from ..spar.outline import Outline
from .frame import top_row
from .keyed import FullScreen
from .paint import Row, Rows, cells, fit, fitted, row, rows, stack, window
from .session import Session

_EIGHTHS = " ▁▂▃▄▅▆▇█"
_IN_ASCII = str.maketrans("▁▂▃▄▅▆▇█╨─▸×", "___#####'->x")
_WIDE = 110  # columns from which a spar has one row; else two
_BAR = {True: 28, False: 26}  # columns of the longest spar at most, on a wide screen and on another
_HEAVY = 70  # columns from which the weight stands in the first row
_SIZES, _LESS = 33, 23  # columns of length, widest and weight, and of those without the weight
_COARSE = {"in": 25.4, "mm": 10.0}  # that a balance is told to
_KEYED = 9  # spars that a digit opens


class Seen(NamedTuple):
    """What the page shows: the boat, how far each spar is by its name as that becomes known, what is still to buy (""
    while it is not known), and how much is left out of the profile.
    """

    boat: Boat
    known: Mapping[str, Lying]
    to_buy: str
    rule: Rule
    left_out: int = 0
    ascii_only: bool = False


def page(seen: Seen, chosen: int, width: int) -> list[Rows]:
    """The rows of every spar, or the trestles of a boat without any."""
    if not seen.boat.spars:
        return [_nothing(width)]
    longest = max(spar.length for spar in seen.boat.spars)
    thickest = max(spar.outline().widest for spar in seen.boat.spars)
    wide, heavy = width >= _WIDE, width >= _HEAVY
    names = min(max(cells(_name(spar)) for spar in seen.boat.spars), max(8, width // 4))
    columns = min(_BAR[wide], width - names - (_SIZES if heavy else _LESS) - 7)
    made = []
    for place, spar in enumerate(seen.boat.spars):
        mark = "▸" if place == chosen else " "
        digit = str(place + 1) if place < _KEYED else " "
        bar = _bar(spar.outline(), longest, thickest, columns)
        far = seen.known.get(spar.name)
        mass = _weight(far, seen.rule)
        sizes = f"{show(spar.length, seen.rule):>11}  {show(spar.outline().widest, seen.rule):>10}"
        name = fitted(_name(spar), names).ljust(names)
        role = "bold" if place == chosen else ""
        head = row((f"{mark}{digit} ", role), (bar.ljust(columns), "wood"),
                   (f"  {name}  {sizes}" + (f"  {mass:>8}" if heavy else ""), role))  # fmt: skip
        said = _state(far) if heavy else f"{mass}  {_state(far)}"
        if wide:
            made.append(Rows((fit(row(*head, (f"  {said}", role)), width),)))
        else:
            made.append(Rows((head, row((f"   {_legs(spar, longest, columns)}  ", "quiet"), said))))
    return made


def _name(spar: Spar) -> str:
    return printable(spar.name) + (f" × {spar.count}" if spar.count > 1 else "")


def _bar(outline: Outline, longest: float, thickest: float, columns: int) -> str:
    """The spar from its side, lengths and thicknesses to the same two scales for all."""
    many = max(1, round(columns * outline.length / longest))
    places = ((column + 0.5) / many * outline.length for column in range(many))
    return "".join(_EIGHTHS[max(1, round(8 * outline.width_at(at) / thickest))] for at in places)


def _legs(spar: Spar, longest: float, columns: int) -> str:
    """Two trestles under it."""
    many = max(1, round(columns * spar.length / longest))
    line = [" "] * columns
    for share in (0.2, 0.8):
        line[min(many - 1, int(share * many))] = "╨"
    return "".join(line)


def _weight(far: Lying | None, rule: Rule) -> str:
    if far is None:
        return "…"
    return "—" if far.mass is None else Mass("").show(far.mass, rule)


def _state(far: Lying | None) -> str:
    if far is None:
        return "…"
    if far.fault:
        return printable(far.fault, 300)
    return f"{far.done:>2}/{far.of:<2}  {far.next if far.next else 'all done'}"


def _nothing(width: int) -> Rows:
    """Trestles with nothing on them, and what to do about it."""
    words = " no spar yet "
    side = max(2, (min(width, 64) - len(words) - 4) // 4)
    trestles = f" ╥{'─ ' * side}{words}{' ─' * side}╥"
    return rows([trestles, "", " Add the first spar: its name, its length, and its width at heel and head."])


def below(seen: Seen) -> str:
    """What is aloft, and what is left out."""
    known = [far for spar in seen.boat.spars if (far := seen.known.get(spar.name))]
    said = []
    if known and len(known) == len(seen.boat.spars):
        said += _aloft(aloft(known), seen.rule)
    if seen.left_out:
        said.append(f"! {seen.left_out} thing{'s' if seen.left_out > 1 else ''} left out because of faults in the file")
    return "   ".join(said)


def _aloft(up: Aloft, rule: Rule) -> list[str]:
    mass = Mass("")
    said = [f"aloft {mass.show(up.mass, rule)}"] if up.mass else []
    if up.unknown:
        said.append(f"{up.unknown} of unknown weight")
    if up.balance is not None:
        step = _COARSE[rule.unit]
        high = show(round(up.balance / step) * step, rule)
        said.append(f"masts {mass.show(up.masts, rule)}, balancing {high} above their heels")
    return said


def begun(seen: Seen) -> str:
    """How many spars are begun: a few words for the head."""
    count = len(seen.boat.spars)
    return f"{sum(bool(spar.done) for spar in seen.boat.spars)} of {count} spar{'s' if count != 1 else ''} begun"


class Glance(FullScreen):
    """The page; how far each spar is comes one by one, worked out beside the keys."""

    place = "glance"
    moves = (("↑↓ ⏎ 1-9", "take up a spar"),)

    class Known(Message):
        """How far a spar is, or, without one, what is still to buy."""

        def __init__(self, far: Lying | None, to_buy: str = "") -> None:
            super().__init__()
            self.far, self.to_buy = far, to_buy

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session, self.known, self.to_buy, self.top = session, dict[str, Lying](), "", 0
        names = [spar.name for spar in session.boat.spars]
        self.at = names.index(session.spar_name) if session.spar_name in names else 0

    def on_mount(self) -> None:
        boat, rule = self.session.boat, self.session.rule

        def work() -> None:
            for spar in boat.spars:
                self.post_message(self.Known(lying(boat, spar, rule)))
            self.post_message(self.Known(None, _to_buy(boat)))

        self.run_worker(work, thread=True, exit_on_error=False)

    def on_glance_known(self, known: "Glance.Known") -> None:
        if known.far is None:
            self.to_buy = known.to_buy
        else:
            self.known[known.far.name] = known.far
        self.draw()

    def take_other(self, event: events.Key) -> None:
        spars = self.session.boat.spars
        if event.key in ("up", "down") and spars:
            self.at = min(max(0, self.at + (1 if event.key == "down" else -1)), len(spars) - 1)
        elif event.key == "enter" and spars:
            self.app.spars.open(spars[self.at].name)
        elif event.key.isdecimal() and 0 < int(event.key) <= min(len(spars), _KEYED):
            self.app.spars.open(spars[int(event.key) - 1].name)

    def do_print(self) -> None:
        spars = self.session.boat.spars
        self.app.teller.attempt(lambda: self.app.printing.card(spars[self.at] if spars else None))

    def seen(self) -> Seen:
        session = self.session
        return Seen(session.boat, self.known, self.to_buy, session.rule, len(session.boat.left_out),
                    self.app.config.ascii_only)  # fmt: skip

    def rows(self, width: int, height: int) -> list[Row]:
        seen = self.seen()
        name = printable(seen.boat.name) or "a boat"
        buy = [f"to buy {seen.to_buy}", ""] if seen.to_buy else [""]
        head = Rows((top_row([name], [begun(seen)] if seen.boat.spars else [""], buy, width), row("")))
        said = below(seen)
        foot = stack([row((fitted(f" {said}", width), "quiet"))] if said else [], self.foot(width, max(1, height // 5)))
        high = max(1, height - len(head) - len(foot))
        spars = page(seen, self.at, width - 1)
        lines = [line for rows_ in spars for line in rows_]
        each = len(spars[0]) if len(spars) > 1 else 1
        shown = window(lines, self.top, high, around=min(self.at * each + each - 1, len(lines) - 1))
        self.top = shown.top
        made = [*head, *shown.lines, *rows([""]) * (high - len(shown.lines)), *foot]
        return _plain(made) if seen.ascii_only else made


def _plain(lines: Sequence[Row]) -> list[Row]:
    return [tuple((text.translate(_IN_ASCII), role) for text, role in line) for line in lines]


def _to_buy(boat: Boat) -> str:
    """What the timber costs by the first plan; nothing where there is none."""
    from ..card.yard import money
    from ..stock.blanks import task
    from ..stock.plan import first_plan

    try:
        job = task(boat, boat.rule)
        plan = first_plan(job.problem)
    except CompanionError:
        return ""
    if plan.missing:  # a better plan may place more of it, and cost more
        return f"about {money(plan.cost, job)}, {len(plan.missing)} not placed"
    return f"at most {money(plan.cost, job)}"
