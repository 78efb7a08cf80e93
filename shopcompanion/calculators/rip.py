"""Rip: one pass or two, what is left for the hand saw, and how wide the pieces are or must be."""

from collections.abc import Mapping
from math import floor, sqrt

from ..calculator import declared
from ..drawing.shapes import Dimension, Drawing, Fill, Line, Shape, Shown, corners, square
from ..errors import InputFault
from ..fields import Choice, Count, Length
from ..record import Annotated, Record

TILTS = ("upright", "tilted 45°")
_THROUGH = "the saw's depth of cut, as its maker gives it, is measured through the thickness"
_SLANT = "tilted, √2 times as much"


class Inputs(Record):
    thickness: Annotated[
        float, Length("Thickness to rip", called="thickness", above=0, at_most=2000, follows="spar.sawn")
    ]
    tilt: Annotated[str, Choice("Blade", options=TILTS)] = "upright"
    saw_depth: Annotated[
        float,
        Length(
            "Depth of cut, upright",
            called="depth of cut upright",
            above=0,
            at_most=1000,
            follows="shop.saw_depth",
            metric=75.0,
        ),
    ] = 76.2
    saw_depth_tilted: Annotated[
        float,
        Length(
            "Depth of cut, at 45°",
            called="depth of cut at 45°",
            above=0,
            at_most=1000,
            follows="shop.saw_depth_tilted",
            metric=50.0,
        ),
    ] = 50.8
    kerf: Annotated[float, Length("Kerf of the saw", above=0, at_most=50, follows="shop.kerf", metric=3.0)] = 3.175
    pieces: Annotated[int, Count("Pieces wanted", called="pieces", at_least=1, at_most=100)] = 2
    finished: Annotated[float | None, Length("Finished width", above=0, at_most=2000, follows="spar.largest")] = None
    bow: Annotated[float, Length("Bow of the timber", called="bow", at_least=0, at_most=500, follows="spar.bow")] = 0.0
    planing: Annotated[
        float, Length("Planing, each face", called="planing", at_least=0, at_most=100, follows="blank.planing")
    ] = 0.0
    timber: Annotated[float | None, Length("Width of the timber", above=0, at_most=5000)] = None


class Answers(Record):
    passes: Annotated[int, Count("Passes", formula="min(2, ceil(thickness / depth))", source=_THROUGH)]
    blank_needed: Annotated[
        float | None,
        Length(
            "Rip each piece to",
            called="width to rip to",
            formula="finished + bow + 2·planing",
            source="room for the bow and the planing",
            rounding="up",
        ),
    ]
    piece_width: Annotated[
        float,
        Length(
            "Each piece, off the saw", called="width of a piece", formula="blank_needed", source="straight from the saw"
        ),
    ]
    finishes_to: Annotated[
        float | None,
        Length(
            "Each piece, finished",
            formula="piece_width − bow − 2·planing",
            rounding="down",
            source="bow out, both faces planed",
        ),
    ]
    timber_needed: Annotated[
        float, Length("Timber width needed", formula="pieces·piece_width + (pieces − 1)·kerf_across", rounding="up",
                      source="kerfs between the pieces"),
    ]  # fmt: skip
    offcut: Annotated[
        float | None,
        Length("Offcut", formula="max(0, timber − timber_needed − kerf_across)", source="one more kerf frees it"),
    ]
    waste: Annotated[
        float, Length("Lost to the saw", formula="(pieces − 1)·kerf_across", source="what is neither piece nor offcut")
    ]
    web_left: Annotated[
        float | None,
        Length("Left for the hand saw", formula="thickness − 2·depth", source="through the thickness", rounding="up"),
    ]
    overlap: Annotated[
        float | None, Length("Cuts overlap by", formula="2·depth − thickness", source="one from either face")
    ]
    depth: Annotated[float, Length("Depth of one cut", formula="saw_depth", source=_THROUGH)]
    kerf_across: Annotated[float, Length("Kerf, on the face", called="kerf on the face", formula="kerf", source=_SLANT)]
    sawn_face: Annotated[float, Length("Sawn face, across", formula="thickness", source=_SLANT)]


def work(inputs: Inputs) -> Answers:
    tilted = inputs.tilt != "upright"
    slant = sqrt(2) if tilted else 1.0
    depth = inputs.saw_depth_tilted if tilted else inputs.saw_depth
    kerf = inputs.kerf * slant
    timber, pieces, between = inputs.timber, inputs.pieces, (inputs.pieces - 1) * kerf
    off = inputs.bow + 2 * inputs.planing
    if inputs.finished is not None:
        needed = piece = inputs.finished + off
        if timber is not None and pieces * piece + between > timber + 1e-9:
            raise _too_narrow(inputs, timber, piece, kerf)
    elif timber is not None:
        needed, piece = None, (timber - between) / pieces
        if piece <= 0:
            raise InputFault("{} is no wider than its kerfs, {}; a wider one will do", "timber", (timber, between))
        if piece <= off:
            raise InputFault("bow and planing take all of pieces of {}; fewer will do", "pieces", (piece,))
    else:
        raise InputFault("type the finished width, or the width of the timber", "finished")
    total = pieces * piece + between
    rest = None if needed is None or timber is None else max(0.0, timber - total)
    passes = 1 if inputs.thickness <= depth else 2
    open_by = inputs.thickness - 2 * depth
    return Answers(
        passes=passes,
        blank_needed=needed,
        piece_width=piece,
        finishes_to=piece - off if needed is None else None,
        timber_needed=total,
        offcut=None if rest is None else max(0.0, rest - kerf),
        waste=between + (0.0 if rest is None else min(rest, kerf)),
        web_left=open_by if open_by > 0 else None,
        overlap=-open_by if passes == 2 and open_by <= 0 else None,
        depth=depth,
        kerf_across=kerf,
        sawn_face=inputs.thickness * slant,
    )


def _too_narrow(inputs: Inputs, timber: float, piece: float, kerf: float) -> InputFault:
    fit = floor((timber + kerf) / (piece + kerf) + 1e-9)
    return InputFault(
        f"{inputs.pieces} pieces of {{}} take {{}} with their kerfs; a timber of {{}} gives {fit or 'none'}",
        "pieces",
        (piece, inputs.pieces * piece + (inputs.pieces - 1) * kerf, timber),
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums: dict[str, str] = {}
    if inputs.tilt != "upright":
        sums |= {"depth": "saw_depth_tilted", "kerf_across": "kerf·√(2)", "sawn_face": "thickness·√(2)"}
    if inputs.finished is None:
        sums["piece_width"] = "(timber − (pieces − 1)·kerf_across) / pieces"
    elif inputs.timber is not None:
        sums["waste"] = "(pieces − 1)·kerf_across + min(kerf_across, max(0, timber − timber_needed))"
    return sums


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The end of the timber at one cut: the kerf from above, and the one from below."""
    thick = inputs.thickness
    lean = 1.0 if inputs.tilt != "upright" else 0.0  # sideways for a step down
    side = min(answers.piece_width, 2 * thick) + answers.kerf_across / 2 + lean * thick / 2
    half = answers.kerf_across / 2
    top = max(-thick / 2, thick / 2 - answers.depth)
    shapes: list[Shape] = [Fill(corners(-side, -thick / 2, side, thick / 2)), *square(2 * side, thick)]
    ends = [(thick / 2, top)]
    if answers.passes == 2:
        ends.append((-thick / 2, min(top, answers.depth - thick / 2)))
    for face, floor_at in ends:
        kerf = [(lean * y + x, y) for y, x in ((face, -half), (floor_at, -half), (floor_at, half), (face, half))]
        shapes.append(Fill(tuple(kerf), "off"))
        shapes += [Line(*kerf[0], *kerf[1]), Line(*kerf[3], *kerf[2])]
        shapes.append(Line(lean * floor_at - half, floor_at, lean * floor_at + half, floor_at))
    if answers.web_left is not None:
        shapes.append(
            Dimension(
                side * 0.6, -answers.web_left / 2, side * 0.6, answers.web_left / 2, answers.web_left, of="web_left"
            )
        )
    elif answers.depth < thick and not lean:
        shapes.append(Dimension(side * 0.3, thick / 2 - answers.depth, side * 0.3, thick / 2, answers.depth))
    shapes.append(Dimension(-side * 0.8, -thick / 2, -side * 0.8, thick / 2, thick))
    shapes.append(Shown(-side * 0.4, 0, "passes", "passes: {}"))
    return Drawing("the end of the timber at one cut, to scale", tuple(shapes))


def twice(inputs: Inputs, answers: Answers) -> str | None:
    """Where it takes two passes."""
    if answers.passes == 1:
        return None
    wedge = "Wedge the kerf open, so that it cannot close on the blade."
    if inputs.tilt == "upright":  # the same edge keeps both cuts in one plane
        return f"Two passes: turn the timber end over end, same edge to the fence. {wedge}"
    # A half turn of the section brings its slant back to itself; end over end would mirror it.
    return f"Two passes: roll the timber over, other edge to the fence, set anew unless cut in the middle. {wedge}"


def web(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
    """Where two cuts do not meet."""
    if answers.web_left is None:
        return None
    return "The two cuts do not meet: leave {} for the hand saw, off the machine.", answers.web_left


def bevelled(inputs: Inputs, answers: Answers) -> str | None:
    """Where the blade is tilted."""
    if inputs.tilt == "upright":
        return None
    return "Fence on the side the blade leans away from, so that nothing is trapped under it. Try an offcut first."


CALCULATOR = declared(
    globals(),
    question="One pass or two, and how wide is each piece?",
    headline="passes",
    cautions=(
        web,
        twice,
        bevelled,
        "Use guard, riving knife, push block and feather board. The saw's manual comes first.",
    ),
    sources=(
        "Cuts from both faces of one thickness (geometry).",
        "A deep timber ripped from both sides; the bow out before it is planed to size (common practice, no source).",
    ),
)
