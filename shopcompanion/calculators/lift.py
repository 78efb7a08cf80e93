"""Lift: raising a mast about its hinge or heel, by hand, by a line, or over a gin pole."""

from math import atan2, ceil, cos, degrees, hypot, radians, sin

from ..beam.proof import GRAVITY
from ..calculator import Column, Table, declared
from ..drawing.shapes import Arc, Drawing, Fill, Label, Line, Shape, Shown
from ..errors import InputFault
from ..fields import Angle, Choice, Count, Length, Text, Value
from ..quantities import Force, Mass
from ..record import Annotated, NamedTuple, Record
from ..spar.body import Body
from ..spar.whole import WholeSpar
from ..timber.moisture import density
from ..timber.species import Named, Own, Timbers
from . import proved_spar, proving
from .timber_asked import timber_asked
from .weight import ONE_PERSON

FLAT = 15.0  # degrees between line and mast: below it the line pulls along the mast more than it lifts
_STATICS = "balance of turning about the hinge"
_STEP = 0.25  # degrees
WAYS = ("by hand", "by a line", "over a gin pole")


class Inputs(Record):
    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    species: Annotated[str | None, Named("Timber", follows="spar.species")] = None
    mass: Annotated[float | None, Mass("Weight lifted", above=0)] = None
    balance_at: Annotated[float | None, Length("Balances at", above=0)] = None
    length: Annotated[float | None, Length("Length", above=0, follows="spar.length")] = None
    hinge_at: Annotated[float | None, Length("Turns about", at_least=0)] = None
    aloft: Annotated[float, Mass("Rig and sail aloft", at_least=0)] = 0.0
    aloft_at: Annotated[float | None, Length("Aloft, at", above=0)] = None
    start_angle: Annotated[float, Angle("Starting angle", at_least=0, below=85)] = 0.0
    hand_at: Annotated[float | None, Length("Hands are at", above=0)] = None
    line_at: Annotated[float | None, Length("Line is fast at", above=0)] = None
    lead_ahead: Annotated[float | None, Length("Lead is ahead by", above=0)] = None
    lead_height: Annotated[float, Length("Lead is higher by", at_least=-5000, at_most=20000)] = 0.0
    gin_pole: Annotated[float | None, Length("Gin pole's length", above=0)] = None


class Answers(Record):
    worst_pull: Annotated[float, Force("Worst pull", source=_STATICS)]
    worst_angle: Annotated[float, Angle("Angle of the worst pull", source="angle above level")]
    raised: Annotated[str, Choice("Raised", options=WAYS, source="as given")]
    first_pull: Annotated[float, Force("Pull to start", source=_STATICS)]
    people: Annotated[
        int, Count("People at least", source="NIOSH load constant, 23 kg (Publication 94-110), from memory")
    ]
    hinge_reaction: Annotated[float, Force("Hinge bears, at most", source="balance of forces")]
    flattest: Annotated[float | None, Angle("Line to mast at its flattest", source="angle between them on the way up")]
    lifted: Annotated[float, Mass("Lifted in all", source="what is above the hinge")]
    lever: Annotated[float, Length("Balances beyond the hinge by", source="its centroid, with what is aloft")]
    hand_for_one: Annotated[
        float,
        Length(
            "Hands, for one person, at",
            rounding="up",
            formula="turns_at + lifted·lever/{50.70632|23}",
            source="23 kg square to the mast",
        ),
    ]
    pole_pull: Annotated[
        float | None, Force("Worst pull over a gin pole", source="a pole of a fifth of the mast, square to it")
    ]
    turns_at: Annotated[float, Length("Turns about", source="as typed, its hinge, or its heel")]
    timber: Annotated[str | None, Text("Timber used", longest=200, source="the name that is meant")]


class Mast(NamedTuple):
    """What is lifted: kg, its centroid (mm beyond the hinge), the hinge's station and the head's (mm)."""

    mass: float
    lever: float
    hinge: float
    head: float
    timber: str | None


class LinePull(NamedTuple):
    """At an angle above level, degrees: the pull and what the hinge bears, N, and the line's angle to the mast."""

    angle: float
    pull: float
    hinge: float
    line: float | None


def mast_of(inputs: Inputs) -> Mast:
    """What is lifted. InputFault where its weight or its balance point is not known."""
    whole, timber = inputs.whole, None
    hinges = [] if whole is None else sorted(joint.at for joint in whole.joints if joint.kind == "hinge")
    hinge = inputs.hinge_at if inputs.hinge_at is not None else hinges[0] if hinges else 0.0
    head = whole.length if whole is not None else inputs.length
    mass, balance = inputs.mass, inputs.balance_at
    if whole is not None and hinge >= whole.length:
        raise InputFault("{} lies beyond the head, which is at {}", "hinge_at", (hinge, whole.length))
    if mass is None:
        if whole is None or inputs.species is None:
            raise InputFault("the weight is missing: type mass and balance_at, or choose a spar and its timber", "mass")
        known = timber_asked(inputs.species, inputs.own)
        timber = known.name
        mass = density(known.sg12, proved_spar.MC) * whole.volume(hinge) * 1e-9
    if balance is None:
        if whole is None:
            raise InputFault(
                "the balance point is missing: most masts balance a little under half their length", "balance_at"
            )
        balance = whole.moment(hinge) / whole.volume(hinge)
    if balance <= hinge:
        raise InputFault("the balance point, {}, is not beyond the hinge at {}: nothing has to be lifted", "balance_at",
                         (balance, hinge))  # fmt: skip
    aloft_at = inputs.aloft_at if inputs.aloft_at is not None else head
    if inputs.aloft and aloft_at is None:
        raise InputFault("type where the weight aloft hangs, from the heel", "aloft_at")
    lever = mass * (balance - hinge) + inputs.aloft * ((aloft_at or hinge) - hinge)
    total = mass + inputs.aloft
    return Mast(total, lever / total, hinge, head if head is not None else 2 * balance, timber)


def way_of(inputs: Inputs) -> str:
    """How the mast is raised, of WAYS. InputFault where a line or pole lacks one of its inputs."""
    if inputs.gin_pole is not None and inputs.lead_ahead is None:
        raise InputFault("a line over a gin pole needs its lead: type how far ahead of the hinge", "lead_ahead")
    if inputs.gin_pole is not None:
        return WAYS[2]
    if inputs.line_at is not None and inputs.lead_ahead is None:
        raise InputFault("a line needs its lead: type how far ahead of the hinge", "lead_ahead")
    if inputs.lead_ahead is not None and inputs.line_at is None:
        raise InputFault("type where on the mast the line is made fast", "line_at")
    return WAYS[1] if inputs.line_at is not None else WAYS[0]


def hands(inputs: Inputs, mast: Mast) -> float:
    """Where the hands are, beyond the hinge: 2 m, as high as one reaches, or the head of a short one."""
    at = inputs.hand_at - mast.hinge if inputs.hand_at is not None else min(2000.0, mast.head - mast.hinge)
    if at <= 0:
        raise InputFault("hands at {} are not beyond the hinge at {}", "hand_at", (at + mast.hinge, mast.hinge))
    return at


def pull_at(inputs: Inputs, mast: Mast, way: str, angle: float) -> LinePull:
    """Statics at one angle above level; the mast lies aft of its hinge, the lead is ahead. InputFault for no lever."""
    turn = radians(angle)
    along, weight = (-cos(turn), sin(turn)), mast.mass * GRAVITY
    needed = weight * mast.lever * cos(turn)
    if way == WAYS[0]:
        force = needed / hands(inputs, mast)
        across = (sin(turn), cos(turn))  # square to the mast, the way it goes up
        return LinePull(angle, force, hypot(force * across[0], force * across[1] - weight), None)
    lead = (inputs.lead_ahead or 0.0, inputs.lead_height)
    if way == WAYS[1]:
        fast = (inputs.line_at or 0.0) - mast.hinge
        if fast <= 0:
            raise InputFault(
                "a line fast at {} is not beyond the hinge at {}", "line_at", (inputs.line_at or 0.0, mast.hinge)
            )
        point = (along[0] * fast, along[1] * fast)
    else:
        point = ((inputs.gin_pole or 0.0) * sin(turn), (inputs.gin_pole or 0.0) * cos(turn))
    line = (lead[0] - point[0], lead[1] - point[1])
    long = hypot(*line)
    # The moment of a unit pull about the hinge, turning the mast up and forward.
    arm = (point[1] * line[0] - point[0] * line[1]) / long if long else 0.0
    if arm <= 1e-6 * mast.lever:
        mend = "lead it higher, or use a gin pole" if way == WAYS[1] else "lead it lower, or further ahead"
        raise InputFault(f"at {angle:.0f}° above level the line does not lift the mast: {mend}", "lead_height")
    force = needed / arm
    pulls = (force * line[0] / long, force * line[1] / long)
    between = abs(degrees(atan2(along[0] * line[1] - along[1] * line[0], -(along[0] * line[0] + along[1] * line[1]))))
    return LinePull(angle, force, hypot(pulls[0], pulls[1] - weight), between if way == WAYS[1] else None)


def pulls(inputs: Inputs, mast: Mast, way: str) -> list[LinePull]:
    """The pull at every angle, from where the mast lies to nearly upright."""
    count = ceil((89.5 - inputs.start_angle) / _STEP)
    return [pull_at(inputs, mast, way, inputs.start_angle + _STEP * k) for k in range(count + 1)]


def by_pole(inputs: Inputs, mast: Mast, way: str) -> float | None:
    """The worst pull over a gin pole of a fifth of the mast, its line led as far ahead, and not up."""
    if way != WAYS[1]:
        return None
    low = min(0.0, inputs.lead_height)  # a line over a pole leads down
    other = inputs._replace(gin_pole=(mast.head - mast.hinge) / 5, lead_height=low)
    try:
        return max(pull.pull for pull in pulls(other, mast, WAYS[2]))
    except InputFault:
        return None


def work(inputs: Inputs) -> Answers:
    mast, way = mast_of(inputs), way_of(inputs)
    every = pulls(inputs, mast, way)
    worst = max(every, key=lambda pull: pull.pull)
    lines = [pull.line for pull in every if pull.line is not None]
    return Answers(
        worst_pull=worst.pull,
        worst_angle=worst.angle,
        raised=way,
        first_pull=every[0].pull,
        people=max(1, ceil(worst.pull / (ONE_PERSON * GRAVITY) - 1e-9)),
        hinge_reaction=max(pull.hinge for pull in every),
        flattest=min(lines, default=None),
        lifted=mast.mass,
        lever=mast.lever,
        hand_for_one=mast.hinge + mast.mass * mast.lever / ONE_PERSON,
        pole_pull=by_pole(inputs, mast, way),
        turns_at=mast.hinge,
        timber=mast.timber,
    )


_COLUMNS = (
    Column("angle", Angle("Above level")),
    Column("pull", Force("Pull")),
    Column("line", Angle("Line to mast")),
    Column("hinge", Force("Hinge bears")),
)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    mast, way = mast_of(inputs), way_of(inputs)
    start = inputs.start_angle
    angles = sorted({start, *(10.0 * k for k in range(9) if 10.0 * k > start), answers.worst_angle})
    rows: list[tuple[Value, ...]] = []
    for angle in angles:
        pull = pull_at(inputs, mast, way, angle)
        rows.append((pull.angle, pull.pull, pull.line, pull.hinge))
    return (Table("angles", _COLUMNS, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The mast at its worst angle, where it lay and where it goes, the weight, and the hands, line or pole."""
    mast, way = mast_of(inputs), way_of(inputs)
    long = mast.head - mast.hinge
    turn = radians(answers.worst_angle)
    tip = (-long * cos(turn), long * sin(turn))
    lay, off = radians(inputs.start_angle), (long / 40 * sin(turn), long / 40 * cos(turn))
    mast_side = (off, (tip[0] + off[0], tip[1] + off[1]), (tip[0] - off[0], tip[1] - off[1]), (-off[0], -off[1]))
    shapes: list[Shape] = [
        Fill(mast_side), Line(0.0, 0.0, *tip), Line(0.0, 0.0, -long * cos(lay), long * sin(lay), "light"),
        Line(0.0, 0.0, 0.0, long, "light"),
        Arc(0.0, 0.0, long, long, 90.0, 180.0 - inputs.start_angle, "light"),
    ]  # fmt: skip
    at = (-mast.lever * cos(turn), mast.lever * sin(turn))
    shapes += [Line(*at, at[0], at[1] - long / 8), Label(at[0], at[1] - long / 6, "weight")]
    lead = (inputs.lead_ahead or 0.0, inputs.lead_height)
    if way == WAYS[0]:
        far = hands(inputs, mast)
        hand = (-far * cos(turn), far * sin(turn))
        shapes.append(Line(*hand, hand[0] + long / 8 * sin(turn), hand[1] + long / 8 * cos(turn)))
        shapes.append(Shown(*hand, "worst_pull", "hands {}"))
    elif way == WAYS[1]:
        far = (inputs.line_at or 0.0) - mast.hinge
        shapes += [Line(-far * cos(turn), far * sin(turn), *lead), Shown(*lead, "worst_pull", "lead {}")]
    else:
        pole = inputs.gin_pole or 0.0
        top = (pole * sin(turn), pole * cos(turn))
        shapes += [Line(0.0, 0.0, *top), Line(*top, *tip, "light"), Line(*top, *lead)]
        shapes.append(Shown(*lead, "worst_pull", "lead {}"))
    return Drawing("the worst of the way up, seen from the side, to scale", tuple(shapes))


def flat_lead(inputs: Inputs, answers: Answers) -> str | None:
    """Where the line leads flatter than 15°."""
    if answers.flattest is None or answers.flattest >= FLAT:
        return None
    return (
        "The lead is too flat: under 15° between line and mast the pull grows fast; lead it higher, or use a gin pole."
    )


def too_heavy(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
    """Where the worst pull is more than 23 kg (51 lb)."""
    if answers.worst_pull <= ONE_PERSON * GRAVITY:
        return None
    return (
        "More than one person should lift (23 kg, 51 lb, NIOSH): lift with more people, with the hands at {}, "
        "or by a line over a gin pole.", answers.hand_for_one,
    )  # fmt: skip


CALCULATOR = declared(
    globals(),
    question="How hard is the mast to raise, and at which angle is it worst?",
    headline="worst_pull",
    cautions=(
        too_heavy,
        flat_lead,
        "Keep clear of power lines and of where the mast may fall; nobody under it; hold it back with a second line.",
        "Pull steadily, never by jerks; a guy on either side steadies the mast as it goes up.",
        proving.GUIDANCE,
    ),
    sources=(
        "Balance of forces about the hinge: the mast turns in one plane, slowly, without friction.",
        "23 kg: load constant of NIOSH's lifting equation, Publication 94-110.",
    ),
)
