"""Jaws: two cheeks on the gaff's heel that clear the mast, bear on it at the throat and hold it when lowered.

How the mast lies in them is in `jaws_mast`. Distances along the gaff are from the bottom of the throat, half way
through the plank, positive towards the mast.
"""

from collections.abc import Mapping
from math import asin, ceil, cos, floor, pi, radians, sqrt, tan

from ..calculator import Column, Said, Table, declared
from ..errors import InputFault
from ..fields import Angle, Choice, Count, Length, Lengths, Ratio, Value
from ..record import Annotated, Record
from .jaws_drawn import drawing  # noqa: F401  (declared() finds it by its name)
from .jaws_mast import angles, bevel, middle, parrel
from .seat import best_cove, sagitta

ON_POLE = 4  # gaff's widths that the cheeks lie along it
RODS_APART = 2  # gaff's widths between rods at the most
STEEPEST = 80.0  # degrees from square to the mast
HERE, ELSEWHERE = "this spar", "another spar"
_PRACTICE = "common practice, no source"
_CYLINDER = "a cylinder cut by a plane on the slant"
_TANGENTS = "two tangents and an arc; a line round a cylinder lies level"
_SUM = "what the rod goes through"


class Inputs(Record):
    mast_diameter: Annotated[
        float, Length("Mast at its largest", called="mast", above=0, at_most=1000, follows="boat.mast")
    ]
    gaff_width: Annotated[float, Length("Gaff at its heel", called="gaff", above=0, at_most=1000, follows="spar.pole")]
    peak_angle: Annotated[
        float, Angle("Peak angle, above level", called="angle peaked", at_least=0, at_most=75, follows="spar.peak")
    ] = 45.0
    lowered_angle: Annotated[float, Angle("Lowered to", called="angle lowered", at_least=-45, at_most=75)] = 0.0
    rake: Annotated[float, Angle("Mast rakes aft", called="rake of the mast", at_least=-30, at_most=30)] = 0.0
    leather: Annotated[float, Length("Leather", at_least=0, at_most=50, metric=3.0)] = 3.175
    clearance: Annotated[float, Length("Clearance a side", called="clearance", at_least=0, at_most=100, metric=5.0)] = (
        4.7625
    )
    plank: Annotated[float, Length("Plank of the cheeks", called="plank", above=0, at_most=500, metric=25.0)] = 25.4
    seat: Annotated[str, Choice("Cheeks sit on", options=("flat", "cove"))] = "flat"
    coves: Annotated[
        tuple[float, ...] | None, Lengths("Coves on the rack", above=0, at_most=1000, follows="shop.coves")
    ] = None
    flat: Annotated[float | None, Length("Or flats, this deep", called="depth of the flats", above=0, at_most=500)] = (
        None
    )
    past: Annotated[float, Ratio("Past middle, ratio", called="ratio past the middle", above=0, at_most=3)] = 0.5
    horn: Annotated[float | None, Length("Horns from throat", above=0, at_most=3000)] = None
    horn_width: Annotated[float | None, Length("Width of a horn", above=0, at_most=500)] = None
    cheek: Annotated[float | None, Length("Cheek, at the rods", called="cheek at the rods", above=0, at_most=1000)] = (
        None
    )
    on_pole: Annotated[float | None, Length("Cheeks on the gaff", above=0, at_most=3000)] = None
    rods: Annotated[
        int | None, Count("Rods through them", called="rods through the cheeks", at_least=1, at_most=20)
    ] = None
    rod: Annotated[float, Length("Rod's diameter", above=0, at_most=100, metric=6.0)] = 6.35
    washer: Annotated[float, Length("Washer's thickness", at_least=0, at_most=20, metric=1.5)] = 1.5875
    nut: Annotated[float | None, Length("Nut and thread end", at_least=0, at_most=100)] = None
    bead_diameter: Annotated[float, Length("Bead's diameter", above=0, at_most=200, metric=20.0)] = 19.05
    bead_spacing: Annotated[float, Length("Space between beads", at_least=0, at_most=200, metric=2.0)] = 1.5875
    turned: Annotated[
        float, Length("Leather turned over", called="turned over", at_least=0, at_most=100, metric=12.0)
    ] = 12.7
    goes_on: Annotated[str, Choice("Jaws go on", options=(HERE, ELSEWHERE), follows="spar.jaws_on")] = HERE


class Answers(Record):
    opening: Annotated[
        float,
        Length(
            "Opening", formula="mast_diameter + 2·(leather + clearance)", rounding="up", source="both sides of the mast"
        ),
    ]
    throat_radius: Annotated[
        float, Length("Throat's radius", formula="opening / 2", source="half round; the ellipse's end is sharper")
    ]
    throat_bevel: Annotated[
        float,
        Angle(
            "Throat's bevel", formula="peak_angle + rake", source="off square to the plank: along the mast when peaked"
        ),
    ]
    bevel_range: Annotated[
        float, Angle("Swings down through", formula="peak_angle − lowered_angle", source="peaked to lowered")
    ]
    bevel_off: Annotated[
        float,
        Length("Bevel, face to face", formula="plank·tan(throat_bevel)", source="the throat's slant in the plank"),
    ]
    lowered_bevel: Annotated[
        float,
        Angle("Off square, lowered", called="off square lowered", formula="lowered_angle + rake", source="to the mast"),
    ]
    gap_lowered: Annotated[
        float,
        Length("Lowered, open at one face", called="gap when lowered",
               source="the throat bears on the edge of the other",
               formula="plank·(tan(throat_bevel) − tan(lowered_bevel))"),
    ]  # fmt: skip
    long_axis: Annotated[
        float,
        Length("Mast, along the gaff", called="mast along the gaff", source=f"{_CYLINDER}, and through the plank",
               formula="mast_diameter/cos(throat_bevel) + plank·abs(tan(throat_bevel))"),
    ]  # fmt: skip
    mast_middle: Annotated[
        float,
        Length(
            "Mast's middle, at the most", called="mast's middle",
            source="from the throat, at the face where it is farthest",
            formula="leather/cos(throat_bevel) + max(long_axis/2, mast_diameter/2/cos(lowered_bevel)"
            " + gap_lowered/2 + plank/2·abs(tan(lowered_bevel)))",
        ),
    ]  # fmt: skip
    horn_length: Annotated[
        float,
        Length(
            "Horns, throat to tip",
            called="length of a horn",
            formula="mast_middle + past·mast_diameter/2",
            source=_PRACTICE,
            rounding="up",
        ),
    ]
    horn_reach: Annotated[
        float, Length("Horns past the mast's middle", formula="horn_length − mast_middle", source="at its farthest")
    ]
    seat_depth: Annotated[
        float,
        Length("Cheek's seat, each side", called="depth of the seat",
               formula="gaff_width/2 − √((gaff_width/2)² − seat_half²)",
               source="sagitta of the pole over the seat"),
    ]  # fmt: skip
    seat_half: Annotated[
        float, Length("Half the seat's width", formula="plank / 2", source="the plank, or as wide as the cove cuts")
    ]
    cove_used: Annotated[float | None, Length("Cove to use", called="cove", source="nearest that does not rock")]
    cheek_width: Annotated[
        float,
        Length("Cheek, across at the rods", called="width of a cheek",
               formula="opening/2 + horn_used − (gaff_width/2 − seat_depth)",
               source="its outside runs straight to the horn"),
    ]  # fmt: skip
    horn_used: Annotated[float, Length("Horn's width, used", called="horn's width", formula="plank", source=_PRACTICE)]
    heel_hollow: Annotated[
        float,
        Length("Heel, hollowed by", called="hollow of the heel",
               formula="throat_radius − √(throat_radius² − heel_half²)",
               source="the throat's curve across the gaff between its seats"),
    ]  # fmt: skip
    heel_half: Annotated[
        float,
        Length(
            "Half the heel's width", formula="min(gaff_width/2 − seat_depth, throat_radius)", source="between the seats"
        ),
    ]
    heel_off: Annotated[
        float,
        Length("Heel, longer underneath", called="slant of the heel", formula="gaff_width·tan(throat_bevel)",
               source="the throat's bevel through the gaff"),
    ]  # fmt: skip
    heel_waste: Annotated[
        float,
        Length("Left on beyond the heel", formula="heel_hollow + abs(heel_off)/2", rounding="up",
               source="the heel is the throat's bottom half way through"),
    ]  # fmt: skip
    along_pole: Annotated[float, Length("Cheeks along the gaff", formula=f"{ON_POLE}·gaff_width", source=_PRACTICE)]
    cheek_length: Annotated[
        float,
        Length(
            "Cut each cheek", formula="along_pole + horn_length", source="from its after end to the tip", rounding="up"
        ),
    ]
    rod_length: Annotated[
        float, Length("Rods, length", formula="bored_through + 2·(washer + nut_used)", source=_SUM, rounding="up")
    ]
    bored_through: Annotated[
        float,
        Length(
            "Bored through",
            called="length of the bore",
            formula="2·cheek_width + gaff_width − 2·seat_depth",
            source="both cheeks and the gaff",
        ),
    ]
    rods_used: Annotated[
        int, Count("Rods", formula=f"max(2, ceil(along_pole / ({RODS_APART}·gaff_width)))", source=_PRACTICE)
    ]
    rod_first: Annotated[
        float,
        Length(
            "First rod, from the heel", formula="along_pole / rods_used / 2", source="spread evenly along the cheeks"
        ),
    ]
    rod_apart: Annotated[
        float | None, Length("Rods apart", formula="along_pole / rods_used", source="spread evenly along the cheeks")
    ]
    nut_used: Annotated[
        float, Length("Nut and thread, each end", called="nut and thread", formula="rod", source=_PRACTICE)
    ]
    parrel_length: Annotated[
        float, Length("Parrel, horn to horn", called="length of the parrel", source=_TANGENTS, rounding="up")
    ]
    parrel_slack: Annotated[float, Length("Parrel slack, at most", source="over the range of angles")]
    parrel_ring: Annotated[
        float,
        Length(
            "Radius of the parrel's line",
            called="radius of the parrel",
            formula="mast_diameter/2 + clearance + bead_diameter/2",
            source="middle of beads",
        ),
    ]
    bead_count: Annotated[
        int,
        Count("Beads", source="chords of that circle, between the horns",
              formula="max(0, floor((parrel_length − horn_used) / "
              "(2·parrel_ring·asin((bead_diameter + bead_spacing) / 2 / parrel_ring))))"),
    ]  # fmt: skip
    leather_length: Annotated[
        float,
        Length("Leather, tip to tip", formula="2·horn_length + (π − 2)·throat_radius",
               source="down one horn, round the throat, up the other", rounding="up"),
    ]  # fmt: skip
    leather_width: Annotated[
        float,
        Length("Leather's width", formula="plank / cos(throat_bevel) + 2·turned", source="the bevel, turned over",
               rounding="up"),
    ]  # fmt: skip
    leather_mast: Annotated[
        float,
        Length("Leather, if on the mast", formula="π·(mast_diameter + leather)", source="butted, at mid thickness"),
    ]


def _seat(inputs: Inputs) -> tuple[float, float | None]:
    """Half the width of a cheek's seat, mm, and the radius of the cove that cuts it; None for a flat."""
    gaff, plank = inputs.gaff_width, inputs.plank
    if inputs.flat is not None:
        if inputs.seat != "flat":
            raise InputFault(
                "flats {} deep are for cheeks that sit on a flat, and these sit on a cove: leave it out",
                "flat",
                (inputs.flat,),
            )
        if inputs.flat >= gaff / 2:
            raise InputFault("{} on both sides leaves nothing of a gaff of {}; less than {} will do", "flat",
                             (inputs.flat, gaff, gaff / 2))  # fmt: skip
        return sqrt(inputs.flat * (gaff - inputs.flat)), None
    if inputs.seat == "flat":
        if plank > gaff:
            raise InputFault("a plank of {} is thicker than a gaff of {}; {} or less sits on a flat", "plank",
                             (plank, gaff, gaff))  # fmt: skip
        return plank / 2, None
    if not inputs.coves:
        raise InputFault("a cove bit of {} radius or less is needed, or seat flat", "coves", (gaff / 2,))
    cove = best_cove(inputs.coves, gaff)
    if cove is None:
        raise InputFault("each cove rocks on a gaff of {}; one of {} radius or less sits, or seat flat", "coves",
                         (gaff, gaff / 2))  # fmt: skip
    return min(plank / 2, cove, gaff / 2), cove


def _opening(inputs: Inputs) -> float:
    return inputs.mast_diameter + 2 * (inputs.leather + inputs.clearance)


def _heel_half(inputs: Inputs, deep: float) -> float:
    """Half the gaff's width between its seats, mm, at most half the throat's."""
    return min(inputs.gaff_width / 2 - deep, _opening(inputs) / 2)


def work(inputs: Inputs) -> Answers:
    mast, plank, gaff = inputs.mast_diameter, inputs.plank, inputs.gaff_width
    if inputs.lowered_angle > inputs.peak_angle:
        raise InputFault(f"is above the peak angle; {inputs.peak_angle:g}° or less will do", "lowered_angle")
    if inputs.rod >= plank:
        raise InputFault("a rod of {} does not go through a plank of {}; a third of the plank, {}, will do", "rod",
                         (inputs.rod, plank, plank / 3))  # fmt: skip
    steep = inputs.peak_angle + inputs.rake
    if not -STEEPEST <= inputs.lowered_angle + inputs.rake <= steep <= STEEPEST:
        reason = f"peaked to {inputs.peak_angle:g}° and lowered to {inputs.lowered_angle:g}°, "
        raise InputFault(f"{reason}the gaff must stay within {STEEPEST:g}° of square to the mast", "rake")
    peak, low = bevel(inputs), radians(inputs.lowered_angle + inputs.rake)
    opening = _opening(inputs)
    long_axis = mast / cos(peak) + plank * abs(tan(peak))
    farthest = max(
        middle(inputs, inputs.peak_angle) + plank / 2 * abs(tan(peak)),
        middle(inputs, inputs.lowered_angle) + plank / 2 * abs(tan(low)),
    )
    horn = farthest + inputs.past * mast / 2 if inputs.horn is None else inputs.horn
    if horn <= farthest:
        raise InputFault("{} ends short of the mast's middle, up to {} from the throat; {} holds the mast", "horn",
                         (horn, farthest, farthest + inputs.past * mast / 2))  # fmt: skip
    horn_width = plank if inputs.horn_width is None else inputs.horn_width
    widest_bead = 2 * inputs.leather + horn_width
    if inputs.bead_diameter > widest_bead:
        raise InputFault("{} is too thick to turn in behind the horns; {} or less will do", "bead_diameter",
                         (inputs.bead_diameter, widest_bead))  # fmt: skip
    half, cove = _seat(inputs)
    deep = sagitta(gaff / 2, half)
    cheek = opening / 2 + horn_width - (gaff / 2 - deep) if inputs.cheek is None else inputs.cheek
    if cheek <= 0:
        raise InputFault("{} is wider than the jaws outside; {} or less will do", "gaff_width",
                         (gaff, opening + 2 * horn_width))  # fmt: skip
    on_pole = ON_POLE * gaff if inputs.on_pole is None else inputs.on_pole
    nut = inputs.rod if inputs.nut is None else inputs.nut
    rods = max(2, ceil(on_pole / (RODS_APART * gaff) - 1e-9)) if inputs.rods is None else inputs.rods
    if rods * inputs.rod >= on_pole:
        raise InputFault(f"{rods} rods of {{}} do not lie apart along {{}}", "rods", (inputs.rod, on_pole))
    through = 2 * cheek + gaff - 2 * deep
    heel = _heel_half(inputs, deep)
    hollow, off = sagitta(opening / 2, heel), gaff * tan(peak)
    lines = [parrel(inputs, horn, horn_width, angle) for angle in angles(inputs, horn)]
    ring = mast / 2 + inputs.clearance + inputs.bead_diameter / 2
    pitch = inputs.bead_diameter + inputs.bead_spacing
    if pitch > 2 * ring:
        raise InputFault("{} leaves no room for a bead round the mast; {} or less will do", "bead_spacing",
                         (inputs.bead_spacing, 2 * ring - inputs.bead_diameter))  # fmt: skip
    return Answers(
        opening=opening,
        throat_radius=opening / 2,
        throat_bevel=steep,
        lowered_bevel=inputs.lowered_angle + inputs.rake,
        bevel_range=inputs.peak_angle - inputs.lowered_angle,
        bevel_off=plank * tan(peak),
        gap_lowered=plank * (tan(peak) - tan(low)),
        long_axis=long_axis,
        mast_middle=farthest,
        horn_length=horn,
        horn_reach=horn - farthest,
        seat_depth=deep,
        seat_half=half,
        cove_used=cove,
        cheek_width=cheek,
        horn_used=horn_width,
        heel_hollow=hollow,
        heel_half=heel,
        heel_off=off,
        heel_waste=hollow + abs(off) / 2,
        along_pole=on_pole,
        cheek_length=on_pole + horn,
        rod_length=through + 2 * (inputs.washer + nut),
        bored_through=through,
        rods_used=rods,
        rod_first=on_pole / rods / 2,
        rod_apart=on_pole / rods if rods > 1 else None,
        nut_used=nut,
        parrel_length=max(lines),
        parrel_slack=max(lines) - min(lines),
        parrel_ring=ring,
        bead_count=max(0, floor((max(lines) - horn_width) / (2 * ring * asin(pitch / 2 / ring)))),
        leather_length=2 * horn + (pi - 2) * opening / 2,
        leather_width=plank / cos(peak) + 2 * inputs.turned,
        leather_mast=pi * (mast + inputs.leather),
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums = {
        answer: given
        for answer, given in (
            ("horn_length", "horn"), ("horn_used", "horn_width"), ("cheek_width", "cheek"),
            ("along_pole", "on_pole"), ("nut_used", "nut"), ("rods_used", "rods"),
        )
        if getattr(inputs, given) is not None
    }  # fmt: skip
    if inputs.flat is not None:
        sums |= {"seat_depth": "flat", "seat_half": "√(flat·(gaff_width − flat))"}
    if inputs.seat == "cove":
        sums["seat_half"] = "min(plank/2, cove_used, gaff_width/2)"
    if inputs.on_pole is None and inputs.rods is None:
        sums["rods_used"] = f"{ON_POLE} / {RODS_APART}"  # gaff's widths, whatever the gaff
    half, _ = _seat(inputs)
    if _heel_half(inputs, sagitta(inputs.gaff_width / 2, half)) == _opening(inputs) / 2:
        sums["heel_hollow"] = "throat_radius"
    return sums


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """From lowered to peaked: what the mast takes along the gaff, where its middle is, what the parrel needs."""
    columns = (
        Column("angle", Angle("Angle")),
        Column("off_bevel", Angle("Off the bevel")),
        Column("along", Length("Mast, along the gaff")),
        Column("middle", Length("Mast's middle, from the throat")),
        Column("parrel", Length("Parrel, tight")),
    )
    rows = []
    for k in range(5 if answers.bevel_range else 1):
        angle = inputs.lowered_angle + (inputs.peak_angle - inputs.lowered_angle) * k / 4
        here = radians(angle + inputs.rake)
        along = inputs.mast_diameter / cos(here) + inputs.plank * abs(tan(here))
        tight = parrel(inputs, answers.horn_length, answers.horn_used, angle)
        rows.append((angle, inputs.peak_angle - angle, along, middle(inputs, angle), tight))
    return (Table("swing", columns, tuple(rows)),)


def thick_rod(inputs: Inputs, answers: Answers) -> Said:
    """Where the rod is thicker than a third of the plank."""
    if inputs.rod <= inputs.plank / 3:
        return None
    return "The rod takes over a third of the plank: {} or thinner weakens it less.", inputs.plank / 3


def swings(inputs: Inputs, answers: Answers) -> Said:
    """Where the throat of the lowered gaff opens wider than the leather is thick."""
    if answers.gap_lowered <= inputs.leather:
        return None
    return "Lowered, the throat opens {} at one face, more than the leather: ease the edges.", answers.gap_lowered


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """The jaws at the gaff's heel: how far the cheeks lie along it, the flats they sit on, and the rods' holes.

    None where the chosen spar is a mast: jaws go on the gaff or boom.
    """
    if inputs.goes_on != HERE:
        return None
    flat = {"flat": answers.seat_depth} if inputs.seat == "flat" else {}
    return {"at": 0.0, "kind": "jaws", "length": answers.along_pole, "face": "B and D", "hole": inputs.rod,
            "holes": answers.rods_used, **flat}  # fmt: skip


def goes_elsewhere(inputs: Inputs, answers: Answers) -> Said:
    """Where the chosen spar is not the one that the jaws go on."""
    if inputs.goes_on == HERE:
        return None
    return "These jaws are for a gaff {} wide at its heel: choose the gaff or boom to put them on.", inputs.gaff_width


CALCULATOR = declared(
    globals(),
    question="Which jaws clear the mast, bear on it and hold it?",
    headline="opening",
    cautions=(
        goes_elsewhere,
        swings,
        thick_rod,
        "Measure the mast where the jaws run, leathers and bands too. Make a template first.",
        "Saw curves with the blade guarded; nobody under a gaff that is being hoisted.",
    ),
    sources=(
        "A cylinder cut on the slant; tangents and an arc round it (geometry).",
        "Horn past the middle by a quarter of the mast, cheeks four widths long, a rod for every two widths (common "
        "practice, no source).",
    ),
)
