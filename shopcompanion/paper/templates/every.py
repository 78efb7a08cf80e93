"""All kinds of templates by their names, in the order of the work."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence

from ...card.ask import reason_of
from ...card.plan import CardPlan
from ...card.steps import lacking
from ...errors import InputFault
from ...profile.left_out import LeftOut
from ...record import NamedTuple
from .cradles import cradles
from .flats import flats
from .gauges import gauges
from .jaws import jaws
from .laps import laps
from .scarfs import scarfs
from .spar_gauge import spar_gauge
from .staves import staves
from .strips import strips
from .template import Template
from .tips import tips

KINDS: dict[str, Callable[[CardPlan], Iterable[Template]]] = {
    "staves": staves,
    "strips": strips,
    "spar-gauge": spar_gauge,
    "gauges": gauges,
    "scarfs": scarfs,
    "flats": flats,
    "laps": laps,
    "cradles": cradles,
    "jaws": jaws,
    "tips": tips,
}


class Templates(NamedTuple):
    """The templates of a spar, what is left out of its profile for a fault, and which questions have no answer."""

    spar: str
    all: tuple[Template, ...]
    left_out: tuple[LeftOut, ...]
    unanswered: tuple[str, ...]

    @property
    def told(self) -> tuple[str, ...]:
        """What is missing, in a line each."""
        lost = tuple(f"left out for a fault: {lost.words}" for lost in self.left_out)
        return (*lost, *(f"no template of {line}" for line in self.unanswered))


def templates(plan: CardPlan, only: Sequence[str] = ()) -> Templates:
    """Every template of a spar, or those of the kinds in `only`.

    InputFault when nothing is to be made, and what the plan raises.
    """
    made = tuple(template for name, of in KINDS.items() if not only or name in only for template in of(plan))
    unanswered = dict.fromkeys(
        f"{asked.words(plan.rule)}: {reason_of(fault, plan.rule)}" for asked, fault in plan.job.unanswered
    )
    if not made:
        kinds = f" of {' or '.join(only)}" if only else ""
        why = "".join(f"; {line}" for line in unanswered)
        raise InputFault(f"the {plan.spar.name} asks for no template{kinds}{why}")
    return Templates(plan.spar.name, tuple(_with_own_names(made)), tuple(lacking(plan)), tuple(unanswered))


def _with_own_names(made: Iterable[Template]) -> Iterator[Template]:
    """Stations less than a millimetre apart make the same name: the later ones are numbered."""
    count: Counter[str] = Counter()
    for template in made:
        count[template.name] += 1
        yield (
            template if count[template.name] == 1 else template._replace(name=f"{template.name}-{count[template.name]}")
        )
