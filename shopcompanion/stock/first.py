"""The first plan, at once."""

from .greedy import first_found
from .pieces import Plan, Problem, Proof
from .plan import lay_out
from .tenths import whole


def first_plan(problem: Problem) -> Plan:
    """The best of a few plans made by placing one need after another, in several orders."""
    tenths = whole(problem)
    return lay_out(problem, tenths, *first_found(tenths), Proof(False, "first plan"))
