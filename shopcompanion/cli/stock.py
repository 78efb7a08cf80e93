"""The command of the cutting plan."""

import sys
from typing import Any

from .. import version
from ..card.lines import Paper
from ..card.pages import FEED
from ..card.yard import blocks, bought, page, proof, volumes
from ..errors import InputFault
from ..fields import Number
from ..lengths import RULES, show
from ..stock.blanks import Task, task
from ..stock.picture import letters
from ..stock.pieces import Plan
from ..stock.search import Search, SearchFault
from .calculators import given_rule
from .card import day
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, complain, say, say_json, takes

LONGEST = 60.0  # seconds, unless another time is given


def planned(given: Given) -> int:
    """What to buy for a boat and how to saw it: in words, as pages or in JSON."""
    if "boat" not in given:
        raise InputFault("is wanted: the boat whose timber it is, as --boat saltmarsh-yawl", "boat")
    seconds = _seconds(given["seconds"]) if "seconds" in given else LONGEST
    date = day(given["date"]) if "date" in given else None
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    rule = given_rule(given) or boat.rule
    job = task(boat, rule)
    plan = _searched(job, seconds)
    if "json" in given:
        say_json(_as_json(job, plan))
        return 0
    ascii_only = "ascii" in given or not takes("█")
    if "page" in given:
        text = page(
            boat, job, plan, rule=rule, source=opened.listing.path.name, version=version(), date=date,
            ascii_only=ascii_only,
        )  # fmt: skip
    else:
        paper = Paper(rule, ascii_only)
        text = "\n\n".join("\n".join(line for part in one.parts for line in part) for one in blocks(job, plan, paper))
    if "ascii" in given:
        text = "".join(c if c.isascii() or c == FEED else PLAIN.get(c, "?") for c in text)
    say(text.rstrip("\n"))
    return 0


def _seconds(text: str) -> float:
    try:
        found = Number("Seconds", above=0, at_most=86400).read(text, RULES[0])
    except InputFault as fault:
        raise InputFault(fault.template, "seconds", fault.lengths) from None
    return float(found) if isinstance(found, float) else LONGEST


def _searched(job: Task, seconds: float) -> Plan:
    """The best plan there is time for; an interrupt ends the search with the best so far."""
    from threading import Timer

    tells = sys.stderr is not None and sys.stderr.isatty()
    with Search(job.problem) as search:
        limit = Timer(seconds, search.stop)
        limit.daemon = True
        limit.start()
        try:
            for plan in search:
                if tells and not plan.proof.proved:
                    complain(f"{plan.proof.stage} … (Ctrl-C stops with the best so far)")
        except KeyboardInterrupt:
            search.stop()
        except SearchFault as fault:
            complain(f"note: {fault}")
        finally:
            limit.cancel()
        return search.plan


def _as_json(job: Task, plan: Plan) -> dict[str, Any]:
    """The whole plan with stable names: millimetres, unrounded; money in the currency's own unit."""
    problem = job.problem
    timbers = []
    for place, (sawn, named) in enumerate(zip(plan.sawn, letters(plan), strict=True)):
        timber, names = problem.timbers[sawn.timber], iter(named)
        strips = [
            {
                "across": strip.across,
                "width": strip.width,
                "cuts": [
                    {
                        "letter": next(names), "need": problem.needs[cut.need].name, "blank": cut.blank.name,
                        "at": cut.at, "length": cut.blank.length, "thickness": cut.blank.thickness,
                        "width": cut.blank.width, "turned": cut.turned, "why": cut.blank.why,
                    }
                    for cut in strip.cuts
                ],
            }
            for strip in sawn.strips
        ]  # fmt: skip
        offcuts = [
            {"at": one.at, "length": one.length, "across": one.across, "width": one.width}
            for one in plan.offcuts
            if one.sawn == place
        ]
        timbers.append({
            "name": timber.name, "species": timber.species, "thickness": timber.thickness, "width": timber.width,
            "length": timber.length, "knots": [list(knot) for knot in timber.knots], "on_hand": timber.price is None,
            "price": None if timber.price is None else timber.price / 100, "strips": strips, "offcuts": offcuts,
        })  # fmt: skip
    feet, cubic = volumes([one for one, count in bought(job, plan) for _ in range(count)])
    return {
        "unit": "mm",
        "currency": job.currency,
        "cost": plan.cost / 100,
        "board_feet": feet,
        "cubic_metres": cubic,
        "waste_mm3": plan.waste,
        "kerf": problem.kerf,
        "proof": {"proved": plan.proof.proved, "stage": plan.proof.stage, "within": plan.proof.within},
        "says": proof(job, plan),
        "buy": [
            {"name": one.name, "species": one.species, "thickness": one.thickness, "width": one.width,
             "length": one.length, "count": count, "price": (one.price or 0) / 100}
            for one, count in bought(job, plan)
        ],
        "timbers": timbers,
        "missing": [_missing(job, one) for one in plan.missing],
        "notes": list(job.notes),
    }  # fmt: skip


def _missing(job: Task, one: Any) -> dict[str, Any]:
    reason = InputFault(one.reason, None, one.lengths).told(lambda mm: show(mm, RULES[6])).reason
    cure = None if one.cure is None else one.cure._asdict()
    if cure is not None and cure["price"] is not None:
        cure["price"] /= 100
    return {"need": job.problem.needs[one.need].name, "reason": reason, "cure": cure}
