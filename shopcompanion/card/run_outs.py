"""Where the spar goes over from fewer sides to more: how the corners run out, and the step that pares them."""

from ..calculator import Column, Table
from ..fields import Length
from ..spar.along import Stretch
from ..spar.section import ROUND
from .ask import Answered, spelled
from .plan import CardPlan
from .step import Step, questions

_QUARTERS = 4  # of a run-out, in its table


def kept(plan: CardPlan, sides: int) -> tuple[str, ...]:
    """In words, where corners stay on that come off elsewhere in making that many sides, and where they run out."""
    stays = [stretch for stretch in plan.kept if sides // 2 == stretch.sides[0]]
    lines = []
    if stays:
        names = {4: "square", 8: "eight-sided"}
        said = [
            f"{names[stretch.sides[0]]} from {plan.place(stretch.start)} to {plan.place(stretch.end)}"
            for stretch in stays
        ]
        lines.append(
            f"The spar stays {'; '.join(said)}. First square lines round it at the ends of that: cut nothing between "
            "them."
        )
    if runs := [stretch for stretch in plan.run_outs if _in_making(stretch, sides) and stretch.start < stretch.end]:
        said = [f"from {plan.place(stretch.whole_at)} to {plan.place(stretch.full_at)}" for stretch in runs]
        lines.append(
            f"The corners run out {'; '.join(said)}. A corner is whole at the first of the two stations and fully cut "
            "at the second: draw each line straight from the edge at the first to the full line at the second."
        )
    return tuple(lines)


def _in_making(stretch: Stretch, sides: int) -> bool:
    fewer, more = stretch.sides
    return fewer < sides <= more


def has_length(plan: CardPlan, sides: int) -> bool:
    """Whether any corner runs out over a length in making that many sides."""
    return any(_in_making(stretch, sides) and stretch.start < stretch.end for stretch in plan.run_outs)


def run_outs(plan: CardPlan) -> Step:
    """How deep the corners are there, and how they run out."""
    says: list[str] = []
    tables: list[Table] = []
    answers: list[Answered] = []
    for stretch in plan.run_outs:
        whole, full, long = plan.place(stretch.whole_at), plan.place(stretch.full_at), stretch.end - stretch.start
        shape, begins = ("round", "begins") if stretch.sides[1] == ROUND else ("eight sides", "begin")
        if stretch.sides[0] != 4:
            where = f"From {whole} to {full}" if long else f"At {whole}"
            says.append(f"{where} let the eight sides die into the {shape}, by eye, all of them alike.")
        elif long:
            slope = _slope(plan, stretch, long)
            angle = f", at {slope.say('corner_angle')} to the axis" if slope else ""
            says.append(
                f"From {whole}, where the corners are whole, to {full}, where the {shape} {begins}, pare one clean "
                f"slope{angle}, alike on all four corners. The table has its depth at every quarter."
            )
            there = [plan.facets(at) for at in _quarters(stretch)]
            rows = tuple((facets.asked.at, facets["cut_8"], facets["mark_8"]) for facets in there)
            columns = (
                Column("at", Length("Station")),
                Column("off_each_corner", Length("Off each corner", rounding="down")),
                Column("mark_8", Length("Line for 8")),
            )
            tables.append(Table(f"run-out from {whole} to {full}", columns, rows))
            answers += [*there, *([slope] if slope else [])]
        else:
            there = [plan.facets(stretch.full_at)]
            says.append(
                f"At {whole} the corners end at once: pare each to a hollow slope that starts on the line, all four "
                f"alike. Off each corner there: {there[0].say('cut_8')}."
            )
            answers += there
    return Step(
        "run-outs",
        "Pare the run-outs",
        tuple(says),
        tuple(tables),
        checks=("Look at it from the side: all begin on one line square round the spar, and end on another.",),
        cautions=("Clamp the spar. Work with the chisel's bevel down and both hands behind its edge.",),
        asked=questions(*answers),
    )


def _quarters(stretch: Stretch) -> list[float]:
    """The stations of a run-out's table, from where the corner is whole."""
    step = (stretch.full_at - stretch.whole_at) / _QUARTERS
    return [stretch.whole_at + k * step for k in range(_QUARTERS)] + [stretch.full_at]


def _slope(plan: CardPlan, stretch: Stretch, long: float) -> Answered | None:
    """How steep the corner's run-out is; None for an oval, whose corners lean each their own way."""
    if plan.oval:
        return None
    side = spelled(plan.outline.width_at(stretch.full_at))
    return plan.job.ask("shoulder", stretch.full_at, blank=side, round_diameter=side, run_out=spelled(long))
