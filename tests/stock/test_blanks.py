"""From a boat to its blanks: sizes worked out by hand, ways at joints, timber and prices."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.lengths import RULES, show
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat
from shopcompanion.stock.blanks import MANY, Task, task
from shopcompanion.stock.pieces import Need

INCH = 25.4
PROFILES = Path(__file__).parents[2] / "profiles"
SHOP = '[shop]\nkerf = "1/8 in"\nplaning = "1/8 in"\ntrim = "1 in"\ncurrency = "EUR"\n'
YARD = '[[yard]]\nname = "deal"\nnominal = "4 x 4"\nlengths = ["10 ft"]\nprice = "20"\n'


def boat(text: str, shop: str = SHOP, rest: str = YARD, units: str = "in") -> Boat:
    reading = read(f'format = 1\n[boat]\nname = "Trial"\nunits = "{units}"\nrule = "1/16 in"\n{shop}{text}\n{rest}')
    assert reading.faults == ()
    return reading.boat


def example(name: str) -> Boat:
    return read((PROFILES / f"{name}.toml").read_text(encoding="utf-8")).boat


def need(of: Boat, name: str) -> Need:
    return next(need for need in task(of, of.rule).problem.needs if need.name == name)


def inches(need: Need, way: int = 0) -> list[tuple[float, ...]]:
    return [
        tuple(round(mm / INCH, 6) for mm in (blank.thickness, blank.width, blank.length)) for blank in need.ways[way]
    ]


STICK = (
    '[[spar]]\nname = "stick"\nlength = "8 ft"\nstations = [{at = "0", width = "2 in"}, {at = "8 ft", width = "1 in"}]'
)


def notes_of(job: Task) -> list[str]:
    return [note.on(job.rule) for note in job.notes]


def test_a_stick() -> None:
    """2 in and 1/8 off both faces; 96 in and 1 in at both ends."""
    stick = need(boat(STICK), "stick")
    assert inches(stick) == [(2.25, 2.25, 98.0)]
    assert (
        stick.ways[0][0].why.on(RULES[1]) == "2 in finished, 1/8 in on each face for planing; 8 ft and 1 in at each end"
    )


def test_its_own_blank_and_its_bow_go_before_the_planing_of_the_shop() -> None:
    """The blank of 2-1/2 in, and the 3/8 in that the bow takes."""
    assert inches(need(boat(STICK + '\nblank = "2-1/2 in"\nbow = "3/8 in"'), "stick")) == [(2.875, 2.875, 98.0)]


def test_sizes_go_up_to_the_next_mark_of_the_rule() -> None:
    """2.03 in and 1/4 are 2.28, and 2-5/16 on sixteenths; 8 ft 1/32 in goes up to 98-1/16 in."""
    text = STICK.replace("2 in", "2.03 in").replace("8 ft", "96-1/32 in")
    assert inches(need(boat(text), "stick")) == [(2.3125, 2.3125, 98.0625)]


def test_a_hinge_is_sawn_apart_later_or_made_of_two() -> None:
    """Whole: the saw takes 1/8 in. In two: at 4 ft it is 1-1/2 in thick, and both parts have their own ends."""
    stick = need(boat(STICK + '\njoints = [{at = "4 ft", kind = "hinge"}]'), "stick")
    assert inches(stick) == [(2.25, 2.25, 98.125)]
    assert inches(stick, 1) == [(2.25, 2.25, 50.0625), (1.75, 1.75, 50.0625)]  # and half a kerf at the joint
    assert [blank.name for blank in stick.ways[1]] == ["stick, part 1", "stick, part 2"]


def test_a_gaffs_blank_has_the_wood_that_the_throat_is_cut_from() -> None:
    """By hand, a gaff of 2 in peaked to 45°: half of 2 in for the bevel, which is the trim's 1 in already, and the
    throat's hollow across the gaff between flats as wide as 1 in plank."""
    gaff = STICK + '\nkind = "gaff"\nfittings = [{at = "0", kind = "jaws"}]\n'
    mast = '[[spar]]\nname = "mast"\nkind = "mast"\nlength = "20 ft"\nstations = [{at = "0", width = "4 in"}, '
    mast += '{at = "20 ft", width = "4 in"}]'
    (thick, _, long), *_ = inches(need(boat(gaff + mast), "stick"))
    assert thick == 2.25
    radius, half = 2 + (3 + 5) / 25.4, (1 - 0.5**2) ** 0.5
    assert long - 98 == pytest.approx(radius - (radius**2 - half**2) ** 0.5, abs=1 / 16)


def test_a_scarf_is_half_in_either_part() -> None:
    """Twelve times the blank's 2-1/4 in is 27 in: 48 + 13-1/2 + 2 in each. What is scarfed is of one size."""
    stick = need(boat(STICK + '\njoints = [{at = "4 ft", kind = "scarf"}]'), "stick")
    assert inches(stick) == [(2.25, 2.25, 98.0)]
    assert inches(stick, 1) == [(2.25, 2.25, 63.5), (2.25, 2.25, 63.5)]
    assert "27 in for the scarf" not in stick.ways[1][0].why.on(RULES[1])
    assert "13-1/2 in for the scarf" in stick.ways[1][0].why.on(RULES[1])


def test_a_scarf_that_would_run_out_past_an_end_parts_nothing() -> None:
    stick = need(boat(STICK + '\njoints = [{at = "1 ft", kind = "scarf"}]'), "stick")
    assert len(stick.ways) == 1


def test_an_oval_is_a_rectangle() -> None:
    text = (
        '[[spar]]\nname = "boom"\nsection = "oval"\nlength = "6 ft"\n'
        'stations = [{at = "0", width = "2 in", depth = "3 in"}, {at = "6 ft", width = "1-1/2 in", depth = "2 in"}]'
    )
    assert inches(need(boat(text), "boom")) == [(2.25, 3.25, 74.0)]


def test_alike_spars_and_pieces_are_as_many_needs() -> None:
    text = (
        STICK + '\ncount = 2\n[[piece]]\nname = "cheek"\nthickness = "1 in"\nwidth = "4 in"\nlength = "2 ft"\ncount = 3'
    )
    problem = task(boat(text), RULES[1]).problem
    assert [need.name for need in problem.needs] == ["stick 1", "stick 2", "cheek 1", "cheek 2", "cheek 3"]
    assert inches(problem.needs[4]) == [(1.25, 4.25, 26.0)]
    assert problem.timbers[0].alike == 5  # no more than could be wanted


def test_the_ways_of_many_joints_are_bounded() -> None:
    joints = ", ".join(f'{{at = "{9 * place} in", kind = "butt"}}' for place in range(1, 10))
    stick = need(boat(STICK + f"\njoints = [{joints}]"), "stick")
    assert len(stick.ways) == MANY
    assert max(map(len, stick.ways)) == MANY.bit_length()


@given(
    st.lists(st.tuples(st.integers(1, 95), st.sampled_from(["hinge", "butt", "ferrule", "scarf"])), max_size=4),
    st.integers(0, 4),
)
def test_every_way_holds_the_whole_spar(joints: list[tuple[int, str]], bow: int) -> None:
    """Whatever the joints, the parts together are as long as the spar, and each is as thick as what it holds."""
    places = dict(joints)
    rows = ", ".join(f'{{at = "{at} in", kind = "{places[at]}"}}' for at in sorted(places))
    made = boat(STICK + f'\nbow = "{bow}/8 in"\njoints = [{rows}]')
    spar = made.spars[0]
    for way in need(made, "stick").ways:
        assert sum(blank.length - 2 * INCH for blank in way) >= spar.length - 1e-6
        assert max(blank.thickness for blank in way) >= spar.thickest + INCH / 4
        past = 0.0
        for blank in way:
            assert blank.thickness >= spar.outline().width_at(min(past, spar.length)) - 1e-6
            past += blank.length - 2 * INCH


def test_the_bitts_of_the_yawl() -> None:
    """2-3/4 in and 1/4, 29 in and two."""
    assert inches(need(example("saltmarsh-yawl"), "bowsprit bitt 2")) == [(3.0, 3.0, 31.0)]


@pytest.mark.parametrize("name", ["saltmarsh-yawl", "fjord-lugger"])
def test_the_examples_have_nothing_to_be_noted_but_a_timber_of_a_size_from_memory(name: str) -> None:
    boat = example(name)
    assert [note for note in notes_of(task(boat, boat.rule)) if "spruce flitch, 5 x 5" not in note] == []


def test_prices_are_exact_to_the_hundredth_half_up() -> None:
    """10 ft at 1.0505 a foot is 10.505: 10.51. A 2 x 6 of 10 ft has ten board feet by its nominal size."""
    yard = (
        '[[yard]]\nname = "deal"\nnominal = "2 x 6"\nlengths = ["10 ft"]\nprice = "1.0505"\nper = "foot"\n'
        '[[yard]]\nname = "plank"\nnominal = "2 x 6"\nlengths = ["10 ft", "12 ft"]\nprice = "3.30 EUR"\n'
        'per = "board foot"\n'
    )
    timbers = task(boat(STICK, rest=yard), RULES[1]).problem.timbers
    assert [timber.price for timber in timbers] == [1051, 3300, 3960]
    assert timbers[0].nominal == pytest.approx((2 * INCH, 6 * INCH, 120 * INCH))
    assert (timbers[0].thickness, timbers[0].width) == pytest.approx((1.5 * INCH, 5.5 * INCH))


def test_knots_species_and_what_is_on_hand() -> None:
    rest = (
        '[[timber]]\nname = "plank"\nspecies = "sitka"\nthickness = "3 in"\nwidth = "6 in"\nlength = "9 ft"\n'
        'count = 2\nknots = [{ from = "4 ft", to = "4 ft 2 in" }, { from = "1 ft", to = "1 ft 1 in" }]\n'
    )
    (timber,) = task(boat(STICK + '\nspecies = "Spruce, Sitka"', rest=rest), RULES[1]).problem.timbers
    assert (timber.species, timber.alike, timber.price) == ("Spruce, Sitka", 2, None)
    assert [round(mm / INCH, 6) for knot in timber.knots for mm in knot] == [12, 13, 48, 50]


def test_what_the_shop_does_not_say_is_asked_for_in_a_line_each() -> None:
    rest = YARD.replace('"20"', '"20 EUR"') + (
        '[[timber]]\nname = "lath"\nthickness = "1/4 in"\nwidth = "2 in"\nlength = "4 ft"\n'
    )
    notes = notes_of(task(boat(STICK, shop="", rest=rest), RULES[1]))
    assert [note.split(":")[0] for note in notes[:3]] == [
        "No saw kerf was entered",
        "No planing allowance was entered",
        "No waste at the ends was entered",
    ]
    assert "1/8 in is assumed" in notes[0]
    assert notes[3] == "lath is thinner than every blank, so it is of no use here."


@pytest.mark.parametrize(
    ("text", "rest", "told"),
    [
        ("", YARD, "nothing to cut"),
        (STICK, "", "enter what is on hand ([[timber]]) or what is sold ([[yard]])"),
    ],
)
def test_what_makes_no_plan(text: str, rest: str, told: str) -> None:
    with pytest.raises(InputFault, match=re.escape(told)):
        task(boat(text, rest=rest), RULES[1])


def test_a_dressed_size_from_memory_is_told() -> None:
    both = YARD + YARD.replace("4 x 4", "5/4 x 6").replace("deal", "board")
    (told,) = notes_of(task(boat(STICK, rest=both), RULES[1]))[:1]
    taken = "5/4 x 6 is taken as 1 in x 5-1/2 in, dressed dry"
    assert told == f"board: {taken}: that is from memory, unverified, so measure it."
    assert notes_of(task(boat(STICK, rest=YARD.replace("4 x 4", "8 x 8")), RULES[1]))[0] == (
        "deal: 8 x 8 is taken as 7-1/2 in x 7-1/2 in, dressed green: that is from memory, unverified, so measure it, "
        "and it will shrink."
    )
    assert not [note for note in notes_of(task(boat(STICK), RULES[1])) if "memory" in note]


def test_a_faulty_kerf_costs_itself_alone() -> None:
    """Zero and below are told, and the plan is made with the common kerf and says so."""
    for kerf in ("0", "-1/8 in"):
        shop = SHOP.replace('"1/8 in"', f'"{kerf}"', 1)
        reading = read(f'format = 1\n[boat]\nname = "Trial"\nunits = "in"\n{shop}{STICK}\n{YARD}')
        assert [fault.key for fault in reading.faults] == ["kerf"]
        job = task(reading.boat, RULES[1])
        assert show(job.problem.kerf, RULES[1]) == "1/8 in"
        assert "No saw kerf was entered" in notes_of(job)[0]


def test_what_a_metric_shop_does_not_say_is_taken_at_whole_millimetres_that_can_be_written() -> None:
    boat = read(
        'format = 1\n[boat]\nname = "Dunlin"\nunits = "mm"\n[[piece]]\nname = "post"\nthickness = "50 mm"\n'
        'width = "60 mm"\nlength = "900 mm"\n[[timber]]\nname = "plank"\nthickness = "60 mm"\nwidth = "150 mm"\n'
        'length = "2 m"\n'
    ).boat
    job = task(boat, boat.rule)
    assert (job.problem.kerf, job.problem.keep) == (3, 25)
    assert job.problem.needs[0].ways[0][0].length == 950
    assert tuple(notes_of(job)) == (
        "No saw kerf was entered: 3 mm is assumed.",
        "No waste at the ends was entered: 25 mm at each end is assumed.",
    )


def test_a_hollow_spar_is_made_of_two_halves_each_with_the_bow_of_its_own():
    """A half is as wide as the trued blank and half as thick, and thicker by the whole bow, which each has."""
    rest = 'section = "hollow"\nwall = "1/2 in"\nbow = "3/8 in"\njoints = [{at = "4 ft", kind = "butt"}]'
    mast = need(boat(STICK + "\n" + rest), "stick")
    solid = need(boat(STICK + '\nbow = "3/8 in"'), "stick")
    ((long, wide, thick),) = {(blank.length, blank.width, blank.thickness) for blank in solid.ways[0]}
    assert wide == thick
    halves = mast.ways[0]
    assert [blank.name for blank in halves] == ["stick, half"] * 2
    for half in halves:
        assert half.width == pytest.approx(wide - 3 / 8 * INCH)
        assert half.thickness == pytest.approx((wide - 3 / 8 * INCH) / 2 + 3 / 8 * INCH)
        assert half.length >= long
    assert [blank.name for blank in mast.ways[1]] == ["stick, part 1, half"] * 2 + ["stick, part 2, half"] * 2
