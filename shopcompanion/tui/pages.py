"""What stands on the pages of a pane: answers with the large headline, working, drawing, tables. Never markup."""

from textwrap import wrap

from ..calculator import Field, Result, Table
from ..drawing.terminal import painted
from ..fields import Length, Text
from ..lengths import Rule, decimal, on_rule
from .figures import large
from .paint import Row, Rows, fitted, folded, row, rows, size_of, stack
from .session import ShownCalculator

_NAME = 14  # characters of a name in a table that has no room to spare
_TONES = {"wood": "wood", "off": "squared"}  # what stays and what comes off, where no line or word stands on it
PAGES = ("answers", "working", "drawing", "table")


def headline(shown: ShownCalculator, width: int, plain: bool = False) -> Rows:
    """The one number that matters, in large figures; the fraction first, the decimal small beside it.

    `plain`, for a page of few rows: bold letters, in one row where there is room.
    """
    calculator, result = shown.calculator, shown.result
    plainly = next(field for field in calculator.answer_fields if field.name == calculator.headline)
    field, *more = result.heads() if result else (plainly,)
    title = [row((field.kind.label.upper(), "bold"))]
    if shown.stale and result is not None:
        mark = ("(last good answer)", "italic")
        room_for_mark = len(field.kind.label) + 2 + len(mark[0]) <= width
        title = [(*title[0], ("  ", ""), mark)] if room_for_mark else [*title, (mark,)]
    if result is None:
        return stack(title, rows(["—"], "bold"), rows([] if plain else ["", ""]))
    value = getattr(result.answers, field.name)
    beside = ["", "", ""]
    if isinstance(field.kind, Length) and isinstance(value, float):
        reading = on_rule(value, result.rule, field.kind.rounding)
        feet = f"{reading.feet}' " if reading.feet else ""
        text = ("-" if reading.negative else "") + feet + reading.number
        lean = reading.lean
        if lean.startswith("rounded "):  # in, up: brought to the next mark above
            lean = f", {lean.removeprefix('rounded ')}"
        elif lean:
            lean = f" {lean}"
        beside = ["", f"{reading.unit}{lean}", f"{decimal(value, reading.unit)} {reading.unit}"]
    else:
        text = field.kind.show(value, result.rule)
    role = "quiet" if shown.stale else "bold accent"
    if plain:
        spans = [(f"  {head.kind.label} {_said(head, result)}", role) for head in more]
        value_row = row((text, role), *(f"  {small}" for small in beside if small), *spans)
        joined = (*(span for line in title for span in (*line, ("  ", ""))), *value_row)
        return Rows([joined]) if size_of(joined) <= width else stack(title, [value_row])
    beside = [f"  {small}" if small else "" for small in beside]
    room = width - max(map(len, beside))
    words = [text] if len(large(text)[0]) <= room else text.split(" ")
    lines = [line for word in words for line in large(word)]
    if max(map(len, lines)) > room:
        lines = ["", text, ""]
    beside += [""] * (len(lines) - 3)
    told = folded([row((f"{head.kind.label}  ", role), (_said(head, result), role)) for head in more], width)
    return stack(title, [row((line, role), small) for line, small in zip(lines, beside, strict=True)], told)


def answers(shown: ShownCalculator, width: int) -> Rows:
    """The other answers: those of one row side by side under their columns if there is room, then one to a line."""
    result = shown.result
    if result is None:
        return rows([""])
    heads = result.heads()
    fields = [field for field in result.calculator.answer_fields if field not in heads]
    side_by_side = _matrix(result, width)
    rest = [field for field in fields if not (side_by_side and field.kind.row)]
    return rows(side_by_side + _list(result, rest, width), "quiet" if shown.stale else "")


def _said(field: Field, result: Result) -> str:
    return field.kind.show(getattr(result.answers, field.name), result.rule)


def _matrix(result: Result, width: int) -> list[str]:
    """The answers of a row side by side under their columns; [] when they would run into one another."""
    held = [field for field in result.calculator.answer_fields if field.kind.row]
    if not held:
        return []
    rows = list(dict.fromkeys(field.kind.row for field in held))
    columns = list(dict.fromkeys(field.kind.column for field in held))
    cells = {
        (field.kind.row, field.kind.column): _said(field, result).removesuffix(f" {result.rule.unit}") for field in held
    }
    cells = {key: text.replace(f" {result.rule.unit} ", " ") for key, text in cells.items()}
    first = max(map(len, rows))
    wide = [max([len(column), *[len(cells.get((row, column), "")) for row in rows]]) for column in columns]
    gap = min(4, (width - first - sum(wide)) // len(columns))
    if gap < 1:
        return []
    lines = [("", columns), *((row, [cells.get((row, column), "") for column in columns]) for row in rows)]
    return [
        f"{name:<{first}}" + "".join([f"{cell:>{gap + size}}" for cell, size in zip(line, wide, strict=True)])
        for name, line in lines
    ]


def _list(result: Result, fields: list[Field], width: int) -> list[str]:
    held = [field for field in fields if getattr(result.answers, field.name) is not None]
    label = min(max((len(field.kind.label) for field in held), default=0), 26, max(14, width - 19)) + 2
    lines = []
    for field in held:
        text = _said(field, result)
        start = max(label, len(field.kind.label) + 2)
        if start + len(text) <= width:
            lines.append(f"{field.kind.label:<{start}}{text}")
        elif len(field.kind.label) + 2 + len(text) <= width:
            lines.append(field.kind.label + text.rjust(width - len(field.kind.label)))
        else:
            parts = (line for part in text.split(";") for line in wrap(part, max(1, width - 4)))
            lines += [field.kind.label, *(f"    {line}" for line in parts)]
    return lines


def working(shown: ShownCalculator) -> Rows:
    """The sum behind every answer that has one, and where it comes from."""
    if shown.result is None:
        return rows(["no answer yet"])
    lines: list[Row] = []
    for step in shown.result.working():
        lines.append(row((step.label, "bold"), "  ", (step.result, "bold accent")))
        lines += [row(f"  {line}") for line in step.lines()]
        lines.append(row((f"  {step.source}", "italic quiet")))
    return stack(lines, rows(shown.calculator.sources, "italic quiet"))


def drawing(shown: ShownCalculator, width: int, height: int, ascii_only: bool) -> Rows:
    """The calculator's drawing, to scale, as big as it goes."""
    drawn = shown.result.drawing() if shown.result else None
    if drawn is None or shown.result is None:
        return rows(["nothing to draw yet"])
    lines = painted(drawn, width, max(4, height - 1), shown.result.rule, ascii_only)
    return stack(
        rows([drawn.title], "quiet"), [row(*((text, _TONES.get(role, "")) for text, role in line)) for line in lines]
    )


def tables(shown: ShownCalculator, here: float, width: int, height: int) -> Rows:
    """The tables, as many columns as there is room for. One by stations shows those about `here`, which is marked."""
    if shown.result is None or not shown.result.tables:
        return rows(["this calculator has no table"])
    return stack(*(_table(table, shown.result.rule, here, width, height) for table in shown.result.tables))


def by_station(shown: ShownCalculator) -> bool:
    """Whether the first table has a row for every station."""
    tables = shown.result.tables if shown.result else ()
    return bool(tables) and _station_of(tables[0], 0) is not None


def _station_of(table: Table, row: int) -> float | None:
    value = table.rows[row][0]
    return value if table.columns[0].name == "at" and isinstance(value, float) else None


def _table(table: Table, rule: Rule, here: float, width: int, height: int) -> list[Row]:
    texts: list[list[str]] = []
    for column, values in zip(table.columns, zip(*table.rows, strict=True), strict=True):
        cells = [column.kind.show(value, rule) for value in values]
        if not any(" ft" in cell for cell in cells):
            cells = [cell.removesuffix(f" {rule.unit}").replace(f" {rule.unit} ", " ") for cell in cells]
        texts.append(cells)
    columns, held = _fitting(table, texts, width)
    heads = len(columns[0]) - len(table.rows)
    lined = ["  ".join(parts) for parts in zip(*columns[:held], strict=True)]
    ats = [_station_of(table, row) for row in range(len(table.rows))]
    nearest = min(range(len(ats)), key=lambda row: abs((ats[row] or 0.0) - here)) if ats[0] is not None else 0
    first, last = 0, len(ats)
    room = height - heads - 2
    if ats[0] is not None and last > max(3, room):
        first = max(0, min(nearest - room // 2, last - room))
        last = first + max(3, room)
    lines = [row((f"  {text}", "bold")) for text in lined[:heads]]
    for place in range(first, last):
        at = ats[place]
        marked = at is not None and abs(at - here) < 1e-6
        lines.append(row((("▸ " if marked else "  ") + lined[heads + place], "bold accent" if marked else "")))
    left = ", ".join(column.kind.label for column in table.columns[held:])
    rest = [f"↑ {first} more" * bool(first), f"↓ {len(ats) - last} more" * bool(len(ats) - last)]
    rest.append(f"on a wider screen: {left}" * bool(left))
    if any(rest):
        lines.append(row(("  " + "   ".join(filter(None, rest)), "italic quiet")))
    return lines


def _fitting(table: Table, texts: list[list[str]], width: int) -> tuple[list[list[str]], int]:
    """The columns as lines, and how many of them there is room for. Names take what the numbers leave them."""
    names = {at for at, column in enumerate(table.columns) if at == 0 or isinstance(column.kind, Text)}
    labels = [column.kind.label for column in table.columns]
    left = [isinstance(column.kind, Text) for column in table.columns]

    def lined(at: int, room: int) -> list[str]:
        return _column(labels[at], [fitted(cell, room) for cell in texts[at]] if at in names else texts[at], left[at])

    columns = [lined(at, _NAME) for at in range(len(labels))]
    used, held = 2, 0
    for column in columns:
        if used + len(column[0]) + 2 > width and held:
            break
        used += len(column[0]) + 2
        held += 1
    for at in sorted(names):
        if at < held:
            wide = len(columns[at][0])
            columns[at] = lined(at, max(_NAME, wide + width - used))
            used += len(columns[at][0]) - wide
    return columns, held


def two_lines(label: str) -> tuple[str, str]:
    """A heading broken where both its lines are short; the first is empty where one will do."""
    words = label.split()
    best = min(range(len(words)), key=lambda k: max(len(" ".join(words[:k])), len(" ".join(words[k:]))))
    return " ".join(words[:best]), " ".join(words[best:])


def _column(label: str, cells: list[str], left: bool) -> list[str]:
    """A heading of two lines and the cells under it, all of one width; names at the left, numbers at the right."""
    heads = two_lines(label)
    wide = max(map(len, (*heads, *cells)))
    return [text.ljust(wide) if left else text.rjust(wide) for text in (*heads, *cells)]
