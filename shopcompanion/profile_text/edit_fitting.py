"""Put a fitting on a spar: one row more in the profile's text, every other byte as it is."""

import re
from collections.abc import Mapping
from fractions import Fraction

from ..errors import InputFault
from ..fields import Value
from ..lengths import Unit
from ..profile.fields import declared
from ..spar.fitting import Fitting
from .intent import past_mark
from .row_texts import Change, Texts, fields_by_name, length_of, spelled_down, written
from .text_edit import Work, spar_row

_FIELDS = declared(Fitting)


@past_mark
def add_fitting(text: str, spar: str, row: Mapping[str, str], unit: Unit) -> str:
    """`text` with one more fitting on the spar, behind those that are no nearer to the head than it.

    `row` has texts by the keys of a fitting; a length that leans on `unit` gets it, and an empty text is none.
    InputFault, its field the key, when one does not read or the spar cannot take the fitting.
    """
    fields = fields_by_name(_FIELDS, row, "fittings")
    new: Change = {
        name: written(field, row[name], unit, name) for name, field in fields.items() if row.get(name, "").strip()
    }
    for field in _FIELDS:
        if field.required and field.name not in new:
            raise InputFault(f"missing; for example {field.kind.example_in(unit) or 'one of the list'!r}", field.name)
    work = Work(text)
    place = spar_row(work.data, spar)
    here = length_of(new["at"], unit) or Fraction(0)
    ats = [length_of(row.get("at"), work.units) for row in work.rows(place, "fittings")]
    behind = next((n for n, at in enumerate(ats) if at is not None and at > here), len(ats))
    kept: list[tuple[int | None, Change]] = [(n, {}) for n in range(len(ats))]
    work.put_rows(place, "fittings", [*kept[:behind], (None, new), *kept[behind:]])
    return work.done(spar, lambda key: re.sub(r"^fittings( \d+)?(, )?", "", key))


def as_texts(sizes: Mapping[str, Value], unit: Unit) -> Texts:
    """A fitting's values, lengths in mm, as texts: what no rule has a mark for is written in decimals, never more.

    >>> as_texts({"kind": "lap", "length": 57.15, "flat": None, "holes": 2}, "in")
    {'kind': 'lap', 'length': '2-1/4 in', 'holes': '2'}
    """
    return {
        name: spelled_down(value, unit) if isinstance(value, float) else str(value)
        for name, value in sizes.items()
        if value is not None and value != ""
    }
