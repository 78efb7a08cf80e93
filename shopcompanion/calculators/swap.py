"""Swap: the same spar of another timber, or hollow: how thick for the same stiffness and strength, how heavy."""

from ..calculator import Column, Table, Target, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Shape, Tone, along_arc
from ..errors import InputFault
from ..fields import Length, Ratio, Text, Value
from ..quantities import Mass, Stress
from ..record import Annotated, NamedTuple, Record
from ..spar.body import Body
from ..spar.whole import WholeSpar
from ..timber.moisture import density
from ..timber.species import Named, Own, Species, Timbers, published
from . import proved_spar, proving
from .timber_asked import timber_asked

_STIFF = "the same E·I: a section's second moment goes with its width to the fourth power"
_STRONG = "the same MOR·modulus of section, which goes with its width to the third power"


class Inputs(Record):
    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    species: Annotated[str, Named("Timber drawn for", follows="spar.species")]
    other: Annotated[str | None, Named("Other timber")] = None
    width: Annotated[float, Length("Width drawn", above=0, at_most=2000, follows="spar.largest")]
    length: Annotated[float | None, Length("Length", above=0, follows="spar.length")] = None
    wall_ratio: Annotated[float, Ratio("Wall, part of width", called="wall ratio", above=0, below=0.5)] = 0.2


class Answers(Record):
    wanted_width: Annotated[
        float,
        Length(
            "As stiff and as strong at", rounding="up", formula="max(stiff_width, strong_width)", source="the larger"
        ),
    ]
    stiff_width: Annotated[
        float, Length("As stiff at", formula="width·sqrt(sqrt(modulus_now/modulus_then))", source=_STIFF)
    ]
    strong_width: Annotated[
        float, Length("As strong at", formula="width·exp(ln(rupture_now/rupture_then)/3)", source=_STRONG)
    ]
    mass_now: Annotated[float | None, Mass("Weighs now", source="density at 12 % times volume")]
    mass_then: Annotated[
        float | None,
        Mass(
            "Weighs in the other timber",
            formula="mass_now·density_ratio·(wanted_width/width)²",
            source="all widths in proportion",
        ),
    ]
    hollow_width: Annotated[
        float,
        Length(
            "Hollow of the same stiffness at",
            rounding="up",
            formula="stiff_width / sqrt(sqrt(1 − (1 − 2·wall_ratio)²·(1 − 2·wall_ratio)²))",
            source=_STIFF,
        ),
    ]
    hollow_wall: Annotated[
        float, Length("Wall of the hollow", formula="wall_ratio·hollow_width", source="that part of its width")
    ]
    hollow_mass: Annotated[
        float | None,
        Mass("Weighs hollow",
             formula="mass_now·density_ratio·(hollow_width/width)²·(1 − (1 − 2·wall_ratio)²)",
             source="area of the ring"),
    ]  # fmt: skip
    same_outside_wall: Annotated[
        float | None,
        Length(
            "Wall at the same outside",
            rounding="up",
            formula="width/2·(1 − sqrt(sqrt(1 − modulus_now/modulus_then)))",
            source=_STIFF,
        ),
    ]
    timber_now: Annotated[str, Text("Timber now", longest=200, source="the name that is meant")]
    timber_then: Annotated[str, Text("Other timber", longest=200, source="as typed, or the lightest of the table")]
    modulus_now: Annotated[float, Stress("Stiffness now", source="the timber's figures")]
    modulus_then: Annotated[float, Stress("Stiffness then", source="the timber's figures")]
    rupture_now: Annotated[float, Stress("Strength now", source="the timber's figures")]
    rupture_then: Annotated[float, Stress("Strength then", source="the timber's figures")]
    density_ratio: Annotated[float, Ratio("Density then over now", source="at 12 % moisture")]


class Swapped(NamedTuple):
    """A spar of another timber: widths (mm), and what it weighs as a part of what it weighs now."""

    species: Species
    stiff: float
    strong: float
    mass_ratio: float

    @property
    def wanted(self) -> float:
        return max(self.stiff, self.strong)


def swapped(width: float, now: Species, then: Species) -> Swapped | None:
    """None where the other timber has no figures of strength or stiffness."""
    if not (now.modulus and now.rupture and then.modulus and then.rupture):
        return None
    stiff = width * (now.modulus / then.modulus) ** 0.25
    strong = width * (now.rupture / then.rupture) ** (1 / 3)
    heavier = density(then.sg12, proved_spar.MC) / density(now.sg12, proved_spar.MC)
    return Swapped(then, stiff, strong, heavier * (max(stiff, strong) / width) ** 2)


def _timber(name: str, own: Own | None, field: str) -> Species:
    known = timber_asked(name, own, field)
    if not (known.modulus and known.rupture):
        raise InputFault(f"{known.name} has no modulus of elasticity or of rupture; name another timber", field)
    return known


def timbers(inputs: Inputs) -> tuple[Species, ...]:
    """Every timber that is known, the boat's own first."""
    return (*(inputs.own.species if inputs.own else ()), *published())


def pair(inputs: Inputs) -> tuple[Species, Species]:
    """The timber now, and the other: as typed, or the one that makes the lightest spar. InputFault."""
    now = _timber(inputs.species, inputs.own, "species")
    if inputs.other is not None:
        return now, _timber(inputs.other, inputs.own, "other")
    others = [
        made for timber in timbers(inputs) if timber.name != now.name and (made := swapped(inputs.width, now, timber))
    ]
    return now, min(others, key=lambda made: made.mass_ratio).species


def volume_of(inputs: Inputs) -> float | None:
    """The spar's volume, mm³, with its largest width as typed; or that of a plain round of that width and length."""
    if inputs.whole is not None:
        whole = inputs.whole
        largest = max(width for outline in (whole.outline, whole.depths) if outline for _, width in outline.stations)
        return whole.volume() * (inputs.width / largest) ** 2
    return None if inputs.length is None else 0.7853981633974483 * inputs.width**2 * inputs.length


def work(inputs: Inputs) -> Answers:
    now, then = pair(inputs)
    made = swapped(inputs.width, now, then)
    assert made is not None
    assert now.modulus is not None  # as `pair` has seen to
    assert then.modulus is not None
    assert now.rupture is not None
    assert then.rupture is not None
    volume, ratio = volume_of(inputs), 1 - 2 * inputs.wall_ratio
    heavier = density(then.sg12, proved_spar.MC) / density(now.sg12, proved_spar.MC)
    mass = None if volume is None else density(now.sg12, proved_spar.MC) * volume * 1e-9
    hollow = made.stiff / (1 - ratio**4) ** 0.25
    room = 1 - now.modulus / then.modulus
    return Answers(
        wanted_width=made.wanted,
        stiff_width=made.stiff,
        strong_width=made.strong,
        mass_now=mass,
        mass_then=None if mass is None else mass * made.mass_ratio,
        hollow_width=hollow,
        hollow_wall=inputs.wall_ratio * hollow,
        hollow_mass=None if mass is None else mass * heavier * (hollow / inputs.width) ** 2 * (1 - ratio**2),
        same_outside_wall=inputs.width / 2 * (1 - room**0.25) if room > 0 else None,
        timber_now=now.name,
        timber_then=then.name,
        modulus_now=now.modulus,
        modulus_then=then.modulus,
        rupture_now=now.rupture,
        rupture_then=then.rupture,
        density_ratio=heavier,
    )


_COLUMNS = (
    Column("timber", Text("Timber", longest=200)),
    Column("stiff_width", Length("As stiff at")),
    Column("strong_width", Length("As strong at")),
    Column("wanted_width", Length("Both at", rounding="up")),
    Column("mass", Mass("Weighs")),
    Column("mass_ratio", Ratio("Of now")),
)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Every timber, the lightest spar first; last those without figures."""
    now, _ = pair(inputs)
    rows: list[tuple[Value, ...]] = []
    bare: list[tuple[Value, ...]] = []
    for timber in timbers(inputs):
        made = swapped(inputs.width, now, timber)
        if made is None:
            bare.append((f"{timber.name} (no figures)", None, None, None, None, None))
            continue
        mass = None if answers.mass_now is None else answers.mass_now * made.mass_ratio
        rows.append((timber.name, made.stiff, made.strong, made.wanted, mass, made.mass_ratio))
    rows.sort(key=lambda row: (row[5], row[0]))
    return (Table("timbers", _COLUMNS, (*rows, *bare)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """Both sections about one middle: today's dotted, the other timber's drawn, and its hollow beside it."""
    now, then, far = inputs.width / 2, answers.wanted_width / 2, inputs.width * 1.4
    out, hole = answers.hollow_width / 2, answers.hollow_width / 2 - answers.hollow_wall
    rounds = [Arc(0.0, 0.0, now, now, pen="light"), Arc(0.0, 0.0, then, then)]
    rounds += [Arc(far, 0.0, out, out), Arc(far, 0.0, hole, hole)]
    tones: tuple[Tone, ...] = ("off", "wood", "wood", "air")
    shapes: list[Shape] = [
        *(Fill(along_arc(arc), tone) for arc, tone in zip(rounds, tones, strict=True)), *rounds,
        Dimension(-then, 0.0, then, 0.0, answers.wanted_width, of="wanted_width"), Label(far, 0.0, "hollow"),
    ]  # fmt: skip
    return Drawing("the section, today's dotted, and hollow, to scale", tuple(shapes))


def target(inputs: Inputs, answers: Answers) -> Target | None:
    """A copy of the spar in the other timber, as thick as it has to be for both."""
    whole = inputs.whole
    if whole is None:
        return None
    ratio = answers.wanted_width / inputs.width
    widths, depths = (
        tuple((at, width * ratio) for at, width in outline.stations) if outline else ()
        for outline in (whole.outline, whole.depths)
    )
    wall = whole.wall * ratio if whole.wall else None
    return Target(widths, depths, answers.timber_then, wall, copy_as=f"in {answers.timber_then}")


def mixed(inputs: Inputs, answers: Answers) -> str | None:
    """Where one timber's figures come from BR 241 and the other's do not."""
    now, then = pair(inputs)
    if ("BR 241" in now.source) == ("BR 241" in then.source):
        return None
    return (
        "The figures come from different tests (20 mm specimens in BR 241): do not rank the two by a small difference."
    )


CALCULATOR = declared(
    globals(),
    question="How thick and how heavy in another timber, or hollow?",
    headline="wanted_width",
    cautions=(
        proving.GUIDANCE,
        mixed,
        "Fittings, partners and jaws have to fit the new width; what is let in takes more of a thinner spar.",
    ),
    sources=(
        "Stiffness E·I and strength MOR·I/c of similar sections (beam theory).",
        "Figures at 12 % moisture, of small clear wood: see each timber's own source under `species`.",
    ),
)
