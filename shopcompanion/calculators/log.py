"""Log: what was measured on the spar, against what it is meant to be; and a new target where it is too thin."""

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from ..calculator import Column, Table, declared
from ..drawing.shapes import Drawing, Fill, Label, Line, Shape, Shown
from ..errors import InputFault
from ..fields import Choice, Length, Pairs, Share, Value
from ..record import Annotated, NamedTuple, Record
from ..spar import log
from ..spar.log import MeasuredStation
from ..spar.measures import Measure, Measures
from ..spar.outline import LAWS, Outline, named
from ..spar.target import kept as kept_of
from ..spar.target import new_target, points
from .along_spar import Law, Rows

_MEASURED = "what was measured, less what is meant there"
_PROGRAMME = "linear programme: the largest fair spar of the law that is within the measures and the design"
_SOLID = "a solid section, its width to the fourth power; of an oval width·depth³ of the worse way"
_WIDTHS = ("station", "width")
_WAYS = ("across", "deep")


class Inputs(Record):
    measured: Annotated[tuple[Measure, ...] | None, Measures("Measured", above=0, at_most=2000, follows="spar.log")] = (
        None
    )
    outline: Annotated[Rows, Pairs("Widths meant", above=0, at_most=2000, columns=_WIDTHS, follows="spar.outline")]
    law: Law = "straight"
    depths: Annotated[
        Rows | None,
        Pairs("Depths of an oval", above=0, at_most=2000, columns=("station", "depth"), follows="spar.depths"),
    ] = None
    tolerance: Annotated[float, Length("Tolerance", at_least=0, at_most=20, metric=0.5)] = 25.4 / 64
    fair_ok: Annotated[float, Length("Hump allowed", at_least=0, at_most=20, metric=1.0)] = 25.4 / 32


class Answers(Record):
    verdict: Annotated[
        str,
        Choice(
            "The spar is",
            options=("nothing measured", "wood to come off", "at size", "too thin"),
            source="too thin, if any least width is under by more than the tolerance; else to come off, if any is over",
        ),
    ]
    to_come_off: Annotated[float | None, Length("Most to come off", source=f"the mean of {_MEASURED}")]
    each_face: Annotated[
        float | None, Length("Off each face", formula="to_come_off / 2", source="the same from either side")
    ]
    to_come_off_at: Annotated[float | None, Length("Most to come off at", source="the measures")]
    under: Annotated[float | None, Length("Too thin by", source=f"the least of {_MEASURED}, with its sign turned")]
    under_at: Annotated[float | None, Length("Thinnest at", source="the measures")]
    out_of_round: Annotated[float | None, Length("Out of round by", source="largest less least width of a station")]
    out_of_round_at: Annotated[float | None, Length("Least round at", source="the measures")]
    line: Annotated[
        str,
        Choice(
            "Line of the spar",
            options=("not known", "fair", "humped", "hollow"),
            source="second differences of the measures against the design's, the worst one",
        ),
    ]
    hump: Annotated[float | None, Length("Hump (minus: hollow)", source="second difference, told as a height")]
    hump_at: Annotated[float | None, Length("Least fair at", source="the measures")]
    new_widths: Annotated[Rows | None, Pairs("New widths", columns=_WIDTHS, rounding="down", source=_PROGRAMME)]
    new_depths: Annotated[Rows | None, Pairs("New depths", columns=_WIDTHS, rounding="down", source=_PROGRAMME)]
    new_law: Annotated[
        str | None, Choice("New law", options=LAWS, source="the design's; a published table becomes faired")
    ]
    least_ratio: Annotated[
        float | None, Share("Width kept, least", called="width kept", source="the new width over the design's")
    ]
    stiffness_worst: Annotated[
        float | None, Share("Stiffness kept, thinnest place", formula="least_ratio⁴", source=_SOLID)
    ]
    stiffness_tip: Annotated[
        float | None,
        Share(
            "Stiffness kept, whole",
            source="held at the heel, loaded at the head: ∫ x²/I dx of the design over that of the new (Simpson)",
        ),
    ]
    strength_worst: Annotated[
        float | None,
        Share("Strength kept, thinnest place", formula="least_ratio³", source="a solid section, its width cubed"),
    ]


class Way(NamedTuple):
    """One way of a spar: the only one of a round, the width or the depth of an oval."""

    name: str
    design: Outline
    stations: tuple[MeasuredStation, ...]
    humps: tuple[float | None, ...]


def ways(inputs: Inputs) -> tuple[Way, ...]:
    """What was measured, by ways. InputFault, naming its field, where a measure contradicts the spar."""
    oval = inputs.depths is not None
    ways_along = []
    for way, (name, rows) in enumerate((("outline", inputs.outline), ("depths", inputs.depths))):
        if rows is None:
            continue
        design = named(name, rows, inputs.law)
        if oval and [at for at, _ in rows] != [at for at, _ in inputs.outline]:
            raise InputFault("the depths are not at the stations of the widths; give both at the same ones", "depths")
        stations = log.measured_stations(design, inputs.measured or (), way if oval else None)
        ways_along.append(Way(_WAYS[way], design, stations, log.humps(stations)))
    return tuple(ways_along)


def work(inputs: Inputs) -> Answers:
    along = ways(inputs)
    stations = [station for way in along for station in way.stations]
    states = {station.state(inputs.tolerance) for station in stations}
    thin = "thin" in states
    verdict = "too thin" if thin else "wood to come off" if "to come off" in states else "at size"
    high = max(stations, key=lambda station: station.to_come_off, default=None)
    low = min(stations, key=lambda station: station.least - station.meant) if thin else None
    spread = [(station.out_of_round, station.at) for station in stations if station.out_of_round is not None]
    out_of_round, out_of_round_at = max(spread, default=(None, None))
    uneven = [
        (hump, station.at)
        for way in along
        for station, hump in zip(way.stations, way.humps, strict=True)
        if hump is not None
    ]
    hump, hump_at = max(uneven, key=lambda uneven_at: abs(uneven_at[0]), default=(None, None))
    new = _new(along) if thin else None
    kept = kept_of(*new) if new else None
    return Answers(
        verdict=verdict if stations else "nothing measured",
        to_come_off=high and max(0.0, high.to_come_off),
        each_face=high and max(0.0, high.to_come_off / 2),
        to_come_off_at=high.at if high and high.to_come_off > 0 else None,
        under=low and low.meant - low.least,
        under_at=low and low.at,
        out_of_round=out_of_round,
        out_of_round_at=out_of_round_at,
        line=_line(hump, inputs.fair_ok),
        hump=hump,
        hump_at=hump_at,
        new_widths=new and new[1][0].stations,
        new_depths=new[1][1].stations if new and inputs.depths else None,
        new_law=new and new[1][0].law,
        least_ratio=kept and kept.least_ratio,
        stiffness_worst=kept and kept.stiffness_worst,
        stiffness_tip=kept and kept.stiffness_tip,
        strength_worst=kept and kept.strength_worst,
    )


def _new(along: tuple[Way, ...]) -> tuple[tuple[Outline, Outline], tuple[Outline, Outline]]:
    """The design and the new target, each as width and depth; of a round both are the same."""
    new = [new_target(way.design, [(station.at, station.least) for station in way.stations]) for way in along]
    return (along[0].design, along[-1].design), (new[0], new[-1])


def _line(hump: float | None, fair_ok: float) -> str:
    if hump is None:
        return "not known"
    return "fair" if abs(hump) <= fair_ok else "humped" if hump > 0 else "hollow"


def formulas(inputs: Inputs) -> Mapping[str, str]:
    if inputs.depths is None:
        return {}
    return dict.fromkeys(("stiffness_worst", "strength_worst"), "")


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    along = ways(inputs)
    which = (Column("way", Choice("Measured", options=_WAYS)),) if len(along) > 1 else ()
    parts = []
    if answers.verdict != "nothing measured":
        rows = sorted(
            ((station, way.name, hump) for way in along for station, hump in zip(way.stations, way.humps, strict=True)),
            key=lambda row: (row[0].at, row[1]),
        )
        columns = (
            Column("at", Length("Station")),
            *which,
            Column("meant", Length("Meant")),
            Column("measured", Length("Measured")),
            Column("to_come_off", Length("To come off")),
            Column("each_face", Length("Each face")),
            Column("state", Choice("Is", options=("to come off", "at size", "thin"))),
        )
        sizes = []
        for row, name, _ in rows:
            off = row.to_come_off
            said: tuple[Value, ...] = (row.meant, row.mean, off, off / 2, row.state(inputs.tolerance))
            sizes.append((row.at, *((name,) if which else ()), *said))
        parts.append(Table("stations", columns, tuple(sizes)))
        columns = (
            Column("at", Length("Station")),
            *which,
            Column("least", Length("Least")),
            Column("most", Length("Largest")),
            Column("out_of_round", Length("Out of round")),
            Column("hump", Length("Hump")),
            Column("line", Choice("Line", options=("not known", "fair", "humped", "hollow"))),
        )
        shape = [
            (
                row.at,
                *((name,) if which else ()),
                *(row.least, row.most, row.out_of_round, hump, _line(hump, inputs.fair_ok)),
            )
            for row, name, hump in rows
        ]
        parts.append(Table("shape", columns, tuple(shape)))
    if answers.new_widths is not None:
        columns = (
            Column("at", Length("Station")),
            *which,
            Column("design", Length("Design")),
            Column("new", Length("New target", rounding="down")),
            Column("less", Length("Less by")),
        )
        changed: list[tuple[Value, ...]] = []
        new = [rows for rows in (answers.new_widths, answers.new_depths) if rows is not None]
        for way, stations in zip(along, new, strict=True):
            for (at, was), (_, now) in zip(way.design.stations, stations, strict=True):
                changed.append((at, *((way.name,) if which else ()), was, now, was - now))
        parts.append(Table("target", columns, tuple(changed)))
    return tuple(parts)


def drawing(inputs: Inputs, answers: Answers) -> Drawing | None:
    """The width along the spar as measured over the width meant; None where nothing is measured."""
    along = ways(inputs)
    if answers.verdict == "nothing measured":
        return None
    length = along[0].design.length
    sizes = [size for way in along for station in way.stations for size in (station.meant, station.least, station.most)]
    sizes += [width for way in along for _, width in way.design.stations]
    floor, span = min(sizes), max(max(sizes) - min(sizes), 1.0)
    times = 0.4 * length / span

    def up(width: float) -> float:
        return (width - floor) * times

    shapes: list[Shape] = [*_tones(along[0], up, length)] if len(along) == 1 else []
    for way in along:
        ats = sorted({*(station.at for station in way.stations), *points(way.design)})
        meant = [(at, up(way.design.width_at(at))) for at in ats]
        shapes += [Line(*a, *b, "light") for a, b in pairwise(meant)]
        real = [(station.at, up(station.mean)) for station in way.stations]
        shapes += [Line(*a, *b) for a, b in pairwise(real)]
        for station in way.stations:
            shapes.append(Line(station.at, up(station.least), station.at, up(station.most)))
            if station.state(inputs.tolerance) == "thin":
                shapes.append(Label(station.at, up(station.least) - 0.06 * length, "thin"))
        if len(along) > 1:
            shapes.append(Label(length / 2, up(way.design.width_at(length / 2)), way.name))
    shapes.append(Shown(length / 2, -0.1 * length, "verdict"))
    title = f"width along the spar, measured, meant dotted; {times:.0f} times too thick, not to scale"
    return Drawing(title, tuple(shapes))


def _tones(way: Way, up: Callable[[float], float], length: float) -> Iterator[Fill]:
    """What stays and what comes off between the first and the last station that was measured."""
    real = [(station.at, up(station.mean)) for station in way.stations]
    (first, _), (last, _) = real[0], real[-1]
    ats = sorted({first, last, *(at for at in points(way.design) if first < at < last), *(at for at, _ in real)})
    meant = [(at, up(way.design.width_at(at))) for at in ats]
    low, high = -0.05 * length, 0.5 * length
    yield Fill((*real, (last, low), (first, low)), "off")
    yield Fill((*meant, (last, low), (first, low)))
    yield Fill((*real, (last, high), (first, high)), "air")


def girths(inputs: Inputs, answers: Answers) -> str | None:
    """Where a girth is among what was measured."""
    if all(girth is None for _, _, girth in inputs.measured or ()):
        return None
    return (
        "A girth gives the mean width of a round and hides a thin side; where the spar is square or eight-sided, "
        "measure across the flats."
    )


def weaker(inputs: Inputs, answers: Answers) -> str | None:
    """Where a place is too thin."""
    if answers.verdict != "too thin":
        return None
    return (
        "The new target makes a weaker spar: a guide, not an approval; ask the designer. Measure between the stations "
        "too, for only what was measured is used."
    )


def heads(inputs: Inputs, answers: Answers) -> tuple[str, ...]:
    """What is too thin, by how much and where, else what is to come off."""
    if answers.verdict == "too thin":
        return "verdict", "under", "under_at"
    return "verdict", "to_come_off", "to_come_off_at"


CALCULATOR = declared(
    globals(),
    question="What is still to come off, and is anything too thin?",
    headline="verdict",
    cautions=(weaker, girths, "Measure with the spar and every tool at rest; two ways at least, at right angles."),
    sources=(
        "Tolerance: half a division of a 1/32 in rule; a hump is told from three measures, so it may be twice that.",
        "Mean width of a section that is nowhere hollow: girth/π (Cauchy; geometry).",
        "Fairness: second divided differences of the measured widths against the design's.",
        "New target: a linear programme, by the simplex method or HiGHS.",
        "Bending of a solid spar held at its heel and loaded at its head (Euler–Bernoulli); a hollow one keeps less.",
    ),
)
