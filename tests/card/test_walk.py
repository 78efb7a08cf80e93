"""Every card walked: its steps as they stand on paper, in their order, on a stick of wood of our own."""

import re
from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from shopcompanion.card.text import card
from shopcompanion.errors import CompanionError
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat, Spar

from ..examples import share
from .boats import boat, spar, spars
from .stick import WalkFault
from .walk import Walk
from .written import Row, Written, WrittenStep, read_card


def printed(of: Boat, spar: Spar) -> str:
    return card(of, spar, rule=of.rule, source="trial.toml", version="0.1.0", date="2026-05-02").text


def walk(text: str, spar: Spar, of: Boat) -> None:
    Walk(read_card(text), spar, of).walk()


@pytest.mark.parametrize(("name", "of"), spars())
def test_the_card_of_an_example_makes_its_spar(name: str, of: str) -> None:
    walk(printed(boat(name), spar(name, of)), spar(name, of), boat(name))


# Any spar

SHOP = """[shop]
planing = "3 mm"
kerf = "3 mm"
"""
MAST_OF_THE_BOAT = """[[spar]]
name = "the mast"
kind = "mast"
length = "5 m"
stations = [{ at = "0", width = "90 mm" }, { at = "5 m", width = "60 mm" }]
"""
KINDS = ("mast", "boom", "gaff", "yard", "bowsprit", "bitt", "other")
FITTED = ("cleat", "gooseneck", "hounds", "eye", "sheave", "band", "pin", "bolt", "step", "outhaul")


@st.composite
def profiles(draw: st.DrawFn) -> str:
    """The text of a boat of one spar and its mast: any section, law, regions with run-outs, joints, fittings, log."""
    length = 1000 * draw(st.integers(2, 6))
    section = draw(st.sampled_from(["round", "round", "square", "eight", "oval", "hollow", "staves"]))
    law = draw(st.sampled_from(["straight", "bowed", "faired", "steel 1794 yard"]))
    widths = st.integers(30, 120)
    wide = draw(widths)
    if law == "steel 1794 yard":
        stations = [(length // 2, wide)]
    elif law == "bowed":
        stations = [(0, wide), (length, draw(st.integers(25, wide)))]
    else:
        inner = sorted(draw(st.sets(st.integers(1, 9), max_size=2)))
        stations = [(at * length // 10, draw(widths)) for at in (0, *inner, 10)]
    sizes = [
        f'{{ at = "{at} mm", width = "{width} mm"'
        + (f', depth = "{width * 5 // 4} mm"' if section == "oval" else "")
        + " }"
        for at, width in stations
    ]
    lines = [
        f'kind = "{draw(st.sampled_from(KINDS))}"',
        f'length = "{length} mm"',
        f'section = "{section}"',
        f'law = "{law}"',
        f"stations = [{', '.join(sizes)}]",
        *([f'wall = "{draw(st.integers(6, 10))} mm"'] if section == "hollow" else []),
        *(
            [f'wall = "{draw(st.integers(9, 13))} mm"', f"staves = {draw(st.sampled_from([6, 8, 8, 10, 12, 16]))}"]
            if section == "staves"
            else _regions(draw, length)
        ),
        *_joints(draw, length, ["hinge", "ferrule", "butt"] + ["scarf"] * (section != "staves")),
        *_fittings(draw, length),
        *_log(draw, length, section, wide),
        f"count = {draw(st.sampled_from([1, 1, 2]))}",
    ]
    units = draw(st.sampled_from(["mm", "in"]))
    head = f'format = 1\n[boat]\nname = "Trial"\nunits = "{units}"\n{SHOP}\n[[spar]]\nname = "stick"\n'
    return head + "\n".join(lines) + "\n" + MAST_OF_THE_BOAT


def _regions(draw: st.DrawFn, length: int) -> list[str]:
    lines = []
    run_outs = st.sampled_from([0, 60, 150])
    if draw(st.booleans()):
        lines.append(f'square_to = "{length // 10} mm"\nsquare_run_out = "{draw(run_outs)} mm"')
    regions = []
    for start, end in ((0.4, 0.5), (0.5, 0.6), (0.85, 1.0)):
        if draw(st.integers(0, 2)) == 0:
            kind = draw(st.sampled_from(["square", "eight", "round"]))
            regions.append(
                f'{{ from = "{start * length:.0f} mm", to = "{end * length:.0f} mm", section = "{kind}", '
                f'run_out = "{draw(run_outs)} mm" }}'
            )
    return [*lines, f"regions = [{', '.join(regions)}]"]


def _joints(draw: st.DrawFn, length: int, of: list[str]) -> list[str]:
    kinds = st.sampled_from(of)
    ats = draw(st.sampled_from([(), (), (0.3,), (0.3, 0.7)]))
    joints = [f'{{ at = "{part * length:.0f} mm", kind = "{draw(kinds)}" }}' for part in ats]
    return [f"joints = [{', '.join(joints)}]"]


def _fittings(draw: st.DrawFn, length: int) -> list[str]:
    fittings = []
    for part in draw(st.sets(st.sampled_from([0.0, 0.01, 0.2, 0.55, 0.8, 0.99, 1.0]), max_size=3)):
        place = f'at = "{part * length:.0f} mm", face = "{draw(st.sampled_from(["A", "B", "A and C"]))}", '
        fittings.append(f"{{ {place}{draw(st.sampled_from([_plain, _bar, _slot]))(draw)} }}")
    if draw(st.booleans()):  # at a joint, where there is one
        fittings.append(f'{{ at = "{0.3 * length:.0f} mm", face = "{draw(st.sampled_from("AB"))}", {_hinge(draw)} }}')
    if draw(st.integers(0, 3)) == 0:
        fittings.append(f'{{ at = "{draw(st.sampled_from([0, 0, length]))} mm", {_jaws(draw)} }}')
    return [f"fittings = [{', '.join(fittings)}]"]


def _plain(draw: st.DrawFn) -> str:
    fields = f'kind = "{draw(st.sampled_from(FITTED))}"'
    if draw(st.booleans()):
        fields += f', length = "{draw(st.integers(40, 150))} mm", flat = "{draw(st.integers(1, 4))} mm"'
    return fields + (f', hole = "{draw(st.integers(4, 9))} mm"' if draw(st.booleans()) else "")


def _bar(draw: st.DrawFn) -> str:
    bar, deep = draw(st.integers(6, 20)), draw(st.integers(3, 7))
    return f'kind = "bar", length = "{draw(st.integers(60, 300))} mm", bar = "{bar} mm", bar_deep = "{deep} mm"'


def _slot(draw: st.DrawFn) -> str:
    return f'kind = "sheave", slot = "{draw(st.integers(5, 12))} mm", slot_long = "{draw(st.integers(30, 80))} mm"'


def _hinge(draw: st.DrawFn) -> str:
    flat = draw(st.integers(1, 8))
    fields = f'kind = "hinge", length = "{draw(st.integers(100, 180))} mm", flat = "{flat} mm"'
    if draw(st.booleans()):
        fields += f', barrel = "{draw(st.integers(8, 12))} mm", barrel_deep = "{flat + draw(st.integers(2, 5))} mm"'
    return fields


def _jaws(draw: st.DrawFn) -> str:
    fields = f'kind = "jaws", face = "B and D", length = "{draw(st.integers(150, 300))} mm"'
    fields += f', flat = "{draw(st.integers(2, 4))} mm"' if draw(st.booleans()) else ""
    return fields + (f', hole = "6 mm", holes = {draw(st.integers(1, 3))}' if draw(st.booleans()) else "")


def _log(draw: st.DrawFn, length: int, section: str, wide: int) -> list[str]:
    """Measures a little over or under the width at the heel, and at half length, where they are within reason."""
    if section == "oval" or draw(st.booleans()):
        return []
    sizes = [wide + draw(st.sampled_from([-2, -0.2, 0, 0.3, 3])) for _ in range(2)]
    return [f'log = [{{ at = "0", widths = ["{sizes[0]} mm", "{sizes[1]} mm"], when = 2026-05-02 }}]']


@given(profiles())
@settings(max_examples=share(30), suppress_health_check=[HealthCheck.filter_too_much], deadline=None)
def test_any_card_makes_its_spar(text: str) -> None:
    reading = read(text)
    assume(not reading.faults)
    try:
        paper = printed(reading.boat, reading.boat.spars[0])
    except CompanionError:  # told in a line, and no paper
        assume(False)
    walk(paper, reading.boat.spars[0], reading.boat)


# The walk can fail: cards that are wrong on purpose

MAST, MIZZEN, HOLLOW = ("saltmarsh-yawl", "main mast"), ("saltmarsh-yawl", "mizzen mast"), ("oddments", "hollow mast")
GAFF, BITT, LUGGER = ("saltmarsh-yawl", "gaff"), ("saltmarsh-yawl", "bowsprit bitt"), ("fjord-lugger", "mast")
STEEP, POLE, BOOM = ("oddments", "steep sprit"), ("oddments", "boathook pole"), ("fjord-lugger", "boom")
STAVES = ("fjord-lugger", "mizzen mast")
Spoiled = Callable[[Written], Written]


@cache
def right(name: str, of: str) -> Written:
    """The card of an example, which makes its spar; what spoils it makes another."""
    paper = read_card(printed(boat(name), spar(name, of)))
    Walk(paper, spar(name, of), boat(name)).walk()
    return paper


def moved(title: str, before: str) -> Spoiled:
    """The step of that title put before another, and all numbered anew."""

    def spoil(paper: Written) -> Written:
        steps = [step for step in paper.steps if not step.title.startswith(title)]
        (own,) = (step for step in paper.steps if step.title.startswith(title))
        place = next(k for k, step in enumerate(steps) if step.title.startswith(before))
        return numbered(paper, [*steps[:place], own, *steps[place:]])

    return spoil


def dropped(title: str) -> Spoiled:
    return lambda paper: numbered(paper, [step for step in paper.steps if not step.title.startswith(title)])


def numbered(paper: Written, steps: list[WrittenStep]) -> Written:
    return paper._replace(steps=[step._replace(number=number) for number, step in enumerate(steps, 1)])


def said(title: str, now: str, then: str) -> Spoiled:
    """Other words in a step."""

    def spoil(paper: Written) -> Written:
        assert any(step.title.startswith(title) and re.search(now, step.words) for step in paper.steps)
        steps = [
            step._replace(words=re.sub(now, then, step.words)) if step.title.startswith(title) else step
            for step in paper.steps
        ]
        return paper._replace(steps=steps)

    return spoil


def row(title: str, place: int, **cells: str) -> Spoiled:
    """Other cells in a row of a step's table."""

    def spoil(paper: Written) -> Written:
        (step,) = (step for step in paper.steps if step.title.startswith(title))
        rows = list(step.tables[0].rows)
        assert all(rows[place][name.replace("_", " ")] != cell for name, cell in cells.items())
        rows[place] = {**rows[place], **{name.replace("_", " "): cell for name, cell in cells.items()}}
        made = step._replace(tables=[step.tables[0]._replace(rows=rows)])
        return paper._replace(steps=[made if old is step else old for old in paper.steps])

    return spoil


def no_row(title: str, place: int) -> Spoiled:
    def spoil(paper: Written) -> Written:
        (step,) = (step for step in paper.steps if step.title.startswith(title))
        rows = [row for k, row in enumerate(step.tables[0].rows) if k != place]
        made = step._replace(tables=[step.tables[0]._replace(rows=rows)])
        return paper._replace(steps=[made if old is step else old for old in paper.steps])

    return spoil


def station(at: str, **cells: str) -> Spoiled:
    """Other cells in a row of the station table."""

    def spoil(paper: Written) -> Written:
        def changed(old: Row) -> Row:
            return {**old, **{name.replace("_", " "): cell for name, cell in cells.items()}}

        assert any(row["station"] == at for row in paper.stations)
        return paper._replace(stations=[changed(row) if row["station"] == at else row for row in paper.stations])

    return spoil


def titled(title: str, now: str, then: str) -> Spoiled:
    """Another title of a step."""

    def spoil(paper: Written) -> Written:
        steps = [
            step._replace(title=step.title.replace(now, then)) if step.title.startswith(title) else step
            for step in paper.steps
        ]
        assert steps != paper.steps
        return paper._replace(steps=steps)

    return spoil


def measured(place: int, **cells: str) -> Spoiled:
    """Other cells in a row of what was measured."""

    def spoil(paper: Written) -> Written:
        words, (first, *others) = paper.log
        rows = list(first.rows)
        changed = {name.replace("_", " "): cell for name, cell in cells.items()}
        assert all(rows[place][name] != cell for name, cell in changed.items())
        rows[place] = {**rows[place], **changed}
        return paper._replace(log=(words, [first._replace(rows=rows), *others]))

    return spoil


def both(first: Spoiled, then: Spoiled) -> Spoiled:
    return lambda paper: then(first(paper))


def unmeasured(paper: Written) -> Written:
    return paper._replace(log=("", []))


@pytest.mark.parametrize(
    ("of", "spoil", "why"),
    [
        (MAST, moved("Turn it", "Taper the first"), "turned before the first pair"),
        (MAST, moved("Taper the second", "Turn it"), "lines on faces that are gone"),
        (MAST, dropped("Turn it"), "lines on faces that are gone"),
        (MAST, moved("Line out the eight", "Taper the second"), "lines for 8 on a stick of another"),
        (MAST, moved("Take the corners off", "Line out the eight"), "lines that are not there"),
        (MAST, moved("Take the eight corners", "Line out the sixteen"), "lines that are not there"),
        (MAST, dropped("Take the sixteen corners"), "32 sides are rounded, 16 are there"),
        (MAST, moved("Saw the parts", "Bore the holes"), "marked while the kerf is still to come off"),
        (MAST, moved("Mark the fittings", "Measure it"), "before it is marked"),
        (MAST, moved("Saw to length", "Sand it"), "the marks hang on the waste"),
        (MAST, dropped("Let in the cleat"), "the cleat is not let in"),
        (MAST, no_row("Mark the fittings", 1), "4 fittings of 5"),
        (MAST, no_row("Bore the holes", 0), "1 holes, the profile has 2"),
        (MAST, row("Bore the holes", 0, station="0"), "not bored at 4496"),
        (MAST, row("Bore the holes", 0, hole="1/4"), "not bored at 4496"),
        (MAST, row("Mark the fittings", 0, middle="4 ft 2 in"), "not marked where its middle is"),
        (MAST, said("Let in the cleat", "from 4 ft 6-1/2 in", "from 4 ft 9 in"), "for nothing that the profile has"),
        (
            MAST,
            said("Let in the cleat", "a floor [^ ]+ in( full| bare)? above", "a floor 1-1/2 in above"),
            "floor of",
        ),
        (MAST, said("Strike the centre", "Carry it over the end grain at both ends", "Go on"), "nothing on the ends"),
        (STAVES, said("Strike the centre", "Carry all four over the end grain at both ends", "Go on"), "on the ends"),
        (MAST, said("Mark the fittings", "Strike the centre lines of the faces again", "Look"), "went with the wood"),
        (MAST, said("Measure before", "set them off again", "go by them"), "lines went with the wood"),
        (MAST, said("Measure before", "1/8 in further on beyond 2 ft", "further on"), "the stations beyond 610 lie"),
        (MAST, said("Strike the centre", "Heel to head 18 ft 6-1/8 in", "Heel to head 18 ft 6 in"), "room for the saw"),
        (MAST, said("Saw the parts", "18 ft 6 in, the ends", "18 ft 5-7/8 in, the ends"), "after the saw"),
        (MAST, said("Saw to length", "18 ft 6 in", "18 ft 5 in"), "sawn to length"),
        (MAST, said("True the blank", "square of 4-1/4 in", "square of 3-1/2 in"), "less than the spar"),
        (MAST, station("2 ft 4 in", line_for_8="1-3/32 f"), "line for 8 at 711"),  # a run-out that is eaten
        (MAST, station("12 in", line_for_8="1-3/32 f"), "one without the other"),  # in the square heel
        (MAST, station("10 ft", line_for_8="1-5/32"), "line for 8 at 3048"),
        (MAST, station("10 ft", width="3-5/8"), "width at 3048"),
        (MAST, station("10 ft", off_each_face="3/8"), "do not make one blank"),
        (MAST, row("Take the corners off", 0, off_the_corner="25/32 b"), "off the corner at 711"),
        (MAST, row("Pare the run-outs", 2, off_each_corner="25/32 b"), "off the corner at 749"),
        (MAST, row("Measure it", 3, width="3-1/2"), "measured width"),
        (MAST, said("Round it", "of the 32 sides", "of the 16 sides"), "16 sides are rounded, 32 are there"),
        (MIZZEN, said("Take the sixteen corners", "to the head:", "to 6 ft:"), "out at"),
        (MIZZEN, said("Let in the hinge", "9/16 in below", "1/2 in below"), "no barrel_deep of 14.3 mm"),
        # what the spar was measured to be, and how many are made
        (MIZZEN, measured(1, to_come_off="1/8"), "to come off at 1524"),
        (MIZZEN, measured(2, each_face="1/16"), "off each face at 2438"),
        (MIZZEN, measured(0, **{"is": "thin"}), "it is called 'thin'"),
        (MIZZEN, unmeasured, "the card has nothing of it"),
        (MIZZEN, lambda paper: paper._replace(log=("Too thin at 5 ft.", paper.log[1])), "it is not too thin"),
        (MAST, lambda paper: paper._replace(log=("Measured.", [])), "a spar that was not measured"),
        (BITT, said("True the blank", "Make 2, all alike", "Make it"), "no step says to make 2, all alike"),
        (BITT, lambda paper: paper._replace(head=paper.head.replace("2, all alike", "")), "the head does not say"),
        # flats, slots, and the hinge
        (MAST, titled("Let in the cleat", "4 ft 10 in", "4 ft 9 in"), "the station in the title"),
        (MAST, row("Let in the hounds", 0, below_crown="1/4"), "flat at 4801"),
        (STEEP, said("Let in the cleat", "The flat runs out at", "It ends at"), "and nothing says so"),
        (STEEP, said("Let in the cleat", "runs out at 21-21/32 in bare", "runs out at 20-1/2 in"), "the crown at 521"),
        (LUGGER, row("Cut the slots", 0, long="60"), "length of the slot of the sheave"),
        (LUGGER, row("Cut the slots", 0, wide="11"), "slot of the sheave"),
        (LUGGER, row("Cut the slots", 0, middle="5270"), "no slot for the sheave at 5280"),
        (LUGGER, dropped("Cut the slots"), "the slot of the sheave is not cut"),
        (MIZZEN, said("Let in the hinge", "the first 9/16", "the first 1/2"), "too near to the barrel"),
        (MIZZEN, said("Let in the hinge", "the last 2-5/8", "the last 2-3/4"), "too near to the end of its leaf"),
        (
            MIZZEN,
            both(
                said("Let in the hinge", "two rows 23/32 in bare", "two rows 1-1/4 in"),
                row("Join the parts", 0, on_a_circle_of="0", thick="1/8"),
            ),
            "too near to the edge",
        ),
        (MIZZEN, row("Join the parts", 0, thick="1-7/16", on_a_circle_of="31/32"), "lies in what the hinge takes"),
        (MIZZEN, row("Join the parts", 0, on_a_circle_of="5/8"), "where the holes of the hinge go through"),
        # jaws
        (
            GAFF,
            said("Cut the heel", "to a radius of 2-3/16 in", "to a radius of 2-1/2 in"),
            "the throat's template",
        ),
        (GAFF, said("Cut the heel", "1/4 in bare deep", "3/8 in deep"), "how deep the heel is hollowed"),
        (
            GAFF,
            said("Cut the heel", "to the other that is 2-1/4", "to the other that is 2"),
            "the bevel through",
        ),
        (
            GAFF,
            said("Make the jaws", "Between the horns 4-3/8 in", "Between the horns 4 in"),
            "the throat's radius",
        ),
        (GAFF, said("Make the jaws", "each 14-9/32 in bare long", "each 13 in long"), "length of a cheek"),
        (GAFF, said("Make the jaws", "10 in of it on the spar", "9 in of it on the spar"), "length of a cheek"),
        (GAFF, said("Make the jaws", "2-3/16 in wide across", "2 in wide across"), "width of a cheek"),
        (GAFF, said("Make the jaws", "flats, 1/8 in deep", "flats, 1/4 in deep"), "flats of the jaws"),
        (GAFF, said("Make the jaws", "2 rods", "3 rods"), "3 rods, the profile has 2"),
        (GAFF, said("Make the jaws", "the first 2-1/2 in", "the first 2 in"), "the rods along the cheeks"),
        (
            GAFF,
            said("Make the jaws", "1/4 in thick and 7 in", "1/4 in thick and 6 in"),
            "shorter than what it goes",
        ),
        (GAFF, said("Make the jaws", "1/4 in thick", "5/16 in thick"), "rods of the jaws"),
        (GAFF, row("Bore the holes", 1, station="8 in"), "rod 2 of the jaws: 203.20"),
        (GAFF, row("Bore the holes", 0, hole="3/8"), "not bored at 64"),
        (BOOM, said("Cut the heel", r"First cut the flats .*? line\. ", ""), "between seats that no step has cut"),
        (
            POLE,
            said("Saw to length", r"The rounding of the head reaches", "Look at"),
            "the eye at 2121 is rounded over",
        ),
        (HOLLOW, said("True the two halves", r"1/4 in further on", "1/8 in further on"), "stations beyond 4877"),
        (GAFF, moved("Make the jaws", "Cut the heel"), "when the jaws are on"),
        (STAVES, moved("Taper the plain", "Notch one edge"), "no straight edge to notch it by"),
        (STAVES, moved("Glue the ring", "Put it together"), "glued before it was tried dry"),
        (STAVES, moved("Line out and take", "Plane the corners"), "no faces to line out yet"),
        (STAVES, dropped("Make the plugs"), "before there is anything to put together"),
        (STAVES, said("Rip and plane", "Rip 8 staves", "Rip 7 staves"), "7 staves of 8"),
        (STAVES, said("Notch", "its bottom 6.5 mm in", "its bottom 8 mm in"), "where the outer side comes out"),
        (STAVES, said("Notch", "inner side at 45°", "inner side at 60°"), "no right angle"),
        (STAVES, said("Notch", "blade 6.5 mm high; second", "blade 9 mm high; second"), "first cut ends in the bottom"),
        (STAVES, station("1000 mm", stave="25"), "stave at 1000"),
        (STAVES, station("1000 mm", off_the_plain_edge="4"), "what comes off at 1000"),
        (STAVES, no_row("Make the plugs", 1), "no plug from 480 to 480"),
        (STAVES, row("Make the plugs", 1, heelward_tail="60", heelward_hole="37.5"), "is too short"),
        (STAVES, row("Make the plugs", 1, heelward_hole="40"), "the plug's size"),
        (STAVES, row("Line out and take", 2, in_from_each_edge="6"), "two lines for one place"),
        (STAVES, row("Line out and take", 2, off_the_corner="5"), "off the corner at"),
        (STAVES, said("Round it", "of the 32 sides", "of the 16 sides"), "16 sides are rounded, 32 are there"),
        (HOLLOW, moved("True the two halves", "True the blank"), "straightened before they are hollowed"),
        (HOLLOW, moved("Hollow", "Strike the centre"), "glued before it is hollowed"),
        (HOLLOW, row("Hollow", 4, bore="2-3/8"), "thinner than asked for"),
        (HOLLOW, row("Hollow", 4, deep_in_each_half="1-5/32 f"), "deeper than its wall"),
        (HOLLOW, row("Hollow", 0, station="4 ft", bore="2", deep_in_each_half="1"), "where it stays solid"),
        (HOLLOW, no_row("Join the parts", 1), "has no dowels"),
        (HOLLOW, row("Join the parts", 0, on_a_circle_of="3-1/2"), "outside the finished spar"),
    ],
)
def test_a_wrong_card_is_caught(of: tuple[str, str], spoil: Spoiled, why: str) -> None:
    paper = right(*of)
    with pytest.raises(WalkFault, match=re.escape(why)):
        Walk(spoil(paper), spar(*of), boat(of[0])).walk()


def test_steps_that_are_out_of_number_are_caught() -> None:
    paper = right(*MAST)
    with pytest.raises(WalkFault, match="comes as the"):
        Walk(paper._replace(steps=paper.steps[1:]), spar(*MAST), boat(MAST[0])).walk()
