"""From parts in strips to the plan with every place in millimetres."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from .greedy import first_found
from .integers import IntegerProblem, whole
from .layout import Laid, rank, rests, widths
from .missing import missing
from .pieces import Blank, Cut, Offcut, Plan, PlanProof, Problem, Sawn, Strip


def first_plan(problem: Problem) -> Plan:
    """A plan at once: the best of a few made by placing one need after another, in several orders."""
    model = whole(problem)
    return lay_out(problem, model, *first_found(model), PlanProof(False, "first plan"))


def lay_out(
    problem: Problem, whole: IntegerProblem, ways: Sequence[int | None], pieces: Sequence[Laid], proof: PlanProof
) -> Plan:
    """The plan in millimetres: which way each need is made, None if not at all, and the pieces with their strips."""
    blanks: dict[int, list[tuple[int, Blank]]] = defaultdict(list)
    for place in reversed(range(len(ways))):
        way = ways[place]
        if way is not None:
            made = zip(whole.needs[place][way], problem.needs[place].ways[way], strict=True)
            for part, blank in reversed(list(made)):
                blanks[part].append((place, blank))
    used: dict[int, int] = defaultdict(int)
    sawn: list[Sawn] = []
    offcuts: list[Offcut] = []
    for laid in sorted(pieces, key=lambda laid: laid.kind):
        kind = whole.kinds[laid.kind]
        timber, piece = kind.pieces[used[laid.kind]]
        used[laid.kind] += 1
        offcuts += [Offcut(len(sawn), *(tenths / 10 for tenths in rest)) for rest in rests(whole, laid)]
        sawn.append(Sawn(timber, piece, _strips(whole, laid, blanks)))
    offcuts.sort(key=lambda rest: (-rest.length, -rest.width, rest.sawn, rest.across, rest.at))
    _, cost, waste, _ = rank(whole, ways, pieces)
    out = [place for place, way in enumerate(ways) if way is None]
    return Plan(tuple(sawn), tuple(offcuts), missing(problem, whole, out), cost, waste / 1000, proof)


def _strips(whole: IntegerProblem, laid: Laid, blanks: Mapping[int, list[tuple[int, Blank]]]) -> tuple[Strip, ...]:
    kind, across, strips = whole.kinds[laid.kind], 0, []
    for strip, width in zip(laid.strips, widths(whole, laid), strict=True):
        cuts = []
        for (at, _), parts in zip(kind.clear, strip, strict=True):
            for part in sorted(parts, key=lambda part: -whole.parts[part].length):
                need, blank = blanks[part].pop()
                turned = whole.across[laid.kind][part] != whole.parts[part].width
                cuts.append(Cut(need, blank, at / 10, turned))
                at += whole.parts[part].length + whole.kerf  # noqa: PLW2901
        strips.append(Strip(across / 10, width / 10, tuple(cuts)))
        across += width + whole.kerf
    return tuple(strips)
