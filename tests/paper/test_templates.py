"""Templates read back from paper, SVG and DXF, and held against the plan's own numbers to a twentieth of a mm."""

from functools import cache
from io import StringIO
from itertools import pairwise
from math import hypot, pi, tan
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from shopcompanion.card.origin import Origin
from shopcompanion.card.plan import CardPlan
from shopcompanion.errors import InputFault
from shopcompanion.paper.dxf import dxf
from shopcompanion.paper.full_size import TRUE, Correction, correction, drawing, sheets_of
from shopcompanion.paper.marks import ArcMark, Mark, Point, Stroke, along
from shopcompanion.paper.pdf import pdf
from shopcompanion.paper.sheets import MARGIN, SHEETS, PaperSheet
from shopcompanion.paper.templates.every import KINDS, Templates, templates
from shopcompanion.paper.templates.template import Template
from tests.card.boats import boat, one_spar, spars
from tests.paper.reading import Drawn, out_of_place, sheets
from tests.paper.reading import Sheet as Printed

if TYPE_CHECKING:
    from ezdxf.document import Drawing

NEAR = 0.05  # mm
IN = 25.4
CUT, SCRIBE = 0.35, 0.25  # mm, the widths of the lines


@cache
def of(name: str, spar: str, *only: str) -> Templates:
    its = boat(name)
    return templates(CardPlan(its, its.spar(spar), its.rule), only)


def printed(made: Templates, paper: PaperSheet = SHEETS["a4"], by: Correction = TRUE) -> list[Printed]:
    pages = sheets_of(made, paper, "trial", Origin(boat("saltmarsh-yawl").rule, "boat.toml", "9.9", "2026-05-02"), by)
    return sheets(pdf(pages, "trial", "2026-05-02"))


def called(made: Templates, name: str) -> Template:
    [template] = [template for template in made.all if template.name == name]
    return template


def lines(template: Template, pen: str) -> list[tuple[Point, ...]]:
    return [along(mark) if isinstance(mark, ArcMark) else _closed(mark) for mark in template.marks
            if isinstance(mark, ArcMark | Stroke) and mark.pen == pen]  # fmt: skip


def _closed(mark: Mark) -> tuple[Point, ...]:
    assert isinstance(mark, Stroke)
    return (*mark.points, mark.points[0]) if mark.closed else mark.points


def alone(template: Template) -> Templates:
    return Templates("spar", (template,), (), ())


def bars(page: Printed) -> tuple[float, float]:
    """How long the two check bars are on the sheet."""
    full = [mark.points for mark in page.drawn if len(mark.points) == 2 and abs(mark.width - CUT) < 0.01]
    across = [abs(b[0] - a[0]) for a, b in full if abs(a[1] - b[1]) < 1e-6 and a[1] > page.height - 30]
    up = [abs(b[1] - a[1]) for a, b in full if abs(a[0] - b[0]) < 1e-6 and a[0] < MARGIN + 6]
    [wide] = [size for size in across if size > 50]
    [high] = [size for size in up if size > 50]
    return wide, high


# --- true size --------------------------------------------------------------------------------------------------------


def test_the_check_bars_are_a_hundred_millimetres_on_every_sheet() -> None:
    for name, sheet in SHEETS.items():
        for page in printed(of("saltmarsh-yawl", "mizzen mast", "strips", "flats"), sheet):
            assert bars(page) == pytest.approx((100.0, 100.0), abs=NEAR), name
            assert "measure this: 100 mm" in page.text()
            assert "100 mm = 3-15/16 in" in page.text()


def test_a_printer_that_draws_small_is_put_right_each_way() -> None:
    """Drawn so much larger that on a printer that makes 98.7 of 100 across and 99.4 along it comes out as 100."""
    by = correction("98.7 mm & 99.4 mm", "in")
    template = called(of("saltmarsh-yawl", "mizzen mast", "gauges"), "gauge-1524-round")
    [page] = printed(alone(template), by=by)
    wide, high = bars(page)
    assert wide * 0.987 == pytest.approx(100.0, abs=NEAR)
    assert high * 0.994 == pytest.approx(100.0, abs=NEAR)
    [arc] = [mark.points for mark in page.drawn if len(mark.points) > 60]
    xs, ys = zip(*arc, strict=True)
    assert (max(xs) - min(xs)) * 0.987 == pytest.approx(mizzen_at(5) * IN, abs=NEAR)
    assert (max(ys) - min(ys)) * 0.994 == pytest.approx(mizzen_at(5) * IN / 2, abs=NEAR)
    assert correction("3-15/16", "in") == pytest.approx((1.0, 1.0), abs=2e-4)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("80 mm", "'80 mm' is too far from the bar's 100 mm"),
        ("4", "'4' is too far"),  # in millimetres
        ("98.7 mm & 120 mm", "'120 mm' is too far"),
        ("0", "'0' is too far"),
        ("98 mm & 99 mm & 99 mm", "one length, or two"),
        ("about right", ""),
    ],
)
def test_what_no_bar_measures(text: str, told: str) -> None:
    with pytest.raises(InputFault) as fault:
        correction(text, "mm")
    assert fault.value.field == "measured"
    assert fault.value.reason.startswith(told)


def test_a_sheet_that_is_too_small() -> None:
    with pytest.raises(InputFault, match="80 by 90 mm has no room"):
        printed(of("saltmarsh-yawl", "mizzen mast", "strips"), PaperSheet("small", 80.0, 90.0))


# --- each kind, against the plan's numbers ----------------------------------------------------------------------------


def mizzen_at(feet: float) -> float:
    """The mizzen's width in inches beyond 2 ft, by the plan's two sizes: 2-3/4 in there, 1-3/4 in at 11 ft 3 in."""
    return 2.75 - (feet - 2) * (2.75 - 1.75) / (11.25 - 2)


def test_the_gauge_for_5_ft_fits_the_mizzen() -> None:
    """Cut out of the sheet, its hollow is a half round of 2.4257 in, a bare 2-7/16."""
    made = of("saltmarsh-yawl", "mizzen mast", "gauges")
    template = called(made, "gauge-1524-round")
    assert template.title == "Gauge, round"
    assert template.says[0] == "mizzen mast, at 5 ft: 2-7/16 in bare"
    [page] = printed(alone(template))
    assert "mizzen mast, at 5 ft: 2-7/16 in bare" in page.text()
    [arc] = [mark.points for mark in page.drawn if len(mark.points) > 60]
    size = mizzen_at(5) * IN
    middle = ((arc[0][0] + arc[-1][0]) / 2, (arc[0][1] + arc[-1][1]) / 2)
    assert abs(arc[-1][0] - arc[0][0]) == pytest.approx(size, abs=NEAR)
    assert all(hypot(x - middle[0], y - middle[1]) == pytest.approx(size / 2, abs=NEAR) for x, y in arc)


@pytest.mark.parametrize("sides", [8, 16])
def test_the_gauges_for_facets_touch_every_facet(sides: int) -> None:
    """The sides of a regular polygon are all half of its width from the middle, and as long as geometry says."""
    points = lines(called(of("saltmarsh-yawl", "mizzen mast", "gauges"), f"gauge-1524-{sides}"), "cut")[1]
    assert len(points) == sides // 2 + 2
    size = mizzen_at(5) * IN
    for (x1, y1), (x2, y2) in pairwise(points[1:-1]):
        long = hypot(x2 - x1, y2 - y1)
        assert abs(x1 * y2 - x2 * y1) / long == pytest.approx(size / 2, abs=1e-3)
        assert long == pytest.approx(size * tan(pi / sides), abs=1e-3)
    assert points[0] == pytest.approx((-size / 2, 0.0), abs=1e-3)


def test_every_station_of_the_table_has_its_gauge() -> None:
    """The square heel to 14 in, the round beyond it; a mast that keeps its size has one gauge for all of that."""
    said = " ".join(template.says[0] for template in of("saltmarsh-yawl", "mizzen mast", "gauges").all)
    for station in ("the heel", "12 in", "2 ft", "3 ft", "10 ft", "11 ft", "the head"):
        assert f"at {station}:" in said
    titles = [
        template.title
        for template in of("saltmarsh-yawl", "mizzen mast", "gauges").all
        if "at 7 ft:" in template.says[0]
    ]
    assert titles == ["Gauge, eight sides", "Gauge, sixteen sides", "Gauge, round"]
    main = [template for template in of("saltmarsh-yawl", "main mast", "gauges").all if "to 9 ft" in template.says[0]]
    assert {template.says[0] for template in main} == {"main mast, at 2 ft 7 in to 9 ft: 3-3/4 in"}


def test_a_marking_strip_has_both_edges_and_the_lines_for_eight() -> None:
    """0.29289 of the width from either edge (geometry of the octagon)."""
    template = called(of("saltmarsh-yawl", "mizzen mast", "strips"), "strip-1524")
    size = mizzen_at(5) * IN
    [page] = printed(alone(template))
    upright = [mark for mark in page.drawn
               if len(mark.points) == 2 and abs(mark.points[0][0] - mark.points[1][0]) < 1e-6
               and mark.points[0][1] < 60]  # fmt: skip
    [middle] = [mark.points[0][0] for mark in upright if mark.dash and mark.dash[0] > 5]
    marks = sorted(mark.points[0][0] - middle for mark in upright if mark.dash and mark.dash[0] < 5)
    assert marks == pytest.approx([-(0.5 - 0.292893) * size, (0.5 - 0.292893) * size], abs=NEAR)
    edges = sorted(mark.points[0][0] - middle for mark in upright if not mark.dash)
    assert edges == pytest.approx([-size / 2, size / 2], abs=NEAR)


def test_the_strip_of_the_spar_gauge_has_its_pins_and_pencils() -> None:
    """Pins as far apart as the calculator sets them, and each pencil so that w = 2-3/4 in is marked 0.29289 in."""
    plan = CardPlan(boat("saltmarsh-yawl"), boat("saltmarsh-yawl").spar("mizzen mast"), boat("saltmarsh-yawl").rule)
    gauge = plan.job.ask("gauge")
    rings = [
        mark for mark in of("saltmarsh-yawl", "mizzen mast", "spar-gauge").all[0].marks if isinstance(mark, ArcMark)
    ]
    xs = [ring.x for ring in rings]
    pin = gauge["pin"]
    assert xs[3] - xs[0] == pytest.approx(gauge["pin_spacing"], abs=NEAR)
    assert [2 * ring.radius_x for ring in rings][::3] == [pin, pin]
    widest = 2.75 * IN
    lean = (widest + pin) / (xs[3] - xs[0])  # the sine of the angle at which both pins touch
    for pencil, start, way in ((xs[1], xs[0], 1), (xs[2], xs[3], -1)):
        assert way * (pencil - start) * lean - pin / 2 == pytest.approx(0.292893 * widest, abs=NEAR)


def test_the_flat_of_the_hinge_and_its_barrel() -> None:
    """A flat 3/8 in deep at 5 ft on the round, its chord 2·√(h(D − h)); 6 in long, wider towards the heel."""
    template = of("saltmarsh-yawl", "mizzen mast", "flats").all[0]
    assert template.title == "Cut for the hinge: fold (e)"
    [outline] = lines(template, "cut")
    for feet, x in ((4.75, -3.0), (5.0, 0.0), (5.25, 3.0)):
        wide = mizzen_at(feet)
        floor = mizzen_at(5) / 2 - 0.375
        half = max(y for a, y in outline if abs(a - x * IN) < 1e-6)
        assert half == pytest.approx(((wide / 2) ** 2 - floor**2) ** 0.5 * IN, abs=NEAR)
    barrel = next(line for line in lines(template, "scribe") if len(line) == 5)
    assert max(x for x, _ in barrel) - min(x for x, _ in barrel) == pytest.approx(0.375 * IN, abs=NEAR)
    deep = mizzen_at(5)
    assert max(y for _, y in barrel) == pytest.approx((0.5625 * (deep - 0.5625)) ** 0.5 * IN, abs=NEAR)


def test_the_holes_of_a_fitting_lie_where_the_profile_has_them() -> None:
    """Two holes of 1/4 in spread evenly over 10 in: 2-1/2 in to either side of the middle."""
    template = next(template for template in of("saltmarsh-yawl", "gaff", "flats").all if "jaws" in template.title)
    rings = [mark for mark in template.marks if isinstance(mark, ArcMark)]
    assert sorted(ring.x for ring in rings) == pytest.approx([-2.5 * IN, 2.5 * IN], abs=NEAR)
    assert {round(2 * ring.radius_x, 3) for ring in rings} == {6.35}


def test_the_cheek_of_the_jaws() -> None:
    """The throat is half of the opening in radius, and its bevel of 45° runs the plank's 1 in from face to face."""
    its = boat("saltmarsh-yawl")
    from shopcompanion.card.jaws import jaws_of

    jaws = jaws_of(CardPlan(its, its.spar("gaff"), its.rule))
    assert jaws is not None
    [template] = of("saltmarsh-yawl", "gaff", "jaws").all
    upper, lower = (
        next(m for m in template.marks if isinstance(m, ArcMark) and m.pen == pen) for pen in ("cut", "scribe")
    )
    assert upper.radius_x == lower.radius_x == pytest.approx(jaws["opening"] / 2)
    assert lower.x - upper.x == pytest.approx(1.0 * IN * tan(pi / 4), abs=NEAR)
    outline = next(line for line in lines(template, "cut") if len(line) == 7)
    xs = [x for x, _ in outline]
    assert max(xs) - min(xs) == pytest.approx(jaws["cheek_length"], abs=NEAR)
    assert outline[0][1] == pytest.approx(jaws["opening"] / 2, abs=NEAR)
    assert outline[2][1] - outline[1][1] == pytest.approx(jaws["horn_used"], abs=NEAR)
    assert outline[4][1] - outline[5][1] == pytest.approx(jaws["cheek_width"], abs=NEAR)
    assert "Grain along the arrows" in template.says[1]


def test_the_tip_has_its_first_chamfer_where_practice_has_it() -> None:
    """A 45° chamfer begins 0.5858 of the radius back from the end (common practice, no source)."""
    [template] = of("saltmarsh-yawl", "mizzen mast", "tips").all
    [arc] = [mark for mark in template.marks if isinstance(mark, ArcMark)]
    radius = 0.875 * IN
    assert (arc.radius_x, arc.radius_y) == pytest.approx((radius, radius), abs=NEAR)
    flats = [line for line in lines(template, "scribe") if len(line) == 2]
    leaning = [line for line in flats if abs(abs(line[0][0] - line[1][0]) - abs(line[0][1] - line[1][1])) < 1e-6]
    assert leaning
    for (x1, y1), _ in leaning:  # the plane of a 45° flat: x + |y| = radius·√2
        assert x1 + abs(y1) == pytest.approx(radius * 2**0.5, abs=NEAR)
        assert radius - (radius * 2**0.5 - radius) == pytest.approx(0.5858 * radius, abs=NEAR)


def test_a_cradle_holds_the_round_on_its_axis() -> None:
    """A round of radius r in a V of 90° lies r·√2 above the corner of the V."""
    template = of("saltmarsh-yawl", "main mast", "cradles").all[0]
    [ring] = [mark for mark in template.marks if isinstance(mark, ArcMark)]
    [board] = [line for line in lines(template, "cut") if len(line) == 8]
    corner = min((p for p in board if abs(p[0]) < 1e-9), key=lambda p: p[1])
    assert ring.y - corner[1] == pytest.approx(ring.radius_x * 2**0.5, abs=NEAR)
    assert 2 * ring.radius_x == pytest.approx(IN * (3.75 - (14.75 - 9) * 0.375 / 6), abs=NEAR)


def test_the_section_of_a_stave_has_its_notch_at_the_angle_of_the_ring() -> None:
    """Eight staves turn by 45°: two sides of the notch stand square to one another, each 45° to the face (geometry)."""
    template = of("fjord-lugger", "mizzen mast", "staves").all[0]
    [outline] = lines(template, "cut")
    a, b, c = outline[2], outline[3], outline[4]
    side, other = (a[0] - b[0], a[1] - b[1]), (c[0] - b[0], c[1] - b[1])
    assert side[0] == pytest.approx(side[1], abs=1e-6)
    assert side[0] * other[0] + side[1] * other[1] == pytest.approx(0.0, abs=1e-6)
    thick = boat("fjord-lugger").spar("mizzen mast").wall
    assert max(y for _, y in outline) - min(y for _, y in outline) == pytest.approx(thick, abs=NEAR)
    assert max(x for x, _ in outline) - b[0] == pytest.approx(thick / 2, abs=NEAR)


def post() -> CardPlan:
    """A square stick with a scarf and a lap."""
    stick = 'length = "3 m"\nsection = "square"\nstations = [{at = 0, width = "50"}, {at = "3 m", width = "50"}]\n'
    stick += 'blank = "60"\njoints = [{at = "1500", kind = "scarf"}]\n'
    its = one_spar(stick + 'fittings = [{at = "600", kind = "lap", length = "40", flat = "15"}]')
    return CardPlan(its, its.spars[0], its.rule)


def test_a_scarf_and_a_lap() -> None:
    """12 to 1 on a stick of 60 mm is 720 mm; a lap of 40 mm, 15 mm deep in a stock of 50 mm."""
    plan = post()
    [wedge] = templates(plan, ["scarfs"]).all
    [outline] = lines(wedge, "cut")
    long, thick = max(x for x, _ in outline), max(y for _, y in outline)
    assert long / thick == pytest.approx(12.0, abs=1e-9)
    assert thick == pytest.approx(plan.job.ask("scarf", 1500.0)["scarf_length"] / 12, abs=NEAR)
    [lap] = templates(plan, ["laps"]).all
    knife = lines(lap, "scribe")
    assert {round(abs(line[0][0]), 3) for line in knife} == {20.0}
    floors = {abs(line[0][1]) for line in knife if line[0][1] == line[1][1]}
    assert floors == {50.0 / 2 + 15.0}


# --- on sheets --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "spar"), spars())
def test_the_sheets_of_a_spar(name: str, spar: str) -> None:
    """Every template is there with its words, nothing lies on anything else, and everything is within the margins."""
    made = of(name, spar)
    pages = printed(made, SHEETS["letter"])
    text = " ".join(page.text() for page in pages)
    for template in made.all:
        assert template.title in text
        for said in template.says:
            assert said.replace("  ", " ") in text, said
    for page in pages:
        assert bars(page) == pytest.approx((100.0, 100.0), abs=NEAR)
        assert out_of_place(page, MARGIN) == []
        for mark in page.drawn:
            for x, y in mark.points:
                assert MARGIN - 0.3 <= x <= page.width - MARGIN + 0.3, mark
                assert MARGIN - 0.3 <= y <= page.height - MARGIN + 0.3, mark
    names = [template.name for template in made.all]
    assert len(set(names)) == len(names)


def test_what_is_larger_than_a_sheet_is_put_together_by_its_crosses() -> None:
    """The cheek over two sheets: laid with the crosses A1 and A2 on one another, its outline is whole."""
    [template] = of("saltmarsh-yawl", "gaff", "jaws").all
    first, second = printed(alone(template))
    assert "Sheet A of 2" in first.text()
    assert "Sheet B of 2" in second.text()
    shifts = [_cross(second, name)[1] - _cross(first, name)[1] for name in ("A1", "A2")]
    aside = [_cross(second, name)[0] - _cross(first, name)[0] for name in ("A1", "A2")]
    assert shifts[0] == pytest.approx(shifts[1], abs=0.01)
    assert aside == pytest.approx([0.0, 0.0], abs=0.01)
    points = [p for cut in _cuts(first) for p in cut.points]
    points += [(x, y - shifts[0]) for cut in _cuts(second) for x, y in cut.points]
    left, low, right, high = template.box
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    long = max(y for _, y in points) - min(y for _, y in points)
    [outline] = [line for line in lines(template, "cut") if len(line) == 7]
    xs, ys = zip(*outline, strict=True)
    assert long == pytest.approx(max(xs) - min(xs), abs=NEAR)
    assert wide == pytest.approx(max(ys) - min(ys), abs=NEAR)
    assert high - low < right - left


def _cuts(page: Printed) -> list[Drawn]:
    bars_ = [mark for mark in page.drawn if abs(mark.width - CUT) < 0.01 and not mark.dash]
    return [bar for bar in bars_ if all(p[1] < page.height - 27 and p[0] > MARGIN + 8 for p in bar.points)]


def _cross(page: Printed, name: str) -> Point:
    """The middle of the cross that has this name beside it."""
    [word] = [word for word in page.words if word.text == name]
    arms = [mark.points for mark in page.drawn if len(mark.points) == 2]
    level = [(a, b) for a, b in arms if abs(a[1] - b[1]) < 1e-6 and abs(abs(a[0] - b[0]) - 8.0) < 0.02]
    return min((((a[0] + b[0]) / 2, a[1]) for a, b in level), key=lambda p: hypot(p[0] - word.x, p[1] - word.y))


def test_the_same_every_time() -> None:
    made = of("saltmarsh-yawl", "gaff")
    origin = Origin(boat("saltmarsh-yawl").rule, "boat.toml", "9.9", "2026-05-02")
    once, again = (pdf(sheets_of(made, SHEETS["a4"], "x", origin), "x", "2026-05-02") for _ in range(2))
    assert once == again


# --- SVG and DXF ------------------------------------------------------------------------------------------------------


def test_a_drawing_as_svg_is_in_millimetres() -> None:
    template = called(of("saltmarsh-yawl", "mizzen mast", "gauges"), "gauge-1524-round")
    root = ElementTree.fromstring(drawing(template))
    assert root.get("width", "").endswith("mm")
    assert root.get("viewBox") == f"0 0 {root.get('width', '')[:-2]} {root.get('height', '')[:-2]}"
    space = "{http://www.w3.org/2000/svg}"
    path = next(path.get("d", "") for path in root.iter(f"{space}path") if path.get("d", "").count("L") > 60)
    xs = [float(part.split()[0]) for part in path[1:].split("L")]
    assert max(xs) - min(xs) == pytest.approx(mizzen_at(5) * IN, abs=NEAR)
    assert "mizzen mast, at 5 ft: 2-7/16 in bare" in [text.text for text in root.iter(f"{space}text")]
    assert {path.get("class") for path in root.iter(f"{space}path")} >= {"cut", "centre"}


def test_a_name_is_no_markup_in_svg() -> None:
    template = called(of("saltmarsh-yawl", "mizzen mast", "gauges"), "gauge-1524-round")
    root = ElementTree.fromstring(drawing(template._replace(title='<b onload="x">&amp;')))
    assert '<b onload="x">&amp;' in [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")]


def read_dxf(text: str) -> "Drawing":
    import ezdxf

    return ezdxf.read(StringIO(text))


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_drawing_as_dxf_reads_back(kind: str) -> None:
    """By ezdxf's own reader and audit: millimetres, a layer for each pen, arcs as arcs, the same sizes."""
    if kind in ("laps", "scarfs"):
        made = templates(post(), [kind])
    else:
        made = of("fjord-lugger", "mizzen mast", kind) if kind == "staves" else of("saltmarsh-yawl", "gaff", kind)
    assert made.all
    for template in made.all[:3]:
        text = dxf(template)
        assert text == dxf(template)
        read = read_dxf(text)
        assert read.header["$INSUNITS"] == 4
        assert not read.audit().errors
        space = read.modelspace()
        rings = [
            size
            for entity in space
            if entity.dxftype() in ("ARC", "CIRCLE")
            for size in (entity.dxf.center.x, entity.dxf.radius)
        ]
        assert rings == pytest.approx(
            [size for m in template.marks if isinstance(m, ArcMark) for size in (m.x, m.radius_x)]
        )
        cuts = [p for line in space.query("LWPOLYLINE") if line.dxf.layer == "CUT" for p in line.get_points("xy")]
        wanted = [p for m in template.marks if isinstance(m, Stroke) and m.pen == "cut" for p in m.points]
        assert [c for p in cuts for c in p] == pytest.approx([c for p in wanted for c in p])
        assert read.layers.get("SCRIBE").dxf.linetype == "DASHED"
        assert template.title in [text.dxf.text for text in space.query("TEXT")]


def test_an_oval_is_an_ellipse_in_dxf() -> None:
    template = next(
        template for template in of("fjord-lugger", "boom", "gauges").all if template.title == "Gauge, oval"
    )
    read = read_dxf(dxf(template))
    [ellipse] = read.modelspace().query("ELLIPSE")
    ends = [ellipse.start_point, ellipse.end_point]
    [arc] = [mark for mark in template.marks if isinstance(mark, ArcMark)]
    assert sorted(round(end.x, 3) for end in ends) == [round(-arc.radius_x, 3), round(arc.radius_x, 3)]
    assert min(p.y for p in ellipse.flattening(0.01)) == pytest.approx(-arc.radius_y, abs=0.02)


# --- as a printer has it ----------------------------------------------------------------------------------------------


def test_a_sheet_as_dots_has_its_bar_and_its_gauge_at_full_size() -> None:
    """Rendered by pdfium at 20 dots to the millimetre: where ink lies, from edge to edge, to a tenth of a mm."""
    import pypdfium2

    template = called(of("saltmarsh-yawl", "mizzen mast", "gauges"), "gauge-1524-round")
    origin = Origin(boat("saltmarsh-yawl").rule, "boat.toml", "9.9", "2026-05-02")
    [page] = sheets_of(alone(template), SHEETS["a4"], "trial", origin)
    dots = 20.0
    bitmap = pypdfium2.PdfDocument(pdf([page], "trial", "2026-05-02"))[0].render(scale=dots * 25.4 / 72, grayscale=True)
    ink = bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128
    assert ink.shape == pytest.approx((297 * dots, 210 * dots), abs=2)
    bar = max(range(int(270 * dots), int(279 * dots)), key=lambda y: int(ink[y, : int(130 * dots)].sum()))
    row = [x for x in range(int(20 * dots), int(130 * dots)) if ink[bar, x]]
    assert (row[-1] - row[0] + 1) / dots == pytest.approx(100.0 + 0.15, abs=0.1)  # to the outer edges of its end ticks
    top = min(y for y in range(int(18 * dots), int(60 * dots)) if ink[y].sum() > 8 * dots)  # the card's upper edge
    level = top + int(2 * dots)  # 2 mm below it: left side, both sides of the hollow, right side
    edges = [x for x in range(1, ink.shape[1]) if ink[level, x] and not ink[level, x - 1]]
    hollow = (edges[2] - edges[1]) / dots
    assert hollow == pytest.approx(2 * ((mizzen_at(5) * IN / 2) ** 2 - 2.0**2) ** 0.5, abs=0.1)
