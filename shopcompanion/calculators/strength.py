"""Strength: how far a spar bends under its load, where it would break first, and how near it is to buckling."""

from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise

from ..beam import usual
from ..beam.proof import PLANES, Gives, Proof, prove
from ..calculator import Column, Table, declared
from ..drawing.bend import Bend
from ..drawing.shapes import Dimension, Drawing, Fill, Label, Line, Shape, Shown, loop
from ..errors import InputFault
from ..fields import Choice, Length, Ratio, Text, Value
from ..quantities import Force, Mass, Moment, Pressure, Stress
from ..record import Annotated, Record
from ..spar.outline import STEPS_LIMIT
from . import proving
from .proving import LoadInputs, SparCase

_SOLVED = "Euler–Bernoulli beam in pieces with cubic shapes, EI summed inside each, second order in the push"
_ALONG = 64  # parts in which its bend is drawn
_TAKEN = 6  # a drawing is that much longer than it is high


class Inputs(LoadInputs):
    station_step: Annotated[float, Length("A row every", above=0, follows="rule.station_step", asked="seldom")] = 500.0


class Answers(Record):
    factor: Annotated[
        float | None,
        Ratio(
            "Factor against breaking",
            formula="rupture_used / worst_stress",
            source="modulus of rupture: small clear wood in short tests; trade rules ask for several times the load",
        ),
    ]
    tip_deflection: Annotated[float, Length("Head moves", source=_SOLVED)]
    governs: Annotated[str, Text("Gives first", longest=200, source="the lesser factor")]
    factor_drawn: Annotated[
        float | None, Ratio("Factor as drawn", source="the same spar, neither thinner nor as built")
    ]
    tip_drawn: Annotated[
        float | None, Length("Head moves as drawn", source="the same spar, neither thinner nor as built")
    ]
    mass_drawn: Annotated[float | None, Mass("Weighs as drawn", source="the same spar, neither thinner nor as built")]
    worst_at: Annotated[float, Length("Stressed most at", source=_SOLVED)]
    worst_stress: Annotated[float, Stress("Worst stress", source=_SOLVED)]
    most_deflection: Annotated[float, Length("Moves most", source=_SOLVED)]
    most_deflection_at: Annotated[float, Length("Moves most at", source=_SOLVED)]
    worst_moment: Annotated[float, Moment("Moment there", source="balance of the pieces' ends")]
    load: Annotated[float, Force("Load across it", source="what the sail pulls, square to the spar; or all loads")]
    load_from: Annotated[
        str,
        Choice("Load set by", options=("the breeze", "stability", "as typed"), source="the smaller of the two governs"),
    ]  # fmt: skip
    assumes: Annotated[str, Text("Assumed", longest=400, source="our own assumptions, by the kind of spar")]
    by_wind: Annotated[
        float | None,
        Force("By the wind", formula="pressure·sail_area·share_used", source="½·ρ·v²·C on the sail, from memory"),
    ]
    upright: Annotated[
        float | None,
        Force(
            "The boat carries upright",
            formula="{12|1000}·righting / effort_height·share_used",
            source="the sail by itself, the others taken in",
        ),
    ]
    pressure: Annotated[
        float | None,
        Pressure(
            "Wind pressure", formula="{0.00338553|0.6125}·wind²·force_coefficient", source="ρ 1.225 kg/m³, sea level"
        ),
    ]
    share_used: Annotated[float | None, Ratio("Share of the sail's force", source="our own assumption by kind")]
    righting: Annotated[
        float | None,
        Moment(
            "Righting moment",
            formula="crew·sits_out / {12|101.971621}",
            source="typed, or crew's weight times how far it sits out",
        ),
    ]
    halyard_push: Annotated[
        float | None,
        Force("Halyard presses it by", source="half the sail's force up to the sheave, and as much down to the cleat"),
    ]
    stay_pull: Annotated[float | None, Force("Stays take, square to it", source=_SOLVED)]
    stay_push: Annotated[float | None, Force("Stays press it by", source="statics of a stay at its angle to the spar")]
    pressed: Annotated[float | None, Force("Pressed along it by", source="its pushes, stays and own weight")]
    critical_load: Annotated[float | None, Force("Buckles at", source="least eigenvalue of the beam in pieces")]
    load_factor: Annotated[
        float | None,
        Ratio("Factor against buckling", formula="critical_load / pressed", source="how many times as hard"),
    ]
    mode: Annotated[str | None, Text("Buckling, it bows", longest=200, source="its mode of buckling")]
    mode_at: Annotated[float | None, Length("Bows most at", source="its mode of buckling")]
    bent_plane: Annotated[str, Choice("Bent in the plane of its", options=PLANES[1:], source="the one worked harder")]
    factor_whole: Annotated[
        float | None,
        Ratio(
            "Factor with nothing let in",
            formula="rupture_used / worst_stress_whole",
            source="the same spar, nothing let in",
        ),
    ]
    worst_stress_whole: Annotated[float | None, Stress("Stress with nothing let in", source=_SOLVED)]
    tip_deflection_whole: Annotated[float | None, Length("Head moves with nothing let in", source=_SOLVED)]
    mass: Annotated[float | None, Mass("Weighs", source="the sections summed along it, at 12 % moisture")]
    modulus_used: Annotated[float, Stress("Modulus of elasticity", source="typed, or the timber's")]
    rupture_used: Annotated[float | None, Stress("Modulus of rupture", source="typed, or the timber's")]
    timber: Annotated[str, Text("Timber used", longest=200, source="the name that is meant")]
    species_source: Annotated[str | None, Text("Source of its figures", source="where they are published", longest=400)]
    species_mark: Annotated[str | None, Text("How checked", source="the table's own word", longest=400)]


@lru_cache(maxsize=4)
def solved(inputs: LoadInputs) -> tuple[SparCase, Proof, Proof | None]:
    """The case, its proof, and that of the spar without what is let in, where something is. InputFault."""
    asked = proving.asked(inputs)
    proof = prove(asked.case)
    if not any(fitting.takes_wood for fitting in asked.case.body.fittings):
        return asked, proof, None
    return asked, proof, prove(asked.case.bare(), buckling=False)


def drawn(inputs: Inputs) -> tuple[float | None, float | None, float | None]:
    """Factor, travel of the head (mm) and mass (kg) of the spar as drawn, where it is made thinner or as measured.

    None where it is as drawn, or buckles as drawn.
    """
    if not inputs.thinner and inputs.as_built == "no":
        return None, None, None
    try:
        asked, proof, _ = solved(inputs._replace(thinner=0.0, as_built="no"))
    except InputFault:
        return None, None, None
    return factor_of(asked, proof), abs(proof.tip), proving.mass_of(asked)


def factor_of(asked: SparCase, proof: Proof) -> float | None:
    rupture = asked.timber.rupture
    return None if rupture is None else rupture / proof.worst_stress


def work(inputs: Inputs) -> Answers:
    asked, proof, bare = solved(inputs)
    if proof.worst_stress <= 0:
        raise InputFault("nothing bends or presses the spar: type a load of more than 0", "loads")
    force, gives, rupture = asked.force, proof.gives, asked.timber.rupture
    factor, (most_at, most) = factor_of(asked, proof), proof.farthest
    factor_drawn, tip_drawn, mass_drawn = drawn(inputs)
    return Answers(
        factor=factor,
        governs=governs(asked, proof),
        worst_stress=proof.worst_stress,
        worst_at=proof.worst_at,
        tip_deflection=abs(proof.tip),
        most_deflection=abs(most),
        most_deflection_at=most_at,
        worst_moment=abs(proof.moment_at(proof.worst_at)),
        load=proving.force_total(proof),
        load_from=force.source if force else "as typed",
        assumes=assumed(inputs, asked),
        by_wind=force and force.by_wind,
        upright=force and force.upright,
        pressure=proving.pressure_of(inputs) if force and force.by_wind is not None else None,
        share_used=proving.share_of(inputs) if force else None,
        righting=force and force.righting,
        halyard_push=asked.halyard,
        stay_pull=asked.stays and asked.stays.pull,
        stay_push=asked.stays and asked.stays.push,
        pressed=gives and gives.force / gives.times,
        critical_load=gives and gives.force,
        load_factor=gives and gives.times,
        mode=gives and f"{direction(gives)}, most {proving.place_words(asked, gives.at)}",
        mode_at=gives and gives.at,
        bent_plane=proof.plane,
        factor_drawn=factor_drawn,
        tip_drawn=tip_drawn,
        mass_drawn=mass_drawn,
        factor_whole=rupture / bare.worst_stress if bare and rupture is not None else None,
        worst_stress_whole=bare.worst_stress if bare else None,
        tip_deflection_whole=abs(bare.tip) if bare else None,
        mass=proving.mass_of(asked),
        modulus_used=asked.timber.modulus,
        rupture_used=rupture,
        timber=asked.timber.name,
        species_source=asked.timber.source or None,
        species_mark=asked.timber.mark or None,
    )


def direction(gives: Gives) -> str:
    """Which way it bows as it buckles."""
    return f"in the plane of its {gives.plane}" if gives.plane else "in any direction"


def governs(asked: SparCase, proof: Proof) -> str:
    """What gives first and where, in words."""
    factor = factor_of(asked, proof)
    if proof.gives and (factor is None or proof.gives.times < factor):
        return f"buckling, {direction(proof.gives)}"
    return f"bending, {proving.place_words(asked, proof.worst_at)}"


def assumed(inputs: LoadInputs, asked: SparCase) -> str:
    """What is taken for granted of its load, in words."""
    if asked.force is None:
        return "its loads and supports are as typed"
    return usual.assumed(inputs.kind, halyard=asked.halyard is not None, stays=asked.stays and asked.stays.angle)


def formulas(inputs: Inputs) -> Mapping[str, str]:
    """The sums of the load: of the smaller force, at the angle and of the sails that the case has."""
    asked, proof, _ = solved(inputs)
    force, angle = asked.force, proving.pull_angle_of(inputs)
    changed = {"righting": ""} if inputs.righting_moment is not None else {}
    if force is None:
        return changed
    if inputs.all_sails is not None and inputs.sail_area is not None:
        changed["upright"] = "{12|1000}·righting / effort_height·min(1, sail_area / all_sails)·share_used"
    least = "min(by_wind, upright)"
    least = "upright" if force.by_wind is None else "by_wind" if force.upright is None else least
    if inputs.kind not in usual.STRUTS:
        beside = asked.case.sideways is not None and proof.plane == PLANES[2]
        part = f"·{usual.SIDEWAYS[inputs.kind]:g}" if beside else f"·sin({angle:g}°)" if angle < 90 else ""
        changed["load"] = least + part
    changed["halyard_push"] = f"halyard_share·{least}"
    if asked.stays is not None:
        changed["stay_push"] = f"stay_pull / tan({asked.stays.angle:g}°)"
    return changed


_STATIONS = (
    Column("at", Length("Station")),
    Column("width", Length("Width")),
    Column("moment", Moment("Moment")),
    Column("stress", Stress("Stress")),
    Column("deflection", Length("Moves")),
)
_HELD = (
    Column("at", Length("Held at")),
    Column("kind", Text("By")),
    Column("reaction", Force("Takes")),
    Column("moment", Moment("And a moment of")),
)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    asked, proof, _ = solved(inputs)
    body = asked.case.body
    if body.length / inputs.station_step > STEPS_LIMIT:
        raise InputFault(f"makes more than {STEPS_LIMIT} rows; a longer step will do", "station_step")
    ats = {*(k * inputs.station_step for k in range(int(body.length / inputs.station_step) + 1)), body.length}
    supports, loads = proof.bearing
    ats |= {support.at for support in supports} | {answers.worst_at}
    ats |= {at for load in loads for at in (load.start, load.end)}
    rows: list[tuple[Value, ...]] = []
    for at in sorted(at for at in ats if at <= body.length):
        if rows and at - float(rows[-1][0]) < 1e-3:  # type: ignore[arg-type]  # the first of a row is a station
            continue
        here = proof.at(at)
        rows.append((at, body.width_at(at), here.moment, here.stress, here.deflection))
    held: list[tuple[Value, ...]] = [
        (support.at, support.kind, 0.0 - reaction, 0.0 - fixing if support.kind == "fixed" else None)
        for support, reaction, fixing in zip(supports, proof.bent.reactions, proof.bent.fixing, strict=True)
    ]
    return (Table("stations", _STATIONS, tuple(rows)), Table("supports", _HELD, tuple(held)))


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The bent spar over the straight one, and the stress along it below; neither to one scale."""
    asked, proof, _ = solved(inputs)
    length = asked.case.body.length
    high = length / _TAKEN
    scale = high / max(answers.most_deflection, 1e-9)
    ats = [length * k / _ALONG for k in range(_ALONG + 1)]
    sign = 1 if proof.farthest[1] >= 0 else -1
    shapes: list[Shape] = [Line(0.0, 0.0, length, 0.0, "light")]
    bent = [(at, sign * scale * proof.deflection_at(at)) for at in ats]
    thick = high / 12
    side = [(at, y + thick) for at, y in bent] + [(at, y - thick) for at, y in reversed(bent)]
    shapes += [Fill(tuple(side)), *loop(*side)]
    for support in proof.bearing.supports:
        foot = high / 8
        shapes += [Line(support.at, 0.0, support.at - foot, -foot), Line(support.at, 0.0, support.at + foot, -foot)]
        shapes += [Line(support.at - foot, -foot, support.at + foot, -foot)]
    most = answers.most_deflection_at
    shapes.append(Dimension(most, 0.0, most, sign * scale * proof.deflection_at(most), answers.most_deflection))
    floor = -high * 1.1
    stress = [(at, floor + 0.7 * high * proof.stress_at(at) / answers.worst_stress) for at in ats]
    shapes += [Line(0.0, floor, length, floor, "light"), *(Line(*a, *b) for a, b in pairwise(stress))]
    shapes.append(Line(answers.worst_at, floor, answers.worst_at, floor + 0.7 * high))
    shapes += [
        Shown(answers.worst_at, floor + 0.8 * high, "factor", "worst: factor {}"),
        Label(length, floor, "stress"),
    ]
    title = f"how it bends, {scale:.0f} times too far; below, the stress; its length to scale"
    return Drawing(title, tuple(shapes))


def bend(inputs: Inputs, answers: Answers) -> Bend:
    """How far the spar moves along its length, and where it is worked hardest."""
    asked, proof, _ = solved(inputs)
    ats = [asked.case.body.length * k / _ALONG for k in range(_ALONG + 1)]
    return Bend(tuple((at, proof.deflection_at(at)) for at in ats), answers.worst_at)


def too_near(inputs: Inputs, answers: Answers) -> str | None:
    """Where the load to breaking is less than three times the load."""
    if answers.factor is not None and answers.factor < 1:
        return "The spar breaks under this load: even small clear wood bears less."
    if answers.factor is not None and answers.factor < 3:
        return "Less than three times the load to breaking: knots, grain, shocks and years of load eat that up."
    return None


def crushing(inputs: Inputs, answers: Answers) -> str | None:
    """Where half or more of the worst stress is straight pressure."""
    _, proof, _ = solved(inputs)
    if proof.direct_at(answers.worst_at) < answers.worst_stress / 2:
        return None
    return (
        "Most of the stress is straight pressure: wood crushes at about half its modulus of rupture; halve the factor."
    )


def crew_alone(inputs: Inputs, answers: Answers) -> str | None:
    """Where the load comes from the crew's weight, with no righting moment given."""
    if inputs.righting_moment is not None or answers.load_from != "stability":
        return None
    return "The crew's weight alone holds the boat upright here: with what the hull does by itself the load is more."


def held_by_guess(inputs: Inputs, answers: Answers) -> str | None:
    """Where the supports of a spar of the boat do not come from its fittings."""
    asked = solved(inputs)[0]
    how = usual.guessed(inputs.kind, asked.case.supports, asked.case.body.length)
    known = any(fitting.at == asked.case.supports[0].at for fitting in asked.case.body.fittings)
    if not how or inputs.whole is None or (known and len(asked.case.supports) > 1):
        return None
    return f"No fitting says where it is held, so {how}: add fittings, or type supports."


def stay_without_support(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
    """Where a stay presses at a place that nothing holds."""
    asked = solved(inputs)[0]
    held = {support.at for support in asked.case.supports}
    stray = [at for at in inputs.brace_at or () if at not in held]
    if not stray or asked.force is None:
        return None
    return "Nothing holds the spar at {}, so the stay there presses nothing: add a support there.", stray[0]


def far(inputs: Inputs, answers: Answers) -> str | None:
    """Where the spar bends further than a tenth of its length."""
    if answers.most_deflection <= solved(inputs)[0].case.body.length / 10:
        return None
    return "The spar bends further than a tenth of its length. These sums hold for small bends: it is far too weak."


def joined(inputs: Inputs, answers: Answers) -> str | None:
    """Where the spar has joints."""
    joints = solved(inputs)[0].case.body.joints
    if not joints:
        return None
    kinds = " and ".join(sorted({joint.kind for joint in joints}))
    return f"The {kinds} of this spar counts as whole wood, but is weaker: keep it away from the worst place."


def unweighed(inputs: Inputs, answers: Answers) -> str | None:
    """Where the spar's own weight should count and the timber has no name."""
    if answers.mass is not None or inputs.own_weight == "no":
        return None
    return "The spar's own weight is left out: name its timber to count it."


def undone(inputs: Inputs, answers: Answers) -> str | None:
    """Where widths are measured and the spar is worked out as drawn."""
    if not inputs.measured or inputs.as_built == "yes" or inputs.whole is not None:
        return None
    return "The measured widths are left out: set as measured to yes to use them."


CALCULATOR = declared(
    globals(),
    question="How far does it bend, and where would it break first?",
    headline="factor",
    slow=True,
    cautions=(
        proving.GUIDANCE,
        too_near,
        crew_alone,
        crushing,
        far,
        held_by_guess,
        stay_without_support,
        joined,
        unweighed,
        undone,
    ),
    sources=(
        "Bending and buckling: Euler–Bernoulli, consistent geometric stiffness, solved in pieces.",
        "Modulus of rupture and of elasticity at 12 % moisture: of small clear wood, in short tests.",
        "Wind: ½·ρ·v²·C, ρ 1.225 kg/m³; C 1.2 for a sail is usual, from memory.",
        "A spar's share of the sail's force, how its halyard presses it, and the angles of stays: our own assumptions.",
        "Steady loads: a gust, a jibe or a knock makes more of them, often twice as much.",
    ),
)
