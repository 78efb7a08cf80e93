"""Jaws: two cheeks on the gaff's heel that clear the mast, bear on it at the throat and hold it when lowered.

The jaws are sawn from a plank that lies in the plane of the gaff and of the athwartships line. At θ above horizontal
that plane cuts the mast in an ellipse, D across and D/cos θ along the gaff, and from one face of the plank to the other
the ellipse moves by plank·tan θ along it. Distances along the gaff are from the bottom of the throat, half way through
the plank, positive towards the mast.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import acos, asin, atan, atan2, cos, degrees, floor, hypot, pi, radians, tan
from typing import Annotated

from ..calculator import Calculator, Column, Said, Table
from ..errors import InputFault
from ..fields import Angle, Choice, Count, Length, Lengths, Ratio, Value
from .jaws_drawn import drawing
from .seat import best_cove, sagitta

ON_POLE = 4  # gaff's widths that the cheeks lie along it
_PRACTICE = "common practice, no source"
_CYLINDER = "a cylinder cut by a plane on the slant"
_TANGENTS = "two tangents and an arc; a line round a cylinder lies level"
_SUM = "what the rod goes through"


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    mast_diameter: Annotated[float, Length("Mast at its largest", above=0, at_most=1000, follows="boat.mast")]
    gaff_width: Annotated[float, Length("Gaff at its heel", above=0, at_most=1000, follows="spar.butt")]
    peak_angle: Annotated[float, Angle("Peaked, above level", at_least=0, at_most=75, follows="spar.peak")] = 45.0
    lowered_angle: Annotated[float, Angle("Lowered to", at_least=-45, at_most=75)] = 0.0
    leather: Annotated[float, Length("Leather", at_least=0, at_most=50)] = 3.0
    clearance: Annotated[float, Length("Clearance a side", at_least=0, at_most=100)] = 5.0
    plank: Annotated[float, Length("Plank of the cheeks", above=0, at_most=500)] = 25.4
    seat: Annotated[str, Choice("Cheeks sit on", options=("flat", "cove"))] = "flat"
    coves: Annotated[
        tuple[float, ...] | None, Lengths("Coves on the rack", above=0, at_most=1000, follows="shop.coves")
    ] = None
    past: Annotated[float, Ratio("Past middle, ratio", above=0, at_most=3)] = 0.5
    horn: Annotated[float | None, Length("Horns from throat", above=0, at_most=3000)] = None
    horn_width: Annotated[float | None, Length("Width of a horn", above=0, at_most=500)] = None
    cheek: Annotated[float | None, Length("Cheek, at the rods", above=0, at_most=1000)] = None
    on_pole: Annotated[float | None, Length("Cheeks on the gaff", above=0, at_most=3000)] = None
    rod: Annotated[float, Length("Rod's diameter", above=0, at_most=100)] = 6.35
    washer: Annotated[float, Length("Washer's thickness", at_least=0, at_most=20)] = 1.5
    nut: Annotated[float | None, Length("Nut and thread end", at_least=0, at_most=100)] = None
    bead_diameter: Annotated[float, Length("Bead's diameter", above=0, at_most=200)] = 19.05
    bead_spacing: Annotated[float, Length("Space between beads", at_least=0, at_most=200)] = 2.0
    turned: Annotated[float, Length("Leather turned over", at_least=0, at_most=100)] = 12.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    opening: Annotated[
        float,
        Length("Opening", formula="mast_diameter + 2·(leather + clearance)", way="up", source="both sides of the mast"),
    ]
    throat_radius: Annotated[
        float, Length("Throat's radius", formula="opening / 2", source="half round; the ellipse's end is sharper")
    ]
    throat_bevel: Annotated[
        float, Angle("Throat's bevel", formula="peak_angle", source="from square to the plank: upright when peaked")
    ]
    bevel_range: Annotated[
        float, Angle("Swings down through", formula="peak_angle − lowered_angle", source="peaked to lowered")
    ]
    bevel_off: Annotated[
        float,
        Length("Bevel, face to face", formula="plank·tan(peak_angle)", source="the throat's slant in the plank"),
    ]
    gap_lowered: Annotated[
        float,
        Length("Lowered, open at one face", source="the throat bears on the edge of the other",
               formula="plank·(tan(peak_angle) − tan(lowered_angle))"),
    ]  # fmt: skip
    long_axis: Annotated[
        float,
        Length("Mast, along the gaff", source=f"{_CYLINDER}, and through the plank",
               formula="mast_diameter/cos(peak_angle) + plank·tan(peak_angle)"),
    ]  # fmt: skip
    mast_middle: Annotated[
        float,
        Length(
            "Mast's middle, at the most", source="from the throat, at the face where it is farthest",
            formula="leather/cos(peak_angle) + max(long_axis/2, mast_diameter/2/cos(lowered_angle)"
            " + gap_lowered/2 + plank/2·abs(tan(lowered_angle)))",
        ),
    ]  # fmt: skip
    horn_length: Annotated[
        float,
        Length("Horns, throat to tip", formula="mast_middle + past·mast_diameter/2", source=_PRACTICE, way="up"),
    ]
    horn_reach: Annotated[
        float, Length("Horns reach past it", formula="horn_length − mast_middle", source="at its farthest")
    ]
    seat_depth: Annotated[
        float,
        Length("Cheek's seat, each side", formula="gaff_width/2 − √((gaff_width/2)² − seat_half²)",
               source="sagitta of the pole over the seat"),
    ]  # fmt: skip
    seat_half: Annotated[
        float, Length("Half the seat's width", formula="plank / 2", source="the plank, or as wide as the cove cuts")
    ]
    cove_used: Annotated[float | None, Length("Cove to use", formula="cove_used", source="nearest that does not rock")]
    cheek_width: Annotated[
        float,
        Length("Cheek, across at the rods", formula="opening/2 + horn_used − (gaff_width/2 − seat_depth)",
               source="its outside runs straight to the horn"),
    ]  # fmt: skip
    horn_used: Annotated[float, Length("Width of a horn", formula="plank", source=_PRACTICE)]
    along_pole: Annotated[float, Length("Cheeks along the gaff", formula=f"{ON_POLE}·gaff_width", source=_PRACTICE)]
    cheek_length: Annotated[
        float,
        Length("Cut each cheek", formula="along_pole + horn_length", source="from its after end to the tip", way="up"),
    ]
    rod_length: Annotated[
        float,
        Length(
            "Rods", formula="2·cheek_width + gaff_width − 2·seat_depth + 2·(washer + nut_used)", source=_SUM, way="up"
        ),
    ]
    nut_used: Annotated[float, Length("Nut and thread, each end", formula="rod", source=_PRACTICE)]
    parrel_length: Annotated[float, Length("Parrel, horn to horn", formula="parrel_length", source=_TANGENTS, way="up")]
    parrel_slack: Annotated[
        float, Length("Of it slack, at the most", formula="parrel_slack", source="over the range of angles")
    ]
    parrel_ring: Annotated[
        float,
        Length("Radius of its line", formula="mast_diameter/2 + clearance + bead_diameter/2", source="middle of beads"),
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
               source="down one horn, round the throat, up the other", way="up"),
    ]  # fmt: skip
    leather_width: Annotated[
        float,
        Length("Leather's width", formula="plank / cos(peak_angle) + 2·turned", source="the bevel, turned over",
               way="up"),
    ]  # fmt: skip
    leather_mast: Annotated[
        float,
        Length(
            "If the mast has it, round it", formula="π·(mast_diameter + leather)", source="butted, at mid thickness"
        ),
    ]


def lining(inputs: Inputs) -> float:
    """The leather at the bottom of the throat, mm along the gaff: it lies on the bevel, and is cut aslant."""
    return inputs.leather / cos(radians(inputs.peak_angle))


def middle(inputs: Inputs, angle: float) -> float:
    """The mast's middle from the throat, mm along the gaff half way through the plank, at `angle` in degrees."""
    here, off = radians(angle), tan(radians(inputs.peak_angle)) - tan(radians(angle))
    return lining(inputs) + inputs.mast_diameter / 2 / cos(here) + inputs.plank / 2 * abs(off)


def parrel(inputs: Inputs, horn: float, horn_width: float, angle: float) -> float:
    """A line round the mast from horn to horn, mm: level, through the tips at mid width, at `angle` in degrees."""
    ring = inputs.mast_diameter / 2 + inputs.clearance + inputs.bead_diameter / 2
    ahead = (horn - middle(inputs, angle)) * cos(radians(angle))
    aside = inputs.mast_diameter / 2 + inputs.leather + inputs.clearance + horn_width / 2
    off = hypot(ahead, aside)
    wrap = 2 * (atan2(aside, ahead) - acos(ring / off))
    return 2 * (off**2 - ring**2) ** 0.5 + ring * wrap if wrap > 0 else 2 * aside


def _angles(inputs: Inputs, horn: float) -> tuple[float, float, float]:
    """Both ends of the range, and between them the angle at which the horns stand farthest past the mast."""
    slope = inputs.plank / 2
    lever = horn - lining(inputs) - slope * tan(radians(inputs.peak_angle))
    best = degrees(atan(slope / lever)) if lever > 0 else inputs.peak_angle
    return (
        inputs.lowered_angle,
        min(max(best, inputs.lowered_angle), inputs.peak_angle),
        inputs.peak_angle,
    )


def _seat(inputs: Inputs) -> tuple[float, float | None]:
    """Half the seat's width, and the cove that cuts it."""
    gaff, plank = inputs.gaff_width, inputs.plank
    if inputs.seat == "flat":
        if plank > gaff:
            raise InputFault("{} is wider than a gaff of {}; a plank of {} or less sits on a flat", "plank",
                             (plank, gaff, gaff))  # fmt: skip
        return plank / 2, None
    if not inputs.coves:
        raise InputFault("a cove bit of {} radius or less is wanted, or seat flat", "coves", (gaff / 2,))
    cove = best_cove(inputs.coves, gaff)
    if cove is None:
        raise InputFault("each rocks on a gaff of {}; a cove of {} radius or less sits, or seat flat", "coves",
                         (gaff, gaff / 2))  # fmt: skip
    return min(plank / 2, cove, gaff / 2), cove


def work(inputs: Inputs) -> Answers:
    mast, plank, gaff = inputs.mast_diameter, inputs.plank, inputs.gaff_width
    if inputs.lowered_angle > inputs.peak_angle:
        raise InputFault(f"is above the peak; {inputs.peak_angle:g}° or less will do", "lowered_angle")
    if inputs.rod >= plank:
        raise InputFault("{} does not go through a plank of {}; a third of it, {}, will do", "rod",
                         (inputs.rod, plank, plank / 3))  # fmt: skip
    peak, low = radians(inputs.peak_angle), radians(inputs.lowered_angle)
    opening = mast + 2 * (inputs.leather + inputs.clearance)
    long_axis = mast / cos(peak) + plank * tan(peak)
    farthest = max(
        middle(inputs, inputs.peak_angle) + plank / 2 * tan(peak),
        middle(inputs, inputs.lowered_angle) + plank / 2 * abs(tan(low)),
    )
    horn = farthest + inputs.past * mast / 2 if inputs.horn is None else inputs.horn
    if horn <= farthest:
        raise InputFault("{} ends short of the mast's middle, {} from the throat at the most; {} holds it", "horn",
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
    lines = [parrel(inputs, horn, horn_width, angle) for angle in _angles(inputs, horn)]
    ring = mast / 2 + inputs.clearance + inputs.bead_diameter / 2
    pitch = inputs.bead_diameter + inputs.bead_spacing
    if pitch > 2 * ring:
        raise InputFault("{} leaves no room for a bead round the mast; {} or less will do", "bead_spacing",
                         (inputs.bead_spacing, 2 * ring - inputs.bead_diameter))  # fmt: skip
    return Answers(
        opening=opening,
        throat_radius=opening / 2,
        throat_bevel=inputs.peak_angle,
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
        along_pole=on_pole,
        cheek_length=on_pole + horn,
        rod_length=2 * cheek + gaff - 2 * deep + 2 * (inputs.washer + nut),
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
    found = {
        answer: given
        for answer, given in (
            ("horn_length", "horn"), ("horn_used", "horn_width"), ("cheek_width", "cheek"),
            ("along_pole", "on_pole"), ("nut_used", "nut"),
        )
        if getattr(inputs, given) is not None
    }  # fmt: skip
    if inputs.seat == "cove":
        found["seat_half"] = "min(plank/2, cove_used, gaff_width/2)"
        found["cove_used"] = "the largest of coves that is no more than gaff_width/2"
    return found | {
        "parrel_length": "the longest over the angles: two tangents to parrel_ring from the horns, and its arc",
        "parrel_slack": "parrel_length less the shortest over the angles",
    }


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """From lowered to peaked: what the mast takes along the gaff, where its middle is, what the parrel needs."""
    columns = (
        Column("angle", Angle("Angle")),
        Column("off_bevel", Angle("Off the bevel")),
        Column("along", Length("Mast, along the gaff")),
        Column("middle", Length("Its middle, from the throat")),
        Column("parrel", Length("Parrel, tight")),
    )
    rows = []
    for k in range(5 if answers.bevel_range else 1):
        angle = inputs.lowered_angle + (inputs.peak_angle - inputs.lowered_angle) * k / 4
        here = radians(angle)
        along = inputs.mast_diameter / cos(here) + inputs.plank * abs(tan(here))
        tight = parrel(inputs, answers.horn_length, answers.horn_used, angle)
        rows.append((angle, inputs.peak_angle - angle, along, middle(inputs, angle), tight))
    return (Table("swing", columns, tuple(rows)),)


def thick_rod(inputs: Inputs, answers: Answers) -> Said:
    if inputs.rod <= inputs.plank / 3:
        return None
    return "The rod takes over a third of the plank: {} or thinner is kinder to it.", inputs.plank / 3


def swings(inputs: Inputs, answers: Answers) -> Said:
    if answers.gap_lowered <= inputs.leather:
        return None
    return "Lowered, the throat opens {} at one face, more than the leather: ease its edges.", answers.gap_lowered


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """The jaws at the gaff's heel: how far the cheeks lie along it, the flats they sit on, and the rods' hole."""
    flat = {"flat": answers.seat_depth} if inputs.seat == "flat" else {}
    return {"at": 0.0, "kind": "jaws", "length": answers.along_pole, "face": "B and D", "hole": inputs.rod, **flat}


CALCULATOR = Calculator(
    name="jaws",
    question="Which jaws clear the mast, bear on it and hold it?",
    inputs=Inputs,
    answers=Answers,
    work=work,
    headline="opening",
    tables=tables,
    drawing=drawing,
    formulas=formulas,
    fitting=fitting,
    cautions=(
        swings,
        thick_rod,
        "Measure the mast where the jaws run, leathers and bands too. A template first.",
        "Saw curves with the blade guarded; nobody under a gaff that is being hoisted.",
    ),
    sources=(
        "A cylinder cut on the slant; tangents and an arc round it (geometry).",
        "Horn past the middle by a quarter of the mast, cheeks four widths long (common practice, no source).",
    ),
)
