"""Sound questions at random, for every calculator: keyword values in millimetres."""

from math import pi
from typing import Any

from hypothesis import strategies as st

from shopcompanion.spar.belt import belt_length
from shopcompanion.spar.measures import Measure
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.tables import PUBLISHED

from .spars import outlines

WIDTH = st.floats(5, 400)
SOMETIMES = st.booleans()


@st.composite
def facets(draw: st.DrawFn) -> dict[str, Any]:
    width = draw(WIDTH)
    asked: dict[str, Any] = {"width": width, "ridge_ok": draw(st.floats(0.05, 3))}
    if draw(SOMETIMES):
        asked["depth"] = width * draw(st.floats(0.3, 3))
    if draw(SOMETIMES):
        asked["section"] = "oval"
    return asked


@st.composite
def taper(draw: st.DrawFn) -> dict[str, Any]:
    length, butt, head = draw(st.floats(500, 12000)), draw(WIDTH), draw(WIDTH)
    asked: dict[str, Any] = {"length": length, "at": length * draw(st.floats(0, 1))}
    asked["law"] = draw(st.sampled_from(["straight", "bowed", "faired", "table"]))
    if asked["law"] == "table":
        asked["law"] = draw(st.sampled_from(sorted(PUBLISHED)))
        asked["widest"] = butt
        if PUBLISHED[asked["law"]].place is None or draw(SOMETIMES):
            asked["widest_at"] = length * draw(st.just(0.0) | st.floats(0.01, 0.9))
        if draw(SOMETIMES):
            asked["blank"] = butt + draw(st.floats(0, 30))
        return asked
    asked |= {"butt": butt, "head": head}
    if draw(SOMETIMES):
        ats = sorted(draw(st.sets(st.integers(1, 99), max_size=3)))
        fullest = max(butt, head, draw(WIDTH))
        asked["stations"] = tuple(
            (length * at / 100, fullest if asked["law"] == "bowed" else draw(WIDTH)) for at in ats
        )
    elif draw(SOMETIMES):
        asked["parallel_to"] = length * draw(st.floats(0.01, 0.9))
        asked["head"] = min(butt, head)
    if draw(SOMETIMES):
        widest = max(butt, head, *(width for _, width in asked.get("stations", ())))
        asked["blank"] = widest + draw(st.floats(0, 30))
    return asked


@st.composite
def drum(draw: st.DrawFn) -> dict[str, Any]:
    on, widest = draw(st.floats(20, 300)), draw(st.floats(20, 200))
    asked: dict[str, Any] = {"drum": on, "widest": widest, "grip_ratio": draw(st.just(1.0) | st.floats(0.2, 5))}
    narrowest = widest
    if draw(SOMETIMES):
        narrowest = asked["narrowest"] = widest * draw(st.floats(0.3, 1))
        if draw(SOMETIMES):
            middle = draw(st.floats(500, 3500))
            asked["outline"] = ((0.0, draw(st.floats(narrowest, widest))), (middle, widest), (4000.0, narrowest))
            asked["law"] = draw(st.sampled_from(["straight", "bowed"]))
    if draw(SOMETIMES):
        asked["rpm"] = draw(st.floats(100, 4000))
    asked["belt_length"] = belt_length(on, narrowest, (on + narrowest) / 2) * draw(st.floats(1.01, 5))
    return asked


@st.composite
def roundover(draw: st.DrawFn) -> dict[str, Any]:
    stock = draw(st.floats(15, 150))
    asked: dict[str, Any] = {"stock": stock, "passes": draw(st.integers(1, 6))}
    least = stock
    if draw(SOMETIMES):
        asked["stock_other"] = stock * draw(st.floats(0.5, 2))
        least = min(stock, asked["stock_other"])
    if draw(SOMETIMES):
        sizes = draw(st.lists(st.floats(3, 60), min_size=1, max_size=5))
        pilots = st.none() | st.floats(5, 20)
        asked["rack"] = tuple((size, draw(pilots)) for size in [*sizes, least * draw(st.floats(0.1, 0.9))])
        if min(size for size, _ in asked["rack"]) >= least:
            asked["rack"] = ((least / 2, None),)
    if "rack" not in asked or draw(SOMETIMES):
        asked["bit_radius"] = least * draw(st.just(0.5) | st.floats(0.1, 0.9))
    if draw(SOMETIMES):
        asked["pilot"] = draw(st.floats(5, 30))
    if draw(SOMETIMES):
        asked["speed_set"] = draw(st.floats(5000, 30000))
    return asked


@st.composite
def gauge(draw: st.DrawFn) -> dict[str, Any]:
    widest = draw(WIDTH)
    asked: dict[str, Any] = {"widest": widest, "pin": draw(st.floats(1, 30)), "clearance": draw(st.floats(0, 5))}
    if draw(SOMETIMES):
        asked["exact_at"] = draw(st.sampled_from(["widest", "middle", "narrowest"]))
    elif draw(SOMETIMES):
        asked["ratio"] = draw(st.sampled_from(["7:10:7", "5:7:5", "12:17:12"]))
    asked["division"] = draw(st.sampled_from([0.1, 0.5, 1.0, *(25.4 / n for n in (8, 16, 32, 64))]))
    if draw(SOMETIMES):
        narrowest = asked["narrowest"] = widest * draw(st.floats(0.3, 1))
        if draw(SOMETIMES):
            middle = draw(st.floats(500, 3500))
            asked["outline"] = ((0.0, draw(st.floats(narrowest, widest))), (middle, widest), (4000.0, narrowest))
            if draw(SOMETIMES):
                asked["depths"] = tuple((at, width * draw(st.floats(0.6, 1.6))) for at, width in asked["outline"])
    return asked


@st.composite
def shoulder(draw: st.DrawFn) -> dict[str, Any]:
    blank = draw(WIDTH)
    asked: dict[str, Any] = {"blank": blank, "round_diameter": blank * draw(st.just(1.0) | st.floats(0.3, 1))}
    if draw(SOMETIMES):
        asked["round_length"] = draw(st.floats(10, 2000))
    if draw(SOMETIMES):
        asked["run_out"] = draw(st.floats(5, 600))
    return asked


@st.composite
def tip(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"diameter": draw(WIDTH), "chamfers": draw(st.integers(1, 3))}
    if draw(SOMETIMES):
        asked["shape"] = "blunt"
        asked["length"] = asked["diameter"] * draw(st.floats(0.05, 1.5))
    return asked


@st.composite
def dowels(draw: st.DrawFn) -> dict[str, Any]:
    section = draw(st.floats(40, 250))
    asked: dict[str, Any] = {"section": section, "count": draw(st.integers(1, 6))}
    least = section
    if draw(SOMETIMES):
        asked["depth"] = section * draw(st.floats(0.6, 1.6))
        least = min(section, asked["depth"])
    asked["dowel"] = least * draw(st.floats(0.04, 0.09))
    if draw(SOMETIMES):
        asked["cover"] = least * draw(st.floats(0, 0.12))
    if draw(SOMETIMES):
        asked["keep_clear"] = least * draw(st.floats(0.01, 0.05))
    if draw(SOMETIMES):
        asked["in_each"] = draw(st.floats(10, 200))
    if draw(SOMETIMES):
        asked["blank"] = max(section, asked.get("depth", section)) + draw(st.floats(0, 20))
    return asked


@st.composite
def log(draw: st.DrawFn) -> dict[str, Any]:
    design = draw(outlines())
    asked: dict[str, Any] = {"outline": design.stations, "law": design.law}
    oval = design.law == "straight" and draw(SOMETIMES)
    if oval:
        asked["depths"] = tuple((at, width * draw(st.floats(0.6, 1.6))) for at, width in design.stations)
    deep = Outline(asked["depths"]) if oval else design
    low = draw(st.sampled_from([0.7, 0.95, 1.0]))
    measured = []
    for part in draw(st.sets(st.integers(0, 50), max_size=5)):
        at = design.length * part / 50
        if not oval and draw(SOMETIMES):
            measured.append(Measure(at, (), pi * design.width_at(at) * draw(st.floats(low, 1.2))))
            continue
        count = draw(st.sampled_from([2, 4])) if oval else draw(st.integers(2, 4))
        meant = (design.width_at(at), deep.width_at(at))
        measured.append(Measure(at, tuple(meant[k % 2] * draw(st.floats(low, 1.2)) for k in range(count))))
    if measured:
        asked["measured"] = tuple(measured)
    asked["tolerance"] = draw(st.floats(0, 2))
    return asked


QUESTIONS: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "facets": facets(),
    "taper": taper(),
    "drum": drum(),
    "roundover": roundover(),
    "gauge": gauge(),
    "shoulder": shoulder(),
    "tip": tip(),
    "dowels": dowels(),
    "log": log(),
}
