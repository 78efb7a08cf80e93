"""What was measured on the spar, held against its sizes: what is still to come off, and what is too thin already."""

from ..calculator import Table
from ..errors import CompanionError
from ..record import NamedTuple
from .ask import Answered, reason_of
from .lines import Paper
from .pages import PageBlock
from .plan import CardPlan

TITLE = "As measured"
_TABLES = ("stations", "target")  # of the log's


class LogInWords(NamedTuple):
    """The log in words, and its tables: station by station, and where it is too thin the widths that it can have."""

    says: tuple[str, ...]
    tables: tuple[Table, ...] = ()


def as_measured(plan: CardPlan) -> LogInWords | None:
    """The spar's log against its sizes; None where nothing was measured."""
    if not plan.spar.log:
        return None
    try:
        log = plan.job.ask("log")
    except CompanionError as fault:
        return LogInWords((f"What the log has cannot be held against the spar: {reason_of(fault, plan.rule)}.",))
    tables = {table.name: table for table in log.result.tables}
    return LogInWords(_says(plan, log), tuple(tables[name] for name in _TABLES if name in tables))


def measured_block(plan: CardPlan, paper: Paper) -> PageBlock | None:
    """The same as it stands behind the station table."""
    log = as_measured(plan)
    if log is None:
        return None
    parts: list[tuple[str, ...]] = [(TITLE, paper.line), *map(paper.folded, log.says)]
    for table in log.tables:
        heads, rows = paper.grid(table)
        said = map(paper.folded, paper.roundings(table))
        parts += [("", *heads), *rows, *said]
    return PageBlock(tuple(parts), TITLE)


def _says(plan: CardPlan, log: Answered) -> tuple[str, ...]:
    days = sorted({entry.when for entry in plan.spar.log if entry.when})
    last = f", the last on {days[-1]}" if days else ""
    many = len(plan.spar.log)
    alike = f" on one of the {plan.spar.count}" if plan.spar.count > 1 else ""
    says = [f"{many} {'place' if many == 1 else 'places'} measured{alike}{last}. {_comes_off(plan, log)}"]
    if log["line"] in ("humped", "hollow"):
        by = plan.job.length(abs(log["hump"]))
        says.append(f"Its line is {log['line']} at {plan.place(log['hump_at'])}, by {by}.")
    if log["verdict"] == "too thin":
        says.append(
            f"Too thin at {plan.place(log['under_at'])}, by {log.say('under')}: take nothing more off there. The "
            f"steps below work to the sizes of the plan, and the spar is too thin for those. The second table has the "
            "widths of the largest fair spar that is left in it: put them on the spar, or on a copy of it, and print "
            "this again."
        )
    return tuple(says)


def _comes_off(plan: CardPlan, log: Answered) -> str:
    if log["to_come_off_at"] is None:
        return "Nothing more has to come off."
    off, face = log.say("to_come_off"), log.say("each_face")
    return f"The most that has to come off is {off}, {face} from each face, at {plan.place(log['to_come_off_at'])}."
