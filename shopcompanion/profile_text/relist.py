"""A list in brackets with other items: each keeps what surrounds it, and remarks on lines of their own stay."""

from collections.abc import Sequence

from .scan import Item, items

Wanted = Sequence[tuple[int | None, str]]  # of a list: which item it was, None for a new one, and its text
_LINE = 100  # characters that a list takes before it gets lines
_SENTENCE = 30  # of a word that then has a line to itself, as a row has


def relisted(text: str, wanted: Wanted, indent: str = "", braced: bool = False) -> str:
    """The list `text` with the wanted items; an item keeps what surrounds it, and remarks on lines of their own stay.

    `indent` is that of the list's key; within braces (`braced`) the list gets no lines.

    >>> relisted('[ 1, # one\\n  2 # two\\n]', [(1, "2"), (None, "3")])
    '[ 2, # two\\n  3\\n]'
    """
    opener, old, closer, comma = items(text, 0, len(text))
    if not old:
        return _new_list(text, wanted, indent, braced)
    kept = {origin for origin, _ in wanted}
    surroundings: dict[int, Item] = {}
    remarks, last = "", None
    for n, item in enumerate(old):
        if n in kept:
            surroundings[n] = item._replace(lead=remarks + item.lead)
            remarks, last = "", n
            continue
        if "#" in item.lead:
            remarks += item.lead[: item.lead.rfind("\n") + 1]
        if last is not None and "\n" not in surroundings[last].tail:
            surroundings[last] = surroundings[last]._replace(tail=surroundings[last].tail + item.tail)
    out = opener
    model = next((old[origin] for origin, _ in wanted if origin is not None), old[0])
    before: int | None = -1
    for n, (origin, body) in enumerate(wanted, 1):
        here = _bare(model) if origin is None else surroundings[origin]
        model = model if origin is None else old[origin]
        lead = here.lead
        if before is None or origin != before + 1:  # not where it was
            blank = not lead.strip()
            lead = old[0].lead if blank and n == 1 else " " if not lead and out[-1] != "\n" else lead
        point = "," if n < len(wanted) or comma else ""
        out += f"{lead}{body}{here.late}{point}{here.tail}"
        before = origin
    whole = out + remarks + closer
    if not braced and None in (origin for origin, _ in wanted) and "\n" not in whole and len(whole) > _LINE:
        return _new_list("[]", wanted, indent, braced)
    return whole


def _bare(item: Item) -> Item:
    """What surrounds an item, without its remarks."""
    return item._replace(
        lead=item.lead[item.lead.rfind("\n") + 1 :],
        late=item.late[item.late.rfind("\n") :] if "#" in item.late else item.late,
        tail="\n" if "\n" in item.tail else "",
    )


def _new_list(text: str, wanted: Wanted, indent: str, braced: bool) -> str:
    bodies = [body for _, body in wanted]
    if "#" in text:
        opener = text[:-1].rstrip(" \t")
    elif not braced and len(bodies) > 1 and (bodies[0].startswith("{") or len(bodies[0]) > _SENTENCE):
        opener = "[\n"
    else:
        return f"[{', '.join(bodies)}]"
    return opener + "".join(f"{indent}    {body},\n" for body in bodies) + indent + "]"
