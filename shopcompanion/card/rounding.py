"""From the tapered square to the round: eight sides, sixteen, thirty-two where they are wanted, or one router bit."""

from collections.abc import Iterator

from ..calculator import Column, Table
from ..errors import CompanionError
from ..fields import Angle, Kind, Length
from ..spar.ridges import Range, too_proud
from ..spar.section import ROUND
from .ask import Answered
from .plan import CardPlan
from .run_outs import has_length, kept
from .step import Step, questions

RIGHT = 1e-6  # mm; nearer is nothing
DOWNHILL = "Work downhill, from thick to thin, so that the grain holds."
SAWN = 38.1  # mm; thinner sticks are planed (common practice, no source)
COUNT = "Count the strokes, as many on every corner: the eye sees an uneven facet before callipers do."
EDGES = "Edges and splinters cut: keep your hands behind the edge, and hold the spar at both ends."


def _drawn(plan: CardPlan) -> str:
    """How the marks are joined."""
    return "Join the marks along a straight edge." if plan.untapered else "Join the marks as you did for the taper."


def rounding(plan: CardPlan) -> Iterator[Step]:
    if plan.sides == 4:
        yield _edges()
        return
    if routed := _routed(plan):
        yield routed
        return
    yield _mark_8(plan)
    yield _cut_8(plan)
    if plan.sides < ROUND:
        return
    sides = 8
    if _proud(plan, 8):
        sides = 16
        yield _mark_16(plan)
        yield _cut_16(plan)
    if ranges := _proud(plan, 16):
        sides = 32
        yield _cut_32(plan, ranges)
    yield _round(plan, sides)


def _proud(plan: CardPlan, sides: int) -> tuple[Range, ...]:
    """Where so many sides leave more than sanding takes."""
    ridge_ok: float = _ends_of(plan, 16)[0]["ridge_ok"]
    return too_proud(plan.body, sides, ridge_ok)


def _edges() -> Step:
    return Step(
        "edges",
        "Ease the edges",
        ("Take the sharpness off the four corners, all alike, but not at joints and where a fitting is let in.",),
        checks=("Run a hand along them: it feels no sharp corner, and no flat where one was taken off.",),
    )


def _routed(plan: CardPlan) -> Step | None:
    """The round by one bit, where the spar has one size and the rack has the bit for it."""
    if not plan.untapered or plan.oval or plan.sides < ROUND:
        return None
    try:
        bit = plan.job.ask("roundover", plan.widest_at)
    except CompanionError:  # no rack
        return None
    if bit["verdict"] != "full round":
        return None
    return Step(
        "round-over",
        "Round it with the router",
        (
            f"The spar is {bit.say('stock')} all along, and a bit of {bit.say('bit_used')} radius makes that round. "
            "Cut all four corners at one depth before you lower the bit to the next.",
            *kept(plan, 8),
            *kept(plan, 16),
            "The ends stay square for the bearing to run on: they lie in the waste, or are pared round by hand at "
            "last.",
        ),
        setup=(
            f"Bit: {bit.say('bit_used')} radius, {bit.say('bit_diameter')} across; {bit.say('speed_limit')} at most.",
            f"Lower it in steps: {bit.say('pass_depths')}.",
        ),
        checks=("Try it in waste of the same size: the arcs meet, with no flat and no step between.",),
        cautions=bit.result.cautions,
        asked=questions(bit),
    )


def _ends_of(plan: CardPlan, sides: int) -> tuple[Answered, Answered]:
    """The facets at the widest and the narrowest station where corners are cut all of the way to `sides`."""
    sizes = [(plan.outline.width_at(at), at) for at in plan.full(sides)]
    return plan.facets(max(sizes)[1]), plan.facets(min(sizes)[1])


def _from_to(plan: CardPlan, sides: int, name: str) -> str:
    """An answer of `facets` at the widest and at the narrowest, in words."""
    wide, thin = _ends_of(plan, sides)
    if plan.untapered:
        return f"{wide.fine(name)} all along"
    return f"{wide.fine(name)} at {plan.place(wide.asked.at)}, {thin.fine(name)} at {plan.place(thin.asked.at)}"


def _table(plan: CardPlan, name: str, sides: int, *columns: tuple[str, str]) -> Table:
    """Answers of `facets` at every station where corners come off in going to `sides`: (answer, label)."""
    rows = tuple((at, *(plan.facets(at)[answer] for answer, _ in columns)) for at in plan.cornered(sides))
    return Table(name, _columns(*((answer, Length(label)) for answer, label in columns)), rows)


def _of_facets(plan: CardPlan, name: str, sides: int, *columns: tuple[str, Kind, int, str]) -> Table:
    """Columns of an oval's facets: (name, kind, which facet from the width's face, column of the facets' table)."""
    rows = []
    for at in plan.cornered(sides):
        facets = [row for row in plan.facets(at).rows("facets") if row["sides"] == sides]
        rows.append((at, *(facets[which][column] for _, _, which, column in columns)))
    return Table(name, _columns(*((column, kind) for column, kind, _, _ in columns)), tuple(rows))


def _columns(*named: tuple[str, Kind]) -> tuple[Column, ...]:
    return (Column("at", Length("Station")), *(Column(name, kind) for name, kind in named))


def _mark_8(plan: CardPlan) -> Step:
    ats = plan.cornered(8)
    gauge = plan.job.ask("gauge")
    lines = _from_to(plan, 8, "mark_8")
    if plan.oval:
        lines = f"on A and C {lines}; on B and D {_from_to(plan, 8, 'mark_8_depth')}"
    stays = (
        ()
        if plan.oval
        else (f"Between its two lines each face keeps one of the eight facets: {_from_to(plan, 8, 'facet_8')}.",)
    )
    return Step(
        "mark-8",
        "Line out the eight sides",
        (
            *kept(plan, 8),
            "With the gauge: slew it until both pins are hard against the wood, and draw both lines in one pull, on "
            f"all four faces{', but not in the run-outs' if has_length(plan, 8) else ''}.",
            f"Without it, in from each edge, as the station table has it: {lines}. {_drawn(plan)}",
        ),
        (plan.of_stations("at", "mark_8", "mark_8_depth", ats=ats),),
        (
            f"Gauge: pins {gauge.say('pin')} thick, {gauge.say('pin_spacing')} from centre to centre, "
            f"{gauge.say('inside')} between them; each pencil {gauge.say('pencil_from_pin')} from its pin, "
            f"{gauge.say('pencil_gap')} from the other pencil.",
            _exact(plan, gauge),
        ),
        stays,
        gauge.result.cautions,
        questions(gauge, *map(plan.facets, ats)),
    )


def _exact(plan: CardPlan, gauge: Answered) -> str:
    """Where the gauge marks right, and how far off it is elsewhere."""
    ends = ("widest",) if plan.untapered and not plan.oval else ("widest", "narrowest")
    return f"It {', and '.join(_errs(gauge, end) for end in ends)}."


def _errs(gauge: Answered, end: str) -> str:
    """What the gauge does where the spar is widest or narrowest, in words."""
    right = abs(gauge[f"error_{end}"]) < RIGHT
    does = "is exact" if right else f"is off by {gauge.say(f'error_{end}')}"
    return f"{does} where the face is {gauge.say(f'{end}_face')}"


def _cut_8(plan: CardPlan) -> Step:
    wide, thin = _ends_of(plan, 8)
    sawn = wide["across"] >= SAWN
    setup: tuple[str, ...]
    if plan.oval:
        tilts = f"{wide.say('saw_tilt')} at {plan.place(wide.asked.at)}, {thin.say('saw_tilt')} at "
        setup = (f"Saw tilted, with A or C on the table: {tilts}{plan.place(thin.asked.at)}.",)
        of = _of_facets(
            plan,
            "eight sides",
            8,
            ("cut", Length("Off the corner"), 1, "cut"),
            ("facet", Length("New facet"), 1, "facet"),
        )
        tilt = Column("tilt", Angle("Saw tilt"))
        rows = tuple((row[0], plan.facets(at)["saw_tilt"], *row[1:]) for at, row in zip(_ats(of), of.rows, strict=True))
        table = Table(of.name, (of.columns[0], tilt, *of.columns[1:]), rows) if sawn else of
    else:
        setup = (f"Saw tilted {wide.say('saw_tilt')}.",)
        table = _table(plan, "eight sides", 8, ("cut_8", "Off the corner"), ("facet_8", "Facet at 8 sides"))
    return Step(
        "cut-8",
        "Take the corners off: eight sides",
        (
            f"{_how(plan, wide, thin)} {DOWNHILL}",
            *_in_run_outs(plan, 8),
            f"Off each corner, square to the new facet: {_from_to(plan, 8, 'cut_8')}.",
        ),
        (table,),
        setup if sawn else (),
        ("Look along each facet: it is fair from end to end, and all eight look alike at every station.",),
        ("Keep the blade guard on and your hands clear. Let the sawn-off corner fall free, away from the fence.",)
        if sawn
        else ("Lay the stick in V blocks and hold it at both ends. Keep your hands behind the edge.",),
        questions(*map(plan.facets, plan.cornered(8))),
    )


def _ats(table: Table) -> list[float]:
    return [at for at, *_ in table.rows if isinstance(at, float)]


def _how(plan: CardPlan, wide: Answered, thin: Answered) -> str:
    """Saw or plane: what is thinner than SAWN has no face left to lie on at a tilted blade."""
    least = plan.job.length(SAWN)
    if wide["across"] < SAWN:
        return f"Plane down to the lines in V blocks: under {least} the stick is too thin for a tilted saw."
    also = (
        f" Where it is thinner than {least}, plane it: it is too thin there for a tilted saw."
        if thin["across"] < SAWN
        else ""
    )
    return f"Saw a little outside the lines, or rough it with a drawknife, and plane down to them.{also}"


def _in_run_outs(plan: CardPlan, sides: int) -> tuple[str, ...]:
    """How the facets end where the corners run out."""
    if not has_length(plan, sides):
        return ()
    return (
        "Stop saw and plane at the ends of the full facets. Through the run-outs pare along the lines with a chisel or "
        "a spokeshave, to nothing where the corner is whole.",
    )


def _mark_16(plan: CardPlan) -> Step:
    ats = plan.cornered(16)
    if plan.oval:
        says = "Set off the lines of the table, in from each edge of each facet: an oval has facets of three widths."
        table = _of_facets(
            plan,
            "lines for sixteen",
            8,
            ("mark_a", Length("On A and C"), 0, "next_mark"),
            ("mark_between", Length("On the four between"), 1, "next_mark"),
            ("mark_b", Length("On B and D"), 2, "next_mark"),
        )
    else:
        lines = _from_to(plan, 16, "mark_16")
        says = f"On all eight facets, in from each edge, as the station table has it: {lines}. {_drawn(plan)}"
        table = plan.of_stations("at", "mark_16", ats=ats)
    asked = questions(*map(plan.facets, ats))
    return Step("mark-16", "Line out the sixteen sides", (*kept(plan, 16), says), (table,), asked=asked)


def _cut_16(plan: CardPlan) -> Step:
    if plan.oval:
        table = _of_facets(
            plan,
            "sixteen sides",
            16,
            ("cut_by_a", Length("Off, by A and C"), 1, "cut"),
            ("facet_by_a", Length("Facet"), 1, "facet"),
            ("cut_by_b", Length("Off, by B and D"), 3, "cut"),
            ("facet_by_b", Length("Facet"), 3, "facet"),
        )
    else:
        table = _table(plan, "sixteen sides", 16, ("cut_16", "Off the corner"), ("facet_16", "Facet at 16 sides"))
    return Step(
        "cut-16",
        "Take the eight corners off: sixteen sides",
        (f"Plane each corner down to its two lines. {DOWNHILL}", *_in_run_outs(plan, 16)),
        (table,),
        checks=("All sixteen facets look alike at every station; no line is left, and none is passed.",),
        asked=questions(*map(plan.facets, plan.cornered(16))),
    )


def _cut_32(plan: CardPlan, ranges: tuple[Range, ...]) -> Step:
    wide, _ = _ends_of(plan, 16)
    everywhere = ranges == ((0.0, plan.spar.length),)
    said = "; ".join(f"from {plan.place(start)} to {plan.place(end)}" for start, end in ranges)
    where = "All along" if everywhere else said[0].upper() + said[1:]
    sizes = f", with lines {wide.fine('mark_32')} from each edge, to facets {wide.fine('facet_32')} wide"
    return Step(
        "cut-32",
        "Take the sixteen corners off: thirty-two sides",
        (
            f"{where}: sixteen sides would leave more than {wide.limit('ridge_ok')} for sanding. Take a few thin "
            f"strokes off every corner, by eye: at the widest place {wide.fine('cut_32')}{'' if plan.oval else sizes}.",
        ),
        checks=(COUNT,),
        asked=questions(wide, *(plan.facets(end) for ends in ranges for end in ends)),
    )


def _round(plan: CardPlan, sides: int) -> Step:
    wide, _ = _ends_of(plan, 16)
    return rounded(wide, sides, f"ridge_{sides}", " Leave alone what keeps its corners." if plan.kept else "")


def rounded(by: Answered, sides: int, ridge: str, also: str) -> Step:
    """The last corners taken down; `ridge` names the answer that says how far they stick out."""
    return Step(
        "round",
        "Round it",
        (
            f"The corners of the {sides} sides stick out by {by.fine(ridge)} at the widest place. Take them down with "
            "a fine plane, and go round with a hollow plane, a hollow scraper or a spokeshave.",
            f"Stop while a trace of every facet still shows: sanding takes that.{also}",
        ),
        checks=("Turn it slowly under the hand and under a low light: a facet that was missed shows at once.",),
        cautions=(EDGES,),
        asked=questions(by),
    )
