"""The order of work: which steps a spar gets, in which order, and what changes them."""

import re
from math import cos, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.card.lines import Paper
from shopcompanion.card.plan import CardPlan
from shopcompanion.card.step import Step
from shopcompanion.card.steps import progress, steps
from shopcompanion.card.text import card
from shopcompanion.lengths import RULES, Rule, read
from shopcompanion.profile.records import Boat
from shopcompanion.profile.ticks import tick_fault
from shopcompanion.spar.along import Joint
from shopcompanion.spar.fitting import FITTINGS

from .boats import boat, one_spar, spars

ROUNDING = ["mark-8", "cut-8", "mark-16", "cut-16", "cut-32", "round"]
SQUARING = ["true-blank", "mark-centre", "first-faces", "turn", "second-faces"]
DONE = ["measure-unsanded", "sand", "ends", "measure"]
SHOP = """[shop]
planing = "3 mm"
drums = [{ diameter = "125 mm", rpm = 1400 }]
belts = [{ length = "915 mm" }]
bits = [{ kind = "roundover", radius = "20 mm", pilot = "12 mm" }]
"""
TAPERED = """length = "3 m"
stations = [{ at = "0", width = "60 mm" }, { at = "3 m", width = "40 mm" }]
"""
UNTAPERED = """length = "3 m"
stations = [{ at = "0", width = "40 mm" }, { at = "3 m", width = "40 mm" }]
"""


def of(boat: Boat, rule: Rule | None = None) -> dict[str, Step]:
    """The steps of a boat's first spar by their ids."""
    made = steps(boat, boat.spars[0], rule or boat.rule)
    by_id = {step.id: step for step in made}
    assert len(by_id) == len(made)
    return by_id


def words(step: Step) -> str:
    return " ".join((*step.says, *step.setup, *step.checks, *step.cautions))


@pytest.mark.parametrize(("name", "spar"), spars())
def test_every_step_is_whole(name: str, spar: str) -> None:
    made = steps(boat(name), boat(name).spar(spar), boat(name).rule)
    assert len({step.id for step in made}) == len(made)
    for step in made:
        assert step.id == step.id.lower()
        assert step.title
        assert step.says
        for line in (*step.says, *step.setup, *step.checks, *step.cautions):
            assert line == line.strip()
            assert line.endswith((".", "?"))
            assert "—" not in line  # no answer that is none
            assert "None" not in line
        for table in step.tables:
            assert table.rows
            assert {len(row) for row in table.rows} == {len(table.columns)}


def test_a_round_spar_goes_the_whole_way() -> None:
    assert list(of(one_spar(TAPERED, more=SHOP))) == [*SQUARING, *ROUNDING, *DONE]


def test_a_square_spar_stops_early() -> None:
    assert list(of(one_spar(TAPERED + 'section = "square"'))) == [*SQUARING, "edges", *DONE]


def test_an_eight_sided_spar_stops_after_eight() -> None:
    ids = of(one_spar(TAPERED + 'section = "eight"'))
    assert list(ids) == [*SQUARING, "mark-8", "cut-8", *DONE]
    assert "flat block" in words(ids["sand"])


def test_as_many_sides_as_sanding_asks_for() -> None:
    thin = 'length = "1 m"\nstations = [{ at = "0", width = "10 mm" }, { at = "1 m", width = "8 mm" }]'
    middling = 'length = "1 m"\nstations = [{ at = "0", width = "40 mm" }, { at = "1 m", width = "30 mm" }]'
    assert [step_id for step_id in of(one_spar(thin)) if step_id in ROUNDING] == ["mark-8", "cut-8", "round"]
    assert [step_id for step_id in of(one_spar(middling)) if step_id in ROUNDING] == [*ROUNDING[:4], "round"]


LIMIT = 0.5 / (1 / cos(pi / 16) - 1) * 2  # how wide a spar is whose sixteen sides stand half a millimetre proud


def test_thirty_two_sides_go_as_far_as_the_ridge_says() -> None:
    """From 60 mm at the heel to 40 mm at 3 m, straight: 51 mm wide at 1343.5 mm."""
    end = (60 - LIMIT) / 20 * 3000
    assert end == pytest.approx(1343.5, abs=0.05)
    step = of(one_spar(TAPERED), RULES[6])["cut-32"]
    assert step.says[0].startswith(f"From the heel to {end:.1f} mm")


def test_every_range_of_thirty_two_sides_is_said() -> None:
    swells = (
        'length = "4 m"\nstations = [{ at = "0", width = "60 mm" }, { at = "1 m", width = "45 mm" }, '
        '{ at = "2 m", width = "45 mm" }, { at = "3 m", width = "60 mm" }, { at = "4 m", width = "40 mm" }]'
    )
    ends = ((60 - LIMIT) / 15 * 1000, 2000 + (LIMIT - 45) / 15 * 1000, 3000 + (60 - LIMIT) / 20 * 1000)
    first, second, third = (round(end) for end in ends)
    said = words(of(one_spar(swells), RULES[4])["cut-32"])
    match = re.match(r"From the heel to (\d+) mm[a-z ]*; from (\d+) mm[a-z ]* to (\d+) mm", said)
    assert match
    assert [int(number) for number in match.groups()] == [first, second, third]


def test_a_run_out_needs_fewer_sides_where_less_is_cut() -> None:
    """Half way along the run-out of 200 mm half of the ridge stands there: 80 mm there is as 40 mm of round."""
    wide = UNTAPERED.replace("40 mm", "80 mm") + 'square_to = "1 m"\nsquare_run_out = "200 mm"'
    begins = 1000 + 200 * LIMIT / 80
    assert f"From {begins:.1f} mm" in words(of(one_spar(wide), RULES[6])["cut-32"])


def test_one_size_and_the_bit_for_it_take_the_router() -> None:
    made = of(one_spar(UNTAPERED, more=SHOP))
    assert list(made) == [*SQUARING, "round-over", *DONE]
    step = made["round-over"]
    assert "20 mm radius" in step.setup[0]
    assert any("ends square" in line for line in step.cautions)
    assert made["first-faces"].title == "Plane the first two faces, B and D, to size"


@pytest.mark.parametrize(
    "body",
    [
        TAPERED,  # tapers
        UNTAPERED.replace("40 mm", "41 mm"),  # a bit that leaves flats
        UNTAPERED.replace("40 mm", "39 mm"),  # a bit too big
        UNTAPERED + 'section = "eight"',
        'section = "oval"\nlength = "3 m"\n'
        'stations = [{ at = "0", width = "40 mm", depth = "40 mm" }, { at = "3 m", width = "40 mm", depth = "40 mm" }]',
    ],
)
def test_no_router_where_the_bit_does_not_do_it(body: str) -> None:
    assert "round-over" not in of(one_spar(body, more=SHOP))


def test_nothing_comes_off_a_blank_of_the_spars_own_size() -> None:
    made = of(one_spar(UNTAPERED + 'blank = "40 mm"', more=SHOP))
    assert list(made) == ["true-blank", "mark-centre", "round-over", *DONE]


def test_parts_are_joined_first_and_sawn_apart_last() -> None:
    joints = (
        'joints = [{ at = "1 m", kind = "hinge" }, { at = "2 m", kind = "scarf" }, { at = "2.5 m", kind = "ferrule" }]'
    )
    ids = list(of(one_spar(TAPERED + joints)))
    assert ids[:3] == ["scarf", "true-blank", "dowel"]
    assert ids[-4:] == ["sand", "part", "ends", "measure"]
    made = of(one_spar(TAPERED + joints))
    assert "2000 mm" in words(made["scarf"])
    assert "from 1000 mm to 1003 mm (hinge); from 2503 mm to 2506 mm (ferrule)" in words(made["part"])
    assert [row[0] for row in made["dowel"].tables[0].rows] == [1000, 2500]


def test_a_scarf_has_its_slope_and_its_length() -> None:
    """12 to 1 in the bare thickest of 60 mm; with 3 mm of planing on each face, in 66 mm."""
    joint = 'joints = [{ at = "1 m", kind = "scarf" }]'
    bare = words(of(one_spar(TAPERED + joint))["scarf"])
    assert "slope of 12 to 1 makes a scarf 720 mm long in a stick 60 mm thick" in bare
    planed = of(one_spar(TAPERED + joint, more=SHOP))["scarf"]
    assert "makes a scarf 792 mm long in a stick 66 mm thick" in words(planed)
    assert [(question.calculator, question.at) for question in planed.asked] == [("scarf", 1000)]
    preset = '\n[[preset]]\ncalculator = "scarf"\nname = "short"\nspar = "stick"\ninputs = { slope = "8" }'
    assert "slope of 8 to 1 makes a scarf 480 mm long" in words(of(one_spar(TAPERED + joint + preset))["scarf"])


def test_a_scarf_in_the_way_of_a_fitting_is_told_on_the_card() -> None:
    joint = 'joints = [{ at = "1 m", kind = "scarf" }]\nfittings = [{ at = "1.2 m", kind = "gooseneck" }]'
    step = of(one_spar(TAPERED + joint))["scarf"]
    assert "From 640 mm to 1360 mm the scarf takes in gooseneck at 1200 mm: move its middle to 830 mm." in step.cautions


def test_a_scarf_alone_is_never_sawn() -> None:
    made = of(one_spar(TAPERED + 'joints = [{ at = "1 m", kind = "scarf" }]'))
    assert "part" not in made
    assert "dowel" not in made


HOLLOW = TAPERED + 'section = "hollow"\nwall = "12 mm"\n'


def test_a_hollow_spar_is_straightened_then_hollowed_then_glued() -> None:
    made = of(one_spar(HOLLOW + 'bow = "9 mm"'))
    assert list(made)[:4] == ["true-halves", "hollow", "true-blank", "mark-centre"]
    assert "bowed 9 mm" in words(made["true-halves"])
    assert "bow" not in words(made["true-blank"])  # nothing is left to come out of a wall
    assert "off B as off D" in words(made["true-blank"])
    assert "the glue line is the centre line" in words(made["mark-centre"])


def test_no_bore_where_a_hollow_spar_stays_solid() -> None:
    """Heel, a joint, a cleat with its length, the square part and the head, and a slope of two widths beside each."""
    more = 'joints = [{ at = "1500 mm", kind = "scarf" }]\nsquare_to = "300 mm"\n'
    more += 'fittings = [{ at = "2200 mm", kind = "cleat", length = "200 mm", flat = "3 mm" }]'
    rows = of(one_spar(HOLLOW + more))["hollow"].tables[0].rows

    def wide(at: float) -> float:
        return 60 - at / 150

    solid = [(0, 300), (1500 - wide(1500), 1500 + wide(1500)), (3000 - wide(3000), 3000)]
    solid.append((2200 - 100 - wide(2200) / 2, 2200 + 100 + wide(2200) / 2))
    ats = [row[0] for row in rows]
    assert ats
    for at in ats:
        assert all(at <= start - 120 + 1e-5 or at >= end + 120 - 1e-5 for start, end in solid), at
    assert 420 in ats  # where the bore is full behind the square
    for at, bore, deep in rows:
        assert bore == pytest.approx(wide(at) - 24)
        assert deep == pytest.approx(bore / 2)


def test_the_wall_is_never_thinner_than_is_asked_for() -> None:
    """Both columns rounded down, as they are printed; and the card says so."""
    rule = RULES[2]
    step = of(one_spar(HOLLOW), rule)["hollow"]
    table, paper = step.tables[0], Paper(rule)
    assert paper.roundings(table) == ("Rounded down to a mark: bore, deep in each half.",)
    for row in table.rows:
        bore, deep = (float(read(paper.cell(*pair), "in")) for pair in zip(table.columns[1:], row[1:], strict=True))
        outside = 60 - row[0] / 150
        assert 12 <= (outside - bore) / 2 < 12 + 25.4 / 32
        assert 12 <= outside / 2 - deep < 12 + 25.4 / 16


def test_a_hollow_spar_weighs_what_its_card_leaves() -> None:
    """The tube where the table has a bore, solid where the card says so, cones between."""
    made = one_spar(
        UNTAPERED.replace("40 mm", "60 mm") + 'section = "hollow"\nwall = "12 mm"\nspecies = "Spruce, Sitka"'
    )
    body = made.spars[0].body()
    bore = pi * 18**2
    assert body.volume() == pytest.approx(3000 * pi * 30**2 - bore * (3000 - 120 - 240) - bore * 240 / 3)


def test_where_the_walls_meet_there_is_no_bore() -> None:
    made = one_spar(HOLLOW)
    made = made._replace(spars=(made.spars[0]._replace(wall=22.0),))
    rows = of(made)["hollow"].tables[0].rows
    assert rows
    assert all(bore > 0 for _, bore, _ in rows)
    assert rows[-1][0] <= (60 - 44) * 150


def test_a_spar_with_no_room_for_a_hollow_is_made_solid_and_says_so() -> None:
    short = one_spar(HOLLOW.replace("3 m", "300 mm"))
    made = of(short)
    assert "hollow" not in made
    assert "Make it solid" in words(made["true-blank"])
    body = short.spars[0].body()
    assert body.volume() == pytest.approx(body._replace(section="round", wall=0.0).volume())


def test_a_stick_too_thin_for_a_tilted_saw_is_planed() -> None:
    thin = of(one_spar(TAPERED.replace("60 mm", "30 mm").replace("40 mm", "20 mm")))["cut-8"]
    assert thin.setup == ()
    assert "Plane down to the lines in V blocks" in words(thin)
    assert "Blade guard" not in words(thin)
    part = of(one_spar(TAPERED.replace("40 mm", "30 mm")))["cut-8"]
    assert part.setup == ("Saw tilted 45°.",)
    assert "Where it is thinner than 38 mm full, plane" in words(part)


def test_an_ovals_table_has_the_tilt_of_the_saw_alone() -> None:
    stations = (
        'stations = [{ at = "0", width = "40 mm", depth = "60 mm" }, { at = "3 m", width = "30 mm", depth = "40 mm" }]'
    )
    table = of(one_spar(f'section = "oval"\nlength = "3 m"\n{stations}'))["cut-8"].tables[0]
    assert table.columns[1].kind.label == "Saw tilt"
    assert table.rows[0][1] == pytest.approx(33.6901)  # atan(40/60)
    assert table.rows[-1][1] == pytest.approx(36.8699)  # atan(30/40)


def test_the_bow_comes_out_of_the_blank() -> None:
    assert "bowed 9 mm" in words(of(one_spar(TAPERED + 'bow = "9 mm"'))["true-blank"])
    assert "bowed" not in words(of(one_spar(TAPERED))["true-blank"])


@pytest.mark.parametrize(
    ("extra", "shop", "sawn"),
    [
        ("", "", "60 mm square and 3050 mm long"),  # 25 mm of waste at each end where the shop says none
        ('bow = "9 mm"\n', 'planing = "3 mm"\ntrim = "20 mm"', "75 mm square and 3040 mm long"),
        ('blank = "70 mm"\njoints = [{ at = "1 m", kind = "hinge" }, { at = "2 m", kind = "butt" }]\n',
         'kerf = "4 mm"\ntrim = "20 mm"', "70 mm square and 3048 mm long"),
    ],
)  # fmt: skip
def test_the_first_step_has_the_blank_as_it_is_sawn(extra: str, shop: str, sawn: str) -> None:
    """By hand: the side and twice the planing and the bow; the length, twice the trim and a kerf for every joint."""
    told = words(of(one_spar(extra + TAPERED, more=f"[shop]\n{shop}"))["true-blank"])
    room = "the bow and for waste" if "bow" in extra else "waste"
    assert f"Saw the stick {sawn}: that leaves room for {room} at both ends." in told


def test_an_ovals_blank_is_the_rectangle_of_the_plan() -> None:
    """By hand: 40 and 60 mm at the widest, and 3 mm on each face; at the head 8 and 13 mm come off."""
    stations = (
        'stations = [{ at = "0", width = "40 mm", depth = "60 mm" }, { at = "3 m", width = "30 mm", depth = "40 mm" }]'
    )
    built = one_spar(f'section = "oval"\nlength = "3 m"\n{stations}', more='[shop]\nplaning = "3 mm"\ntrim = "10 mm"\n')
    told = words(of(built)["true-blank"])
    assert "The blank is 46 mm across B and D, 66 mm across A and C" in told
    assert "Saw the stick 46 mm by 66 mm and 3020 mm long" in told
    assert of(built)["first-faces"].tables[0].rows[-1][-1] == 8
    assert of(built)["second-faces"].tables[0].rows[-1][-1] == 13


def test_as_many_as_are_alike_are_made() -> None:
    assert "Make 2, all alike." in words(of(one_spar("count = 2\n" + TAPERED))["true-blank"])
    assert "alike." not in words(of(one_spar(TAPERED))["true-blank"])


def test_what_the_blank_is_made_of() -> None:
    planed = words(of(one_spar(TAPERED, more='[shop]\nplaning = "3 mm"'))["true-blank"])
    assert "a square of 66 mm, the thickest place and 3 mm on each face" in planed
    given_one = words(of(one_spar(TAPERED + 'blank = "70 mm"'))["true-blank"])
    assert "a square of 70 mm." in given_one
    bare = of(one_spar(TAPERED))["true-blank"]
    assert any("the finished size itself" in line for line in bare.cautions)


def test_an_oval_gets_its_two_lines_and_its_tilts() -> None:
    stations = (
        'stations = [{ at = "0", width = "40 mm", depth = "60 mm" }, { at = "3 m", width = "30 mm", depth = "40 mm" }]'
    )
    made = of(one_spar(f'section = "oval"\nlength = "3 m"\n{stations}', more=SHOP))
    columns = [column.name for column in made["second-faces"].tables[0].columns]
    assert columns == ["at", "depth", "half_depth", "off_depth"]
    assert [column.name for column in made["mark-8"].tables[0].columns] == ["at", "mark_8", "mark_8_depth"]
    first, last = made["cut-8"].tables[0].rows[0], made["cut-8"].tables[0].rows[-1]
    assert first[1] == pytest.approx(33.6901)  # atan(40/60)
    assert last[1] == pytest.approx(36.8699)  # atan(30/40)
    assert "33.7° at the heel" in made["cut-8"].setup[0]
    assert len(made["mark-16"].tables[0].columns) == 4
    assert made["second-faces"].tables[0].rows[0][1] == 60


def test_corners_stay_on_where_the_spar_is_square() -> None:
    made = of(one_spar(TAPERED + 'square_to = "300 mm"\nsquare_run_out = "60 mm"'))
    for name, full in (("mark-8", 1 - 1 / sqrt(2)), ("cut-8", 1 / sqrt(2) - 1 / 2), ("mark-16", 0.1076506)):
        begins, ends = made[name].tables[0].rows[:2]
        assert begins[:2] == (300, 0)  # where the corner is whole
        assert ends[:2] == (360, pytest.approx(57.6 * full, rel=1e-6))
    assert "square from the heel to 300 mm. First square lines round it" in made["mark-8"].says[0]
    assert made["mark-8"].says[1].startswith("The corners run out from 300 mm to 360 mm.")
    assert "with the gauge" not in made["mark-8"].says[1]
    assert "not in the run-outs" in made["mark-8"].says[2]
    step = made["run-outs"]
    assert [row[0] for row in step.tables[0].rows] == [300, 315, 330, 345, 360]
    for k, (at, off, line) in enumerate(step.tables[0].rows):
        wide = 60 - at / 150
        assert off == pytest.approx(k / 4 * wide * (sqrt(2) - 1) / 2)
        assert line == pytest.approx(k / 4 * wide * (1 - 1 / sqrt(2)))
    girths = {row[0]: row[-1] for row in made["measure"].tables[0].rows}
    assert girths[0] is girths[300] is None
    assert girths[360] == pytest.approx(57.6 * pi)


RUN_OUT = """length = "3 m"
stations = [{{ at = "0", width = "60 mm" }}, {{ at = "3 m", width = "60 mm" }}]
section = "{section}"
wall = "12 mm"
regions = [{{ from = "1 m", to = "2 m", section = "{region}", run_out = "400 mm" }}]
"""


@pytest.mark.parametrize(
    ("section", "region", "eight", "sixteen"),
    [  # the share of the cut a quarter of a run-out from the region's ends
        ("round", "square", 0.25, 0.25),
        ("hollow", "square", 0.25, 0.25),
        ("eight", "square", 0.25, None),
        ("round", "eight", 1.0, 0.25),
        ("square", "round", 0.75, 0.75),
        ("square", "eight", 0.75, None),
        ("eight", "round", 1.0, 0.75),
    ],
)
def test_the_station_table_follows_every_run_out(
    section: str, region: str, eight: float, sixteen: float | None
) -> None:
    made = one_spar(RUN_OUT.format(section=section, region=region))
    joints = tuple(Joint(at=at, kind="scarf") for at in (900.0, 2100.0))
    table = CardPlan(made, made.spars[0]._replace(joints=joints), made.rule).stations
    assert [column.name for column in table.columns][4:-1] == ["mark_8", "mark_16"][: 1 if sixteen is None else 2]
    rows = {row[0]: row[4:-1] for row in table.rows}
    assert {600, 1000, 2000, 2400} <= set(rows)
    full = (60 * (1 - 1 / sqrt(2)), 60 * 0.1076506)
    shares = (eight, sixteen)
    for at in (900.0, 2100.0):
        wanted = [whole * share for whole, share in zip(full, shares, strict=True) if share is not None]
        assert rows[at] == pytest.approx(wanted, rel=1e-6)


def test_a_spar_that_is_square_all_along_is_a_square_spar() -> None:
    made = of(one_spar(TAPERED + 'square_to = "3 m"'))
    assert list(made) == [*SQUARING, "edges", *DONE]


def test_an_eight_sided_stretch_stops_the_sixteen_alone() -> None:
    regions = 'regions = [{ from = "1 m", to = "2 m", section = "eight" }]'
    made = of(one_spar(TAPERED + regions))
    assert [row[0] for row in made["cut-8"].tables[0].rows] == [0, 500, 1000, 1500, 2000, 2500, 3000]
    assert [row[0] for row in made["cut-16"].tables[0].rows] == [0, 500, 1000, 2000, 2500, 3000]
    assert "eight-sided from 1000 mm to 2000 mm" in made["mark-16"].says[0]
    assert "stays" not in made["mark-8"].says[0]
    assert "die into the round" in words(made["run-outs"])


def test_a_square_that_meets_an_eight_sided_stretch_runs_out_into_that() -> None:
    regions = 'square_to = "1 m"\nsquare_run_out = "50 mm"\n'
    regions += 'regions = [{ from = "1 m", to = "1.5 m", section = "eight", run_out = "80 mm" }]'
    made = of(one_spar(TAPERED + regions))
    assert [row[:2] for row in made["cut-8"].tables[0].rows[:2]] == [
        (1000, 0),
        (1050, pytest.approx((60 - 7) * (sqrt(2) - 1) / 2)),
    ]
    assert [row[:2] for row in made["cut-16"].tables[0].rows[:2]] == [
        (1500, 0),
        (1580, pytest.approx((60 - 1580 / 150) * (1 / cos(pi / 8) - 1) / 2)),
    ]
    first, second = made["run-outs"].says
    assert first.startswith(
        "From 1000 mm, where the corners are whole, to 1050 mm, where the eight sides begin, pare one"
    )
    assert second == "From 1500 mm to 1580 mm let the eight sides die into the round, by eye, all of them alike."


def test_a_square_head_has_no_lines_and_no_tip() -> None:
    made = of(one_spar(TAPERED + 'regions = [{ from = "2.5 m", to = "3 m", section = "square" }]'))
    assert made["cut-8"].tables[0].rows[-1][0] == 2500
    assert made["ends"].title == "Saw to length, round the heel"


@pytest.mark.parametrize(
    ("extra", "title"),
    [
        ("", "Saw to length, round the ends"),
        ('kind = "mast"', "Saw to length, round the head"),
        ('kind = "mizzen"', "Saw to length, round the head"),
        ('kind = "gaff"\nfittings = [{ at = "20 mm", kind = "jaws" }]', "Saw to length, round the head"),
        ('kind = "gaff"\nfittings = [{ at = "1 m", kind = "jaws" }]', "Saw to length, round the ends"),
        ('kind = "yard"\nfittings = [{ at = "20 mm", kind = "eye" }]', "Saw to length, round the ends"),
        ('square_to = "200 mm"', "Saw to length, round the head"),
    ],
)
def test_an_end_is_rounded_where_nothing_bears_on_it(extra: str, title: str) -> None:
    assert of(one_spar(TAPERED + extra))["ends"].title == title


MAST = """[[spar]]
name = "mast"
kind = "mast"
length = "5 m"
stations = [{ at = "0", width = "90 mm" }, { at = "5 m", width = "60 mm" }]
"""


def test_sanding_by_the_drum_there_is() -> None:
    drives = words(of(one_spar(TAPERED, more=SHOP))["sand"])
    assert "drives all along" in drives
    assert "Drum 125 mm, 1 400 rpm; belt 915 mm inside" in drives
    slips = words(of(one_spar(TAPERED, more=SHOP.replace("125 mm", "50 mm")))["sand"])
    assert "slips from the heel to 1500 mm: sand that by hand. A drum over 60 mm" in slips
    only = words(of(one_spar(TAPERED, more=SHOP.replace("125 mm", "30 mm")))["sand"])
    assert "only spins on the drum" in only
    short = words(of(one_spar(TAPERED, more=SHOP.replace("915 mm", "200 mm")))["sand"])
    assert "too short to go round" in short
    assert words(of(one_spar(TAPERED))["sand"]).startswith("Sand by hand, with a strip of belt pulled to and fro")


def test_a_preset_of_the_spar_says_how_a_tool_is_set_up() -> None:
    preset = (
        '[[preset]]\ncalculator = "gauge"\nname = "thin"\nspar = "stick"\ninputs = { pin = "3 mm", ratio = "7:10:7" }\n'
    )
    step = of(one_spar(TAPERED, more=SHOP + preset))["mark-8"]
    assert "pins 3 mm thick" in step.setup[0]
    assert step.asked[0].preset == "thin"
    of_none = preset.replace('spar = "stick"\n', "")
    assert "pins 6 mm thick" in of(one_spar(TAPERED, more=SHOP + of_none))["mark-8"].setup[0]


def test_a_preset_that_no_longer_fits_is_passed_over() -> None:
    preset = '[[preset]]\ncalculator = "drum"\nname = "old"\nspar = "stick"\ninputs = { widest = "20 mm" }\n'
    built = one_spar(TAPERED, more=SHOP + preset)
    step = of(built)["sand"]
    assert step.asked[0].preset is None
    assert "Drum 125 mm" in step.setup[0]
    (told,) = step.left_out
    assert told.startswith("preset 'old' of drum: ")
    assert told.endswith("; worked out without it")
    assert all(not step.left_out for name, step in of(built).items() if name != "sand")
    for spar in (built.spars[0], None):
        made = card(built, spar, rule=built.rule, source="", version="", date=None)
        assert [lost.name for lost in made.left_out] == ["preset 'old' of drum"]
        assert "preset 'old' of drum" in made.text[: made.text.index("LEFT OUT") + 400]
    assert card(one_spar(TAPERED, more=SHOP), None, rule=built.rule, source="", version="", date=None).left_out == ()


def test_an_oval_is_ripped_through_both_its_sides() -> None:
    """A blank of 70 by 96 mm, 3 mm to plane on each face, for a saw that cuts 85 mm."""
    shop = SHOP.replace("[shop]\n", '[shop]\nsaw_depth = "85 mm"\n')
    oval = """length = "3 m"
section = "oval"
stations = [{ at = "0", width = "64 mm", depth = "90 mm" }, { at = "3 m", width = "40 mm", depth = "50 mm" }]
"""
    assert of(one_spar(oval, more=shop))["true-blank"].setup == (
        "Rip through 70 mm in one pass: the blade reaches 85 mm.",
        "Rip through 96 mm in two passes, from both sides: the blade reaches 85 mm.",
    )


@pytest.mark.parametrize(("name", "spar"), spars())
def test_every_step_has_a_name_that_a_profile_may_tick(name: str, spar: str) -> None:
    for step in steps(boat(name), boat(name).spar(spar), boat(name).rule):
        assert tick_fault(step.id, FITTINGS) is None


def test_the_gauge_tells_its_error_at_either_end() -> None:
    step = of(one_spar(TAPERED))["mark-8"]
    assert "It is exact where the face is 60 mm, and is off by -0.38 mm where the face is 40 mm." in step.setup


def test_progress() -> None:
    made = steps(boat("saltmarsh-yawl"), boat("saltmarsh-yawl").spars[0], RULES[2])
    assert progress(made, ()) == (0, len(made), made[0])
    assert progress(made, ("true-blank", "mark-centre", "no such step")) == (2, len(made), made[1])
    assert progress(made, [step.id for step in made]) == (len(made), len(made), None)


@pytest.mark.parametrize("rule", RULES, ids=str)
@pytest.mark.parametrize(("name", "spar"), spars())
def test_the_rule_changes_no_step(name: str, spar: str, rule: Rule) -> None:
    stick = boat(name).spar(spar)
    by_own = [step.id for step in steps(boat(name), stick, boat(name).rule)]
    assert [step.id for step in steps(boat(name), stick, rule)] == by_own


@st.composite
def bodies(draw: st.DrawFn) -> tuple[str, list[tuple[int, float, float]]]:
    """The lines of any sound spar of three metres, and its stations: at, width, depth."""
    widths = st.floats(8, 200)
    inner = sorted(draw(st.sets(st.integers(1, 99), max_size=4)))
    stations = [(at * 30, round(draw(widths), 3), round(draw(widths), 3)) for at in (0, *inner, 100)]
    section = draw(st.sampled_from(["round", "square", "eight", "oval"]))
    deep = ', depth = "{:.4f} mm"' if section == "oval" else ""
    rows = ", ".join(f'{{ at = "{at} mm", width = "{wide:.4f} mm"{deep.format(d)} }}' for at, wide, d in stations)
    law = draw(st.sampled_from(["straight", "faired"]))
    square = draw(st.integers(0, 100)) * 30
    body = f'length = "3 m"\nsection = "{section}"\nlaw = "{law}"\nstations = [{rows}]\nsquare_to = "{square} mm"'
    return body, stations


@given(bodies())
def test_any_sound_spar_has_its_order_of_work(drawn: tuple[str, list[tuple[int, float, float]]]) -> None:
    body, stations = drawn
    made = of(one_spar(body, more=SHOP))
    assert next(iter(made)) == "true-blank"
    assert list(made)[-1] == "measure"
    sizes = {row[0]: row[1:3] for row in made["measure"].tables[0].rows}
    for at, width, depth in stations:
        assert sizes[at][0] == pytest.approx(width, abs=1e-6)
        if "oval" in body:
            assert sizes[at][1] == pytest.approx(depth, abs=1e-6)
