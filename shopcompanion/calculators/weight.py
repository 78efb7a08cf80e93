"""Weight: how heavy a spar is, where it balances, and what each of its parts weighs."""

from collections.abc import Mapping

from ..calculator import Column, Table, declared
from ..drawing.shapes import Dimension, Drawing, Fill, Label, Line, Shape, Shown, loop
from ..fields import Choice, Count, Length, Ratio, Text, Value
from ..quantities import Density, Mass, Percent, Volume
from ..record import Annotated, Record
from ..spar.body import Body
from ..spar.section import SECTIONS
from ..spar.whole import WholeSpar
from ..timber.moisture import density, gravity
from ..timber.species import Named, Own, Timbers
from .sized import body, is_whole
from .timber_asked import timber_asked

ONE_PERSON = 23.0  # kg: the load constant of NIOSH's lifting equation, Publication 94-110
_SLIM = 7  # a drawing is that much longer than it is high
_PIECES = 24  # straight lines that its side is drawn with
_PER_SQUARE = {"round": "π/4", "oval": "π/4", "square": "1", "eight": "2·tan(π/8)"}
_SUM = "the sections summed along it: of a straight taper a frustum"
_CARRIED = "as a lever: carried at both ends, or laid on a trestle at each"
_IN_METRES = "{| / 1000³}"  # a volume is shown in in³ or m³
_TABLE = "as published, or as the boat's own timber has it"
_PUBLISHED = "Wood Handbook, FPL-GTR-282"


def _volume(share: str) -> str:
    return f"{share}·length/3·(butt² + butt·head + head²){_IN_METRES}"


class Inputs(Record):
    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    species: Annotated[str, Named("Timber", follows="spar.species")]
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    mc: Annotated[float, Percent("Moisture", at_least=0, at_most=200)] = 12.0
    length: Annotated[float, Length("Length", above=0, follows="spar.length")]
    butt: Annotated[float, Length("Width at the heel", above=0, at_most=2000, follows="spar.butt")]
    head: Annotated[float, Length("Width at the head", above=0, at_most=2000, follows="spar.head")]
    section: Annotated[str, Choice("Section", options=SECTIONS, follows="spar.section")] = "round"
    depth: Annotated[
        float | None, Length("Depth at the heel, if oval", called="depth at the heel", above=0, at_most=2000)
    ] = None
    wall: Annotated[float | None, Length("Wall, if hollow", called="wall", above=0, at_most=1000)] = None


class Answers(Record):
    mass: Annotated[float, Mass("Mass", formula="density·volume{ / 1728|}", source="mass is density times volume")]
    balance_at: Annotated[
        float,
        Length(
            "Balance point, from the heel",
            called="balance point",
            formula="length/4·(butt² + 2·butt·head + 3·head²) / (butt² + butt·head + head²)",
            source=f"{_SUM}, and its centroid",
        ),
    ]
    at_heel: Annotated[float, Mass("Load at the heel", formula="mass·(length − balance_at) / length", source=_CARRIED)]
    at_head: Annotated[float, Mass("Load at the head", formula="mass·balance_at / length", source=_CARRIED)]
    volume: Annotated[float, Volume("Volume of wood", called="volume", formula=_volume("π/4"), source=_SUM)]
    density: Annotated[
        float, Density("Density", formula="{62.4280|1000}·gravity·(1 + mc/100)", source=f"{_PUBLISHED} eq. 4-14")
    ]
    gravity: Annotated[
        float,
        Ratio(
            "Specific gravity then",
            called="specific gravity",
            formula="gravity_12 / (1 + 0.265·gravity_12·(min(mc, 30) − 12)/30)",
            source=f"{_PUBLISHED} eq. 4-13, from 12 %; above 30 % the size stays",
        ),
    ]
    gravity_12: Annotated[float, Ratio("Specific gravity at 12 %", source=_TABLE)]
    mass_taken: Annotated[
        float | None, Mass("Wood cut away for fittings", source="their segments and strips, none of them twice")
    ]
    timber: Annotated[str, Text("Timber used", source="the timber of that name", longest=200)]
    species_source: Annotated[str | None, Text("Source of its figures", source="where they are published", longest=400)]
    species_mark: Annotated[str | None, Text("How checked", source="the table's own word", longest=400)]


def work(inputs: Inputs) -> Answers:
    timber = timber_asked(inputs.species, inputs.own)
    spar = body(inputs)
    volume, thick = spar.volume(), density(timber.sg12, inputs.mc)
    balance = spar.moment() / volume
    mass = thick * volume / 1000**3
    taken = thick * spar.taken() / 1000**3
    return Answers(
        mass=mass,
        balance_at=balance,
        at_heel=mass * (spar.length - balance) / spar.length,
        at_head=mass * balance / spar.length,
        volume=volume,
        density=thick,
        gravity=gravity(timber.sg12, inputs.mc),
        gravity_12=timber.sg12,
        mass_taken=taken or None,
        timber=timber.name,
        species_source=timber.source or None,
        species_mark=timber.mark or None,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    if is_whole(inputs):
        return {"volume": "", "balance_at": ""}
    if inputs.section == "hollow":
        if inputs.wall is None:
            return {"volume": "", "balance_at": ""}
        return {
            "volume": f"π·wall·length·((butt + head)/2 − wall){_IN_METRES}",
            "balance_at": "length/3·(butt + 2·head − 3·wall) / (butt + head − 2·wall)",
        }
    share = _PER_SQUARE[inputs.section]
    if inputs.section == "oval":
        if inputs.depth is None:
            return {"volume": ""}
        share += "·depth/butt"
    return {"volume": _volume(share)}


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The parts between joints, each by itself: where it lies, what it weighs and where it balances."""
    columns = (
        Column("part", Count("Part")),
        Column("start", Length("From")),
        Column("end", Length("To")),
        Column("mass", Mass("Mass")),
        Column("taken", Mass("Cut away for fittings")),
        Column("balance", Length("Balance point, from its heel")),
    )
    spar, thick = body(inputs), answers.density / 1000**3
    rows: list[tuple[Value, ...]] = []
    for number, part in enumerate(spar.parts, 1):
        start, end = part.start, part.end
        volume = spar.volume(start, end)
        taken = thick * spar.taken(start, end) if answers.mass_taken else None
        rows.append((number, start, end, thick * volume, taken, spar.moment(start, end) / volume - start))
    return (Table("parts", columns, tuple(rows)),)


def not_whole(inputs: Inputs, answers: Answers) -> str | None:
    """Where sizes are typed over those of a spar of the boat."""
    if inputs.whole is None or is_whole(inputs):
        return None
    return "These numbers are for a plain taper as typed, without the spar's own stations, sections and fittings."


def too_heavy(inputs: Inputs, answers: Answers) -> str | None:
    """Where the spar weighs more than 23 kg (51 lb)."""
    if answers.mass <= ONE_PERSON:
        return None
    return "Over 23 kg (51 lb), the NIOSH limit for one person in ideal conditions: lift it with two."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The spar from its side, its thickness drawn too big, on a point at its balance."""
    spar = body(inputs)
    length, widest = spar.length, spar.outline.widest
    scale = length / _SLIM / widest
    upper = [(at, scale * spar.width_at(at) / 2) for at in spar.outline.evenly(_PIECES)]
    side = (*upper, *((at, -y) for at, y in reversed(upper)))
    shapes: list[Shape] = [Fill(side), *loop(*side)]
    for joint in spar.joints:
        half = scale * spar.width_at(joint.at) / 2
        shapes.append(Line(joint.at, -half, joint.at, half, "light"))
    at = answers.balance_at
    under = -scale * spar.width_at(at) / 2
    high = scale * widest / 2 + length / 30
    foot, low = length / 40, under - length / 20
    shapes += loop((at, under), (at - foot, low), (at + foot, low))
    shapes.append(Dimension(0.0, low - foot, at, low - foot, at))
    shapes += [Label(0.0, high, "heel"), Label(length, high, "head"), Shown(0.75 * length, 0.0, "mass")]
    return Drawing(f"where it balances; thickness exaggerated {scale:.0f} times, length to scale", tuple(shapes))


CALCULATOR = declared(
    globals(),
    question="How heavy is it, and where does it balance?",
    headline="mass",
    cautions=(
        not_whole,
        too_heavy,
        "Finished wood only, without ironwork, glue and varnish. The blank weighs more.",
        "Boards differ: weigh an offcut of yours and compare its density.",
    ),
    sources=(
        "Density at a moisture: USDA Wood Handbook, FPL-GTR-282 (2021), eq. 4-13 and 4-14.",
        "Volume and centroid along the spar: frusta, and Gauss and Legendre's sums of the sections (geometry).",
        "23 kg: load constant of NIOSH's lifting equation, Publication 94-110.",
    ),
)
