"""A cutting plan as plain values for machines: millimetres, money in hundredths, unrounded, by stable names."""

from typing import Any

from ..lengths import Rule
from ..profile.left_out import as_json
from .blanks import Task
from .picture import letters, picture
from .pieces import Blank, Plan, StockTimber
from .purchase import bought, volumes

DRAWN = 72  # characters that a timber is drawn long


def plain(job: Task, plan: Plan, ascii_only: bool = False) -> dict[str, Any]:
    """The whole plan. A timber without a price is on hand."""
    problem = job.problem
    named, to_buy = letters(plan), bought(problem, plan)
    feet, cubic = volumes(to_buy)
    return {
        "units": {"length": "mm", "volume": "mm3", "money": f"{job.currency or 'money'}, hundredths"},
        "currency": job.currency,
        "cost": plan.cost,
        "to_buy": [{**_size(timber), "count": count} for timber, count in to_buy],
        "board_feet": feet,
        "cubic_metres": cubic,
        "waste": plan.waste,
        "kerf": problem.kerf,
        "keep": problem.keep,
        "proof": plan.proof._asdict(),
        "timbers": [
            {
                **_size(problem.timbers[sawn.timber]),
                "knots": [{"from": start, "to": end} for start, end in problem.timbers[sawn.timber].knots],
                "piece": sawn.piece,
                "strips": [
                    {"across": strip.across, "width": strip.width, "cuts": [
                        {"letter": next(letter), "for": problem.needs[cut.need].name, "at": cut.at,
                         "turned": cut.turned, **_blank(cut.blank, job.rule)}
                        for cut in strip.cuts
                    ]}
                    for strip in sawn.strips
                ],
                "offcuts": [
                    {key: value for key, value in offcut._asdict().items() if key != "sawn"}
                    for offcut in plan.offcuts if offcut.sawn == place
                ],
                "drawing": picture(problem, plan, place, DRAWN, ascii_only),
            }
            for place, (sawn, letter) in enumerate(zip(plan.sawn, map(iter, named), strict=True))
        ],
        "missing": [
            {
                "for": problem.needs[missing.need].name,
                "reason": missing.reason,
                "lengths": list(missing.lengths),
                "cure": None if missing.cure is None else missing.cure._asdict(),
            }
            for missing in plan.missing
        ],
        "notes": [note.on(job.rule) for note in job.notes],
        "left_out": as_json(job.left_out),
    }  # fmt: skip


def _size(timber: StockTimber) -> dict[str, Any]:
    return {
        "name": timber.name, "species": timber.species,
        "thickness": timber.thickness, "width": timber.width, "length": timber.length,
        "nominal": None if timber.nominal is None else list(timber.nominal), "price": timber.price,
    }  # fmt: skip


def _blank(blank: Blank, rule: Rule) -> dict[str, Any]:
    """A blank by its fields; where its size comes from in words, by the rule that it was made from."""
    fields = {key: value for key, value in blank._asdict().items() if key != "name"}
    return {"blank": blank.name, **fields, "why": blank.why.on(rule)}
