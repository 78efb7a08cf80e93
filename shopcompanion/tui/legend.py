"""What lies on the spar across the screen, sign by sign and place by place, heel to head."""

from ..drawing.strip import strip
from ..lengths import Rule, show
from ..profile.records import Spar
from ..spar.along import Stretch
from .paint import Row, Rows, row

_SECTIONS = {"square": "square", "eight": "eight-sided", "round": "round", "oval": "oval", "hollow": "hollow"}


def legend(spar: Spar, at: float, rule: Rule, columns: int) -> Rows:
    """Everything on one scrolling page, for a spar that lies in so many columns."""
    drawn = strip(spar.outline(), at, rule, columns)
    lines = [
        row((spar.name, "bold"), f", {show(spar.length, rule)}: heel at the left, head at the right."),
        row(f"Its thickness is exaggerated {drawn.exaggerated:.1f} times."),
        row(""),
        row(("█", "wood"), "  wood that is shaped"),
        row(("█", "squared"), "  wood that stays square from the heel"),
        row(("▲", "accent bold"), f"  the station in hand, {show(at, rule)} from the heel"),
        row(""),
        row(("Sections, heel to head", "bold")),
    ]
    lines += [_stretch(stretch, rule) for stretch in spar.body().stretches]
    places = [(joint.at, "◇", f"joint, {joint.kind}") for joint in spar.joints]
    places += [
        (fitting.at, "▾", f"{fitting.name} ({fitting.kind})" if fitting.name else fitting.kind)
        for fitting in spar.fittings
    ]
    lines += [row(""), row(("Joints and fittings, heel to head", "bold"))]
    lines += [row((f"{sign}  ", "bold"), f"{show(place, rule):<16}{words}") for place, sign, words in sorted(places)]
    return Rows(lines if places else [*lines, row("none")])


def _stretch(stretch: Stretch, rule: Rule) -> Row:
    start, end = show(stretch.start, rule), show(stretch.end, rule)
    kinds = list(dict.fromkeys(_SECTIONS.get(kind, kind) for kind in (stretch.heelward, stretch.headward)))
    words = kinds[0] if len(kinds) == 1 else f"runs out, {kinds[0]} into {kinds[1]}"
    return row(f"   {f'{start} to {end}':<34}{words}")
