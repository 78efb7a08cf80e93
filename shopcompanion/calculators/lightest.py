"""Lightest: the same stiffness, strength and safety from buckling out of less wood, by the spar's own law of taper."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from ..beam.proof import Proof, prove
from ..calculator import Column, Table, Target, declared
from ..drawing.shapes import Drawing, Fill, Label, Pen, Shape, Shown, Tone, loop
from ..errors import InputFault
from ..fields import Choice, Length, Pairs, Ratio, Text, Value
from ..quantities import Mass, Percent
from ..record import Annotated, NamedTuple, Record
from ..spar.body import Body
from ..spar.outline import LAWS, Outline
from ..spar.tables import PUBLISHED
from . import proved_spar, proving
from .along_spar import Rows
from .proved_spar import between
from .proving import LoadInputs, SparCase

_FOUND = "found by a search (SLSQP, scipy), and held against a second run of strength: not proved to be the least"
_COARSE = 40  # pieces, while it searches
_THIN = 0.7  # of today's width: no place is made thinner than that, for tenons, holes and shear, which are not counted
_WIDER = 1.05  # of today's widest: where nothing is said of it, it may be that much
_NOISE = 1e-6  # of a limit: the last digits of the solver, so that today's spar is within its own limits
_STILL = 1e-3  # mm: a spar that goes no further does not bend
_SLACK = 1e-3  # of a limit: so near it is at it
_WALL = 0.12  # the least wall of a hollow, of its least width


class Inputs(LoadInputs):
    most_width: Annotated[float | None, Length("Widest, at most", above=0, at_most=2000)] = None
    least_width: Annotated[float | None, Length("Head, at least", above=0, at_most=2000)] = None
    deflection_ok: Annotated[float | None, Length("May move, at most", above=0)] = None
    factor_ok: Annotated[float | None, Ratio("Factor, at least", above=0)] = None


class Answers(Record):
    saved: Annotated[float, Mass("Lighter by", formula="mass_now − mass_then", source="found, not proved")]
    mass_now: Annotated[float, Mass("Weighs now", source="density at 12 % times volume")]
    mass_then: Annotated[float, Mass("Weighs then", source=_FOUND)]
    saved_part: Annotated[
        float,
        Percent("Lighter by, of today's weight", formula="100·saved / mass_now", source="part of what it weighs now"),
    ]
    governs: Annotated[str, Text("Limits reached", longest=200, source="the limits that it is at")]
    new_widths: Annotated[Rows | None, Pairs("New widths", columns=("station", "width"), source=_FOUND)]
    new_depths: Annotated[Rows | None, Pairs("New depths", columns=("station", "width"), source=_FOUND)]
    new_law: Annotated[str | None, Choice("New law", options=LAWS, source="the same as now; of a book's table faired")]
    new_wall: Annotated[float | None, Length("New wall", rounding="up", source=_FOUND)]
    deflection_now: Annotated[float, Length("Moves now", source="strength")]
    deflection_then: Annotated[float, Length("Moves then", source="strength, run again")]
    factor_now: Annotated[float, Ratio("Factor now", source="strength")]
    factor_then: Annotated[float, Ratio("Factor then", source="strength, run again")]
    load_factor_now: Annotated[float | None, Ratio("Factor against buckling now", source="strength")]
    load_factor_then: Annotated[float | None, Ratio("Factor against buckling then", source="strength, run again")]


class UnderLoad(NamedTuple):
    """How a spar stands under its load: its mass (kg), how far it moves at most (mm), and the two factors."""

    mass: float
    deflection: float
    factor: float
    load_factor: float | None


class Limits(NamedTuple):
    """What a lighter spar has to keep. One that does not bend has no limit of deflection."""

    deflection: float | None
    factor: float
    load_factor: float | None


@lru_cache(maxsize=8)
def lightest(inputs: Inputs) -> tuple[UnderLoad, UnderLoad, Limits, Body, Body]:
    """How the spar stands now and made lightest, the limits, and both spars. InputFault where no spar keeps them."""
    shape = apart(inputs)
    now = standing(inputs, shape.body)
    goes = inputs.deflection_ok or (now.deflection if now.deflection > _STILL else None)
    limits = Limits(goes, inputs.factor_ok or now.factor, now.load_factor)
    body = _search(inputs, shape, limits, now)
    return now, standing(inputs, body), limits, shape.body, body


def apart(inputs: Inputs) -> "_Shape":
    """What may change of the spar; InputFault where it is seen at once that nothing can be found."""
    asked = proving.asked(inputs)
    if asked.timber.density is None:
        raise InputFault("name the timber: its weight is needed", "species")
    if asked.timber.rupture is None:
        raise InputFault("the timber has no modulus of rupture: type rupture, or name another timber", "rupture")
    return _Shape(inputs, asked.case.body)


def standing(inputs: LoadInputs, body: Body, pieces: int | None = None) -> UnderLoad:
    """A spar under the load that the inputs ask about. InputFault where it buckles."""
    asked = proving.asked_of(inputs, body, proved_spar.timber_of(inputs))
    proof = prove(asked.case if pieces is None else replace(asked.case, pieces=pieces))
    coarse = None if pieces is None else (asked.timber.density or 0.0) * proof.volume() * 1e-9
    return UnderLoad(
        proving.mass_of(asked) or 0.0 if coarse is None else coarse,
        abs(proof.farthest[1]),
        _factor(asked, proof),
        proof.gives and proof.gives.times,
    )


def _factor(asked: SparCase, proof: Proof) -> float:
    return (asked.timber.rupture or 0.0) / proof.worst_stress


class _Shape:
    """A spar by a few parts of today's: of the heel, the widest place and the head, and of the wall of a hollow.

    Between them the part changes evenly along the spar, so a law of taper stays what it is. A book's table has one part
    for all of it.
    """

    def __init__(self, inputs: Inputs, body: Body) -> None:
        self.body = body
        outline = body.outline
        self.by_book = outline.law in PUBLISHED
        ends = [] if self.by_book else [0.0] * (outline.widest_at > 0)
        self.knots = [
            *ends,
            outline.widest_at,
            *([] if self.by_book else [body.length] * (outline.widest_at < body.length)),
        ]
        most = inputs.most_width if inputs.most_width is not None else _WIDER * outline.widest
        if most < outline.narrowest:
            raise InputFault(
                "{} is less than the spar is at its narrowest, {}; more will do",
                "most_width",
                (most, outline.narrowest),
            )
        least = inputs.least_width or 0.0
        if least > most:
            raise InputFault(
                "{} is more than the spar may be at its widest, {}; less will do", "least_width", (least, most)
            )
        self.bounds = []
        for at in self.knots:
            now = outline.width_at(at)
            low = max(_THIN, least / now if at == body.length else 0.0)
            self.bounds.append((min(low, most / now), most / now))
        self.walled = body.section == "hollow"
        if self.walled:
            least_wall = _WALL * outline.narrowest
            self.bounds.append((min(1.0, least_wall / body.wall), 2.0))

    def made(self, parts: list[float]) -> Body:
        """The spar with these parts of today's. InputFault where its fittings or wall do not go into it."""
        body = self.body
        knots = list(zip(self.knots, parts, strict=False))
        wall = body.wall * (parts[-1] if self.walled else 1.0)
        outline = self._scaled(body.outline, knots)
        depths = None if body.depths is None else self._scaled(body.depths, knots)
        cross = body.section, wall, body.regions
        return Body(outline, depths, *cross, body.joints, body.fittings, body.solid, body.staves)

    def _scaled(self, outline: Outline, knots: list[tuple[float, float]]) -> Outline:
        if self.by_book:
            return Outline(tuple((at, width * knots[0][1]) for at, width in outline.stations), outline.law)
        if outline.law == "bowed":
            full = outline.widest
            part = dict(knots)[self.body.outline.widest_at]
            rows = tuple(
                (at, width * (part if width == full else between(knots, at))) for at, width in outline.stations
            )
            return Outline(tuple((at, min(width, full * part)) for at, width in rows), "bowed")
        return Outline(tuple((at, width * between(knots, at)) for at, width in outline.stations), outline.law)


def _search(inputs: Inputs, shape: _Shape, limits: Limits, now: UnderLoad) -> Body:
    from scipy.optimize import minimize  # type: ignore[import-untyped]

    seen: dict[tuple[float, ...], UnderLoad | None] = {}

    def stands(parts: "list[float]") -> UnderLoad | None:
        key = tuple(round(float(part), 9) for part in parts)
        if key not in seen:
            try:
                seen[key] = standing(inputs, shape.made(list(key)), _COARSE)
            except InputFault:  # it buckles, or what is let in does not go into it
                seen[key] = None
        return seen[key]

    def margin(of: Callable[[UnderLoad], float]) -> Callable[["list[float]"], float]:
        def reached(parts: "list[float]") -> float:
            standing = stands(parts)
            return -1.0 if standing is None else of(standing) + _NOISE

        return reached

    margins = [margin(lambda standing: standing.factor / limits.factor - 1)]
    if (goes := limits.deflection) is not None:
        margins.append(margin(lambda standing: 1 - standing.deflection / goes))
    if (kept := limits.load_factor) is not None:
        margins.append(margin(lambda standing: ((standing.load_factor or 0.0) / kept - 1) / 4))
    best: tuple[float, list[float]] | None = None
    ones = [min(max(1.0, low), high) for low, high in shape.bounds]
    starts = [ones, [max(low, part * 0.93) for part, (low, _) in zip(ones, shape.bounds, strict=True)]]
    for start in starts:
        optimum = minimize(
            lambda parts: (stands(parts) or now).mass / now.mass,
            start,
            method="SLSQP",
            bounds=shape.bounds,
            constraints=[{"type": "ineq", "fun": margin} for margin in margins],
            options={"maxiter": 40, "ftol": 1e-5, "eps": 2e-4},
        )
        for parts in (list(map(float, optimum.x)), start):
            held = _held(inputs, shape, limits, parts)
            if held is not None and (best is None or held[0] < best[0]):
                best = held
    if best is None:
        raise InputFault("no spar of this law and these widths keeps the limits: allow more width, or more deflection",
                         "most_width")  # fmt: skip
    if _within(now, limits) and best[0] > now.mass * (1 - 1e-6):
        return shape.body
    return shape.made(best[1])


def _held(inputs: Inputs, shape: _Shape, limits: Limits, parts: list[float]) -> tuple[float, list[float]] | None:
    """The parts, thickened a little where a full run says that they are over a limit; None where that does not help."""
    for step in range(12):
        trial = [min(high, part * (1 + 5e-7 * 4**step)) for part, (_, high) in zip(parts, shape.bounds, strict=True)]
        try:
            stands = standing(inputs, shape.made(trial))
        except InputFault:
            continue
        if _within(stands, limits):
            return stands.mass, trial
    return None


def _within(stands: UnderLoad, limits: Limits) -> bool:
    buckling = limits.load_factor is None or (stands.load_factor or 0.0) >= limits.load_factor * (1 - 1e-6)
    bending = limits.deflection is None or stands.deflection <= limits.deflection * (1 + 1e-6)
    return bending and buckling and stands.factor >= limits.factor * (1 - 1e-6)


def work(inputs: Inputs) -> Answers:
    now, then, limits, _, body = lightest(inputs)
    law = "faired" if body.outline.law in PUBLISHED else body.outline.law
    return Answers(
        saved=now.mass - then.mass,
        mass_now=now.mass,
        mass_then=then.mass,
        saved_part=100 * (now.mass - then.mass) / now.mass,
        governs=governs(inputs, then, limits, body),
        new_widths=body.outline.stations,
        new_depths=None if body.depths is None else body.depths.stations,
        new_law=law,
        new_wall=body.wall if body.section == "hollow" else None,
        deflection_now=now.deflection,
        deflection_then=then.deflection,
        factor_now=now.factor,
        factor_then=then.factor,
        load_factor_now=now.load_factor,
        load_factor_then=then.load_factor,
    )


def governs(inputs: Inputs, then: UnderLoad, limits: Limits, body: Body) -> str:
    """The limits that the found spar is at, in words."""
    at = []
    if limits.deflection is not None and then.deflection >= limits.deflection * (1 - 5 * _SLACK):
        at.append("how far it moves")
    if then.factor <= limits.factor * (1 + 5 * _SLACK):
        at.append("the factor against breaking")
    if limits.load_factor is not None and (then.load_factor or 0.0) <= limits.load_factor * (1 + 5 * _SLACK):
        at.append("the factor against buckling")
    if body.outline.widest >= (inputs.most_width or _WIDER * lightest(inputs)[3].outline.widest) * (1 - _SLACK):
        at.append("how wide it may be")
    if inputs.least_width is not None and body.width_at(body.length) <= inputs.least_width * (1 + _SLACK):
        at.append("the least width at the head")
    return " and ".join(at) or "its fittings, or how thin a place may be"


_STATIONS = (
    Column("at", Length("Station")), Column("width", Length("Width now")),
    Column("new", Length("New width", rounding="up")), Column("less", Length("Less by")),
)  # fmt: skip
_MARGINS = (Column("limit", Text("What must hold")), Column("margin", Percent("To spare")))


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    _, then, limits, old, new = lightest(inputs)
    ats = sorted(
        {at for at, _ in (*old.outline.stations, *new.outline.stations)} | {old.length * k / 8 for k in range(9)}
    )
    rows: list[tuple[Value, ...]] = [
        (at, old.width_at(at), new.width_at(at), old.width_at(at) - new.width_at(at)) for at in ats
    ]
    held: list[tuple[Value, ...]] = [("factor against breaking", 100 * (then.factor / limits.factor - 1))]
    if limits.deflection is not None:
        held.append(("how far it moves", 100 * (1 - then.deflection / limits.deflection)))
    if limits.load_factor is not None and then.load_factor is not None:
        held.append(("factor against buckling", 100 * (then.load_factor / limits.load_factor - 1)))
    return (Table("stations", _STATIONS, tuple(rows)), Table("limits", _MARGINS, tuple(held)))


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The new outline inside today's, its thickness drawn too big."""
    _, _, _, old, new = lightest(inputs)
    length, times = old.length, old.length / 7 / old.outline.widest
    ats = [length * k / 48 for k in range(49)]
    shapes: list[Shape] = []
    drawn: tuple[tuple[Body, Pen, Tone], ...] = ((old, "light", "off"), (new, "work", "wood"))
    for body, pen, tone in drawn:
        edge = [(at, times * body.width_at(at) / 2) for at in ats]
        side = (*edge, *((at, -y) for at, y in reversed(edge)))
        shapes += [Fill(side, tone), *loop(*side, pen=pen)]
    shapes.append(Shown(0.7 * length, 0.0, "saved", "lighter by {}"))
    high = times * old.outline.widest / 2 + length / 30
    shapes += [Label(0.0, high, "heel"), Label(length, high, "head")]
    return Drawing(f"today's dotted, {times:.0f} times too thick, its length to scale", tuple(shapes))


def target(inputs: Inputs, answers: Answers) -> Target | None:
    """The new widths, for the spar whose own stations they are at."""
    whole = inputs.whole
    if whole is None or answers.new_widths is None or answers.saved <= 0:
        return None
    if [at for at, _ in answers.new_widths] != [at for at, _ in whole.outline.stations]:
        return None
    return Target(answers.new_widths, answers.new_depths or (), wall=answers.new_wall)


def weaker(inputs: Inputs, answers: Answers) -> str:
    """Always."""
    return "Found by search, not proved, for these limits and this load alone; a knot counts more in a thinner spar."


CALCULATOR = declared(
    globals(),
    question="What is the lightest spar that is as stiff and as strong?",
    headline="saved",
    slow=True,
    cautions=(
        proving.GUIDANCE,
        weaker,
        "The widest place may grow by up to 5 % unless a largest width is given: partners and fittings must fit.",
    ),
    sources=(
        "Search: sequential quadratic programming (SLSQP, scipy) over heel, widest place, head and wall.",
        "Bending and buckling: as strength has them; the found spar is run again in full.",
    ),
)
