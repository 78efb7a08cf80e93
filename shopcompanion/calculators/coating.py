"""Coating: how much varnish, oil or paint the outside of a spar takes, or of several, and how many days."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import ceil, floor

from ..calculator import Column, Table, declared
from ..drawing.shapes import Drawing, Fill, Label, Line, Shape, Shown, corners, loop
from ..errors import InputFault, nearest, printable
from ..fields import Choice, Count, Length, Text
from ..form import TINS
from ..quantities import Coverage, Hours, Liquid, Liquids, Percent, Surface
from ..record import Annotated, NamedTuple, Record
from ..spar.along import APART
from ..spar.body import Body
from ..spar.section import SECTIONS, WITH_HOLE
from ..spar.whole import AllSpars, Fleet, SparRecord, WholeSpar
from .sized import body, is_whole

MEMORY = "common practice, from memory: the tin's own figures come first"
_THIS, _ALL = "this one", "all"
_SLANT = "√(length² + ((butt − head)/2)²)"
_SIDE = {"round": "π/2", "square": "2", "eight": "4·tan(π/8)"}  # of both widths together, along the slope
_END = {"round": "π/4", "oval": "π/4", "square": "1", "eight": "2·tan(π/8)"}  # of the width squared
_SHOWN = " / {144|1000²}"  # a surface is shown in ft² or m²
_FINEST = 1 / 1000  # L: tins and what is wanted are compared in whole millilitres
_ALIKE = 1.02  # tins that hold so little more are as good: the fewest of them
_BULK = 4  # of the largest tin; what is wanted over that comes out of largest tins


class CoatingFigures(NamedTuple):
    """What a coating is like: m²/L, hours between coats, coats, and thinner in the first one, % of what is thinned."""

    coverage: float
    recoat: float
    coats: int
    thinning: float


KINDS = {
    "varnish": CoatingFigures(12.0, 24.0, 6, 25.0),
    "quick varnish": CoatingFigures(12.0, 6.0, 6, 10.0),  # thinned with water
    "oil": CoatingFigures(15.0, 24.0, 4, 50.0),
    "paint": CoatingFigures(11.0, 24.0, 3, 10.0),
    "primer": CoatingFigures(10.0, 24.0, 1, 10.0),
}


class Inputs(Record):
    kind: Annotated[str, Choice("Coating", options=tuple(KINDS))] = "varnish"
    spars: Annotated[str, Text("Spars, or all", called="spars", longest=1000)] = _THIS
    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    fleet: Annotated[Fleet | None, AllSpars("The boat's spars", follows="boat.spars")] = None
    count: Annotated[int, Count("How many alike", at_least=1, at_most=1000, follows="spar.count")] = 1
    length: Annotated[float | None, Length("Length", above=0, follows="spar.length")] = None
    butt: Annotated[float | None, Length("Width at the heel", above=0, at_most=2000, follows="spar.butt")] = None
    head: Annotated[float | None, Length("Width at the head", above=0, at_most=2000, follows="spar.head")] = None
    section: Annotated[str, Choice("Section", options=SECTIONS, follows="spar.section")] = "round"
    depth: Annotated[
        float | None, Length("Depth at the heel, if oval", called="depth at the heel", above=0, at_most=2000)
    ] = None
    coats: Annotated[int | None, Count("Coats, if not the usual", called="coats", at_least=1, at_most=50)] = None
    coverage: Annotated[float | None, Coverage("Coverage, from the tin", called="coverage", above=0.5, at_most=100)] = (
        None
    )
    recoat: Annotated[
        float | None, Hours("Time between coats, from the tin", called="time between coats", above=0, at_most=1000)
    ] = None
    thinning: Annotated[
        float | None,
        Percent("Thinner in the first coat, of it", called="thinner in the first", at_least=0, at_most=200),
    ] = None
    waste: Annotated[float, Percent("Left in brush and pot", at_least=0, at_most=100)] = 15.0
    tins: Annotated[tuple[float, ...], Liquids("Tins sold", at_least=0.01, at_most=250, follows="rule.tins")] = TINS[
        "mm"
    ]


class Answers(Record):
    volume: Annotated[
        float,
        Liquid(
            "To buy, at least",
            called="volume",
            formula="(coat·(coats_used − 1 + 100 / (100 + thinning_used)) + end_coat)·(1 + waste / 100)",
            source="the first coat thinned, one coat more on end grain, and what is lost",
        ),
    ]
    area: Annotated[
        float, Surface("All outside", called="all outside", formula="side_area + end_area", source="sides and ends")
    ]
    side_area: Annotated[
        float, Surface("Sides", source="along the slope, as if nothing were fitted: a flat alters little")
    ]
    end_area: Annotated[float, Surface("End grain", source="heel, head, and both faces where parts come apart")]
    coat: Annotated[
        float, Liquid("For a coat", called="a coat", formula="{32·|}area / coverage_used", source="the tin's coverage")
    ]
    end_coat: Annotated[
        float,
        Liquid("For the end grain again", called="end grain again", formula="{32·|}end_area / coverage_used",
               source="end grain drinks: it gets a coat more (common practice)"),
    ]  # fmt: skip
    thinner: Annotated[
        float,
        Liquid("Thinner, first coat", called="thinner",
               formula="coat·thinning_used / (100 + thinning_used)·(1 + waste / 100)", source="part of the first coat"),
    ]  # fmt: skip
    bought: Annotated[
        float, Liquid("In tins", source="the tins that leave least over, within 2 %, and of those the fewest")
    ]
    tin_count: Annotated[int, Count("Tins", source="as in the table")]
    days: Annotated[
        int,
        Count("Days till the last coat is on", called="days", formula="1 + (coats_used − 1)·ceil(recoat_used / 24)",
              source="one coat a day at most, rubbed down between (common practice)"),
    ]  # fmt: skip
    coats_used: Annotated[int, Count("Coats", called="coats used", source=MEMORY)]
    coverage_used: Annotated[float, Coverage("Coverage", called="coverage used", source=MEMORY)]
    recoat_used: Annotated[float, Hours("Time between coats", called="time between coats used", source=MEMORY)]
    thinning_used: Annotated[
        float, Percent("Thinner in the first coat", called="thinner in the first coat", source=MEMORY)
    ]


class Coated(NamedTuple):
    """A spar that is coated: its name, how many alike, and mm² of sides and end grain of all those together."""

    name: str
    alike: int
    side: float
    ends: float


def outside(name: str, count: int, spar: Body) -> Coated:
    """What of a spar is coated: never the inside of a hollow; both ends of every part that comes apart."""
    apart = sum(2 * spar.section_at(joint.at).area for joint in spar.joints if joint.kind in APART)
    return Coated(name, count, count * spar.side_area(), count * (spar.end_area + apart))


@lru_cache(maxsize=16)  # work and the table ask the same
def coated(inputs: Inputs) -> tuple[Coated, ...]:
    """Every spar that is coated. InputFault when there is none, or none of that name."""
    wanted = " ".join(inputs.spars.split()).casefold()
    if wanted != _THIS:
        return tuple(outside(spar.name, spar.count, spar.body()) for spar in _named(inputs.spars, inputs.fleet))
    return (outside(_THIS, inputs.count, body(_sizes(inputs))),)


class OutsideSizes(NamedTuple):
    """A spar by its sizes, of which only the outside counts."""

    whole: Body | None
    length: float
    butt: float
    head: float
    section: str
    depth: float | None
    wall: None = None


def _sizes(inputs: Inputs) -> OutsideSizes:
    if inputs.length is None or inputs.butt is None or inputs.head is None:
        name = next(key for key in ("length", "butt", "head") if getattr(inputs, key) is None)
        more = "; or name a spar of the boat, or write all in spars" if inputs.fleet else "; or a boat and its spar"
        raise InputFault(f"length, butt and head of the spar are needed{more}", name)
    sizes = OutsideSizes(inputs.whole, inputs.length, inputs.butt, inputs.head, inputs.section, inputs.depth)
    return sizes._replace(section="round") if sizes.section in WITH_HOLE and not is_whole(sizes) else sizes


def _named(text: str, fleet: Fleet | None) -> list[SparRecord]:
    if fleet is None:
        raise InputFault(f"{printable(text)}: needs a boat with spars; without one write {_THIS}", "spars")
    if text.strip().casefold() == _ALL:
        return list(fleet.spars)
    known = {" ".join(spar.name.split()).casefold(): spar for spar in fleet.spars}
    chosen = {}
    for part in filter(None, (" ".join(part.split()) for part in text.split(";"))):
        if part.casefold() not in known:
            names = [spar.name for spar in fleet.spars]
            hint = nearest(part, names) or f"; there are {'; '.join(names[:12])}"
            raise InputFault(f"no spar is called '{printable(part)}'{hint}", "spars")
        chosen[part.casefold()] = known[part.casefold()]
    if not chosen:
        raise InputFault(f"no spar is named; write {_THIS}, {_ALL}, or names with ; between them", "spars")
    return list(chosen.values())


def fewest_tins(volume: float, sizes: tuple[float, ...]) -> tuple[tuple[float, int], ...]:
    """Tins of these sizes that hold the volume and leave least over, of those the fewest; litres, largest first.

    What is wanted over four of the largest comes out of largest ones. InputFault when it takes too many.
    """
    marks = sorted({floor(size / _FINEST + 1e-9): size for size in sizes}.items(), reverse=True)
    wanted, large = ceil(volume / _FINEST - 1e-9), marks[0][0]
    bulk = max(0, wanted // large - _BULK)
    if wanted / large > 10_000:
        raise InputFault("that is more than ten thousand tins of the largest size: give a larger tin", "tins")
    wanted -= bulk * large
    fewest: dict[int, tuple[int, int]] = {0: (0, 0)}  # by what they hold: how many, and the last of them
    for total in range(wanted + large):
        if total not in fewest or total >= wanted:
            continue
        for mark, _ in marks:
            tried = (fewest[total][0] + 1, mark)
            if tried < fewest.get(total + mark, (10**9, 0)):
                fewest[total + mark] = tried
    enough = [total for total in fewest if total >= wanted]
    left = min((fewest[total][0], total) for total in enough if total <= _ALIKE * min(enough))[1]
    counts = dict.fromkeys((mark for mark, _ in marks), 0)
    counts[large] += bulk
    while left:
        mark = fewest[left][1]
        counts[mark] += 1
        left -= mark
    return tuple((size, counts[mark]) for mark, size in marks if counts[mark])


def work(inputs: Inputs) -> Answers:
    usual = KINDS[inputs.kind]
    coverage = usual.coverage if inputs.coverage is None else inputs.coverage
    recoat = usual.recoat if inputs.recoat is None else inputs.recoat
    coats = usual.coats if inputs.coats is None else inputs.coats
    thinning = usual.thinning if inputs.thinning is None else inputs.thinning
    spars = coated(inputs)
    side, ends = sum(spar.side for spar in spars), sum(spar.ends for spar in spars)
    coat, end_coat = ((area / 1000**2) / coverage for area in (side + ends, ends))
    lost = 1 + inputs.waste / 100
    volume = (coat * (coats - 1 + 100 / (100 + thinning)) + end_coat) * lost
    tins = fewest_tins(volume, inputs.tins)
    return Answers(
        volume=volume,
        area=side + ends,
        side_area=side,
        end_area=ends,
        coat=coat,
        end_coat=end_coat,
        thinner=coat * thinning / (100 + thinning) * lost,
        bought=sum(size * count for size, count in tins),
        tin_count=sum(count for _, count in tins),
        days=1 + (coats - 1) * ceil(recoat / 24),
        coats_used=coats,
        coverage_used=coverage,
        recoat_used=recoat,
        thinning_used=thinning,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums = {}
    if " ".join(inputs.spars.split()).casefold() == _THIS and not is_whole(_sizes(inputs)):
        section = _sizes(inputs).section
        if section in _SIDE:
            sums["side_area"] = f"count·{_SIDE[section]}·(butt + head)·{_SLANT}{_SHOWN}"
        across = "·depth/butt" if section == "oval" else ""
        if section != "oval" or inputs.depth is not None:
            sums["end_area"] = f"count·{_END[section]}·(butt² + head²){across}{_SHOWN}"
    return sums


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Every spar and its area; the tins; and what is mixed for each coat, and when."""
    spars = (
        Column("spar", Text("Spar")),
        Column("count", Count("How many")),
        Column("side", Surface("Sides")),
        Column("ends", Surface("End grain")),
    )
    tins = (Column("size", Liquid("Tin")), Column("number", Count("How many")))
    coats = (
        Column("coat", Count("Coat")),
        Column("day", Count("Day")),
        Column("volume", Liquid("Out of the tin")),
        Column("thinner", Liquid("Thinner")),
    )
    return (
        Table("spars", spars, tuple(coated(inputs))),
        Table("tins", tins, fewest_tins(answers.volume, inputs.tins)),
        Table("coats", coats, tuple(_coats(inputs, answers))),
    )


def _coats(inputs: Inputs, answers: Answers) -> Iterator[tuple[int, int, float, float]]:
    """Number, day, and litres out of the tin and of thinner, of every coat."""
    lost, gap = 1 + inputs.waste / 100, ceil(answers.recoat_used / 24)
    first = (answers.coat * 100 / (100 + answers.thinning_used) + answers.end_coat) * lost
    yield (1, 1, first, answers.thinner)
    for number in range(2, answers.coats_used + 1):
        yield (number, 1 + (number - 1) * gap, answers.coat * lost, 0.0)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The coats from the first day to the last, each as high as what is brushed on, the thinner in the first light."""
    shapes: list[Shape] = []
    rows = [(day, out, thin) for _, day, out, thin in _coats(inputs, answers)]
    wide, high = rows[-1][0], max(out + thin for _, out, thin in rows)
    up = wide / 3 / high
    for day, out, thin in rows:
        low, top = up * out, up * (out + thin)
        coat, thinner = corners(day - 1, 0.0, day, low), corners(day - 1, low, day, top)
        shapes += [Fill(coat), *loop(*coat)]
        if thin:
            shapes += [Fill(thinner, "off"), *loop(*thinner, pen="light")]
    shapes.append(Line(0.0, 0.0, wide, 0.0))
    shapes += [Label(day - 0.5, -wide / 15, f"day {day}") for day in sorted({1, wide})]
    shapes.append(Shown(wide / 2, up * high / 2, "volume", "to buy {}"))
    return Drawing("the coats by days, what each takes to scale", tuple(shapes))


def rags(inputs: Inputs, answers: Answers) -> str | None:
    """Where the coating is oil."""
    if inputs.kind != "oil":
        return None
    return "Rags with drying oil in them catch fire by themselves: lay them out flat outdoors, or under water in a tin."


def no_varnish_over(inputs: Inputs, answers: Answers) -> str | None:
    """Where the coating is primer."""
    if inputs.kind != "primer":
        return None
    return "Primer goes under paint: work out the paint as well."


CALCULATOR = declared(
    globals(),
    question="How much varnish, oil or paint does it take, and how many days?",
    headline="volume",
    cautions=(
        rags,
        "Solvents: doors open, no flame, no spark; gloves, and a mask for vapour where the tin asks for one.",
        "The tin's coverage, thinner and times come first; cold and damp make every wait longer.",
        no_varnish_over,
        "End grain twice with the first coat: the second as soon as the first has soaked in.",
    ),
    sources=(
        "Area along the spar: frusta, and Gauss and Legendre's sums of the sections (geometry).",
        "Coverage, coats, thinning and waits by kind (common practice, from memory).",
        "Sizes of tins: United States pints, quarts and gallons; litres elsewhere (common practice, no source).",
    ),
)
