"""A card read back from its paper: the steps with their words and tables, nothing but what a maker has in hand."""

import re
from typing import NamedTuple

_STEP = re.compile(r"^\[[ x]\] +([0-9]+)  (.*)$")
_LENGTH = re.compile(
    r"(?P<sign>-)?(?:(?P<ft>[0-9]+) ft)? ?"
    r"(?:(?P<whole>[0-9]+)(?:-(?P<num>[0-9]+)/(?P<den>[0-9]+))?|(?P<n>[0-9]+)/(?P<d>[0-9]+)"
    r"|(?P<decimal>[0-9]+\.[0-9]+))?(?: ?(?P<unit>in|mm))?(?: (?P<lean>f|b|full|bare))?"
)
IN_WORDS = (
    r"(?:the heel|the head|(?:[0-9]+ ft )?[0-9]+(?:-[0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)? (?:in|mm|ft)(?: full| bare)?"
    r"|[0-9]+ ft)"
)
# The last lines of heads that have several words; where columns stand close, blanks do not tell them apart.
_HEAD = re.compile(
    "of centre|line for [0-9]+|plain edge|each edge|for 8|for 16"
    "|on the line|circle of|from the end|flat deep|deep in each half|each part|at most"
    "|off the corner|on A and C|on the four between|on B and D|off, by A and C|off, by B and D|other way|below crown"
    "|width of the cut|to come off|each face|new target|less by"
    r"|through both|to the axis|left across|left of width|left of depth|ridge left|new facet|saw tilt|of 8|of 16|\S+"
)
Row = dict[str, str]


class WrittenTable(NamedTuple):
    """The rows of a table by the heads of their columns."""

    name: str
    rows: list[Row]


class WrittenStep(NamedTuple):
    """A step as it stands on paper; `words` are its paragraphs, settings, checks and cautions on one line."""

    number: int
    title: str
    words: str
    tables: list[WrittenTable]


class Written(NamedTuple):
    """A whole card of one spar. `stations` are the rows of the station table, an oval's depths beside its widths."""

    head: str
    log: tuple[str, list[WrittenTable]]  # what is said of the measures, and their tables
    stations: list[Row]
    steps: list[WrittenStep]
    division: float  # of the rule, mm
    unit: str

    def mm(self, text: str) -> float:
        """A length of the card. AssertionError when it is none."""
        return length(text, self.unit, self.division)


def length(text: str, unit: str, division: float) -> float:
    """A length as it is printed, in mm; full and bare are a quarter of a division over and under."""
    match = _LENGTH.fullmatch(text.strip())
    assert match, f"'{text}' is no length"
    assert any(match[name] for name in ("ft", "whole", "n", "decimal")), f"'{text}' is no length"
    whole = float(match["whole"] or match["decimal"] or 0)
    if match["num"] or match["n"]:
        whole += int(match["num"] or match["n"]) / int(match["den"] or match["d"])
    per = 25.4 if (match["unit"] or unit) == "in" or match["ft"] else 1.0
    lean = {"f": 0.25, "full": 0.25, "b": -0.25, "bare": -0.25}.get(match["lean"] or "", 0.0)
    size = int(match["ft"] or 0) * 304.8 + whole * per + lean * division
    return -size if match["sign"] else size


def is_length(text: str) -> bool:
    """Whether a cell is a length as tables have it."""
    text = text.strip()
    return bool(text) and bool(re.search("[0-9]", text)) and bool(_LENGTH.fullmatch(text))


def read_card(text: str) -> Written:
    """The card of one spar from its pages."""
    lines = [line for page in text.split("\f") for line in page.splitlines()[3:]]
    rule = re.search(r"^Rule: (?:([0-9]+)/([0-9]+)|([0-9.]+)) (in|mm)", text, re.MULTILINE)
    assert rule, "the card says no rule"
    division = (int(rule[1]) / int(rule[2]) if rule[1] else float(rule[3])) * (25.4 if rule[4] == "in" else 1.0)
    starts = [k for k, line in enumerate(lines) if _STEP.match(line)]
    assert starts, "the card has no step"
    before = lines[: starts[0]]
    ends = [*starts[1:], next((k for k, line in enumerate(lines) if line.startswith("Computed from")), len(lines))]
    steps = [_step(lines[start:end]) for start, end in zip(starts, ends, strict=True)]
    return Written(" ".join(" ".join(before).split()), _log(before), _stations(before), steps, division, rule[4])


def _stations(before: list[str]) -> list[Row]:
    merged: dict[str, Row] = {}
    start = next(k for k, line in enumerate(before) if line.startswith("Station table"))
    blocks: list[list[str]] = []
    for line in before[start:]:
        if line.startswith("Station table"):
            blocks += [] if line.endswith("continued") else [[]]
        elif re.match(r"[A-Z]", line):  # what follows the tables has a title of its own
            break
        elif line:
            blocks[-1].append(line)
    for block in blocks:
        for table in _tables(block):
            for row in table.rows:
                old = merged.setdefault(row["station"], {})
                known = set(old)
                for name, cell in row.items():
                    old[f"{name} of depth" if name in known and name != "station" else name] = cell
    return list(merged.values())


def _log(before: list[str]) -> tuple[str, list[WrittenTable]]:
    """The part under the title "As measured"; nothing where there is none."""
    start = next((k for k, line in enumerate(before) if line == "As measured"), None)
    if start is None:
        return "", []
    end = next(
        (k for k, line in enumerate(before) if k > start and line.startswith("What it is good for")), len(before)
    )
    words, blocks = [], [[]]
    for line in before[start + 1 : end]:
        if re.match(r"[A-Z]|[0-9]+ places? measured", line) and not re.search(r"\S  +\S", line):
            words.append(line)
        elif re.search(r"\S  +\S", line):
            blocks[-1].append(line)
        elif blocks[-1]:
            blocks.append([])
    return " ".join(words), [table for block in blocks if block for table in _tables(block)]


def _step(lines: list[str]) -> WrittenStep:
    first = _STEP.match(lines[0])
    assert first
    words, block, tables = [], [], []
    name = ""
    for line in lines[1:]:
        if not line or line.startswith("─") or re.match(r"^ {4}\S.*, continued$", line):
            continue
        if _in_table(line, bool(block)) and "check " not in line[:9]:
            block.append(line)
            continue
        if block:
            tables += [table._replace(name=name) for table in _tables(block)]
            block = []
        if re.match(r"^ {8}[^.]*:$", line):
            name = line.strip()[:-1]
        words.append(line)
    if block:
        tables += [table._replace(name=name) for table in _tables(block)]
    title = re.split(r"  +\(", first[2])[0].strip()
    return WrittenStep(int(first[1]), title, " ".join(" ".join(words).split()), tables)


def _in_table(line: str, goes_on: bool) -> bool:
    """Whether a line is of a table: its heads are set in or part its words widely, its rows begin with a length."""
    if re.match(r"^ {9,}\S|^ {8}\S(?:.*\S)?  +\S|^ {8}[0-9/ -]+(?: [fb]| in| mm| ft)*$", line):
        return True
    row = r"^ {8}(?:[a-z*] )?(?:[0-9]+ ft )?(?:[0-9]+ (?:ft|in|mm)|[0-9/-]+(?:/[0-9]+)? (?:in|mm)|0)(?: [fb])? [0-9]"
    return goes_on and bool(re.match(row, line))


def _is_row(line: str) -> bool:
    """Whether a line of a table is no head: it begins with a size or a letter and a size, or has one by itself."""
    begins = re.match(r"^ *(?:[a-z*] +)?[0-9]", line)
    return bool(begins) or any(map(is_length, re.split(r"  +", line.strip())))


def _cells(line: str, offsets: list[int]) -> list[str]:
    return [line[start:end].strip() for start, end in zip(offsets, [*offsets[1:], None], strict=True)]


def _tables(block: list[str]) -> list[WrittenTable]:
    """The table of these lines; heads that are put again on the next page are passed over."""
    block = [line for line in block if line.strip("─ ")]
    first = next((k for k, line in enumerate(block) if _is_row(line)), 0)
    if not first:
        return []
    tops = block[:first]
    offsets = [head.start() for head in _HEAD.finditer(tops[-1])]
    least = min(len(line) - len(line.lstrip()) for line in block[first:])
    if least < offsets[0]:
        offsets.insert(0, least)
    heads = [" ".join(filter(None, parts)) for parts in zip(*(_cells(line, offsets) for line in tops), strict=True)]
    rows: list[Row] = []
    for line in block[first:]:
        if line in tops:
            continue
        cells = _cells(line, offsets)
        if rows and not any(cells[:-1]):  # the last cell goes on
            rows[-1][heads[-1]] += f" {cells[-1]}"
            continue
        row: Row = {}
        for head, cell in zip(heads, cells, strict=True):
            row[f"{head} of depth" if head in row else head] = cell
        rows.append(row)
    return [WrittenTable("", rows)]
