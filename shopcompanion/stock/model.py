"""The cutting problem as a mixed-integer programme over patterns.

Unknown are: how many needs of each sort are made in each way; how many timbers of each kind are ripped in each layout;
and how many clear lengths of each sort are cut in each pattern. A layout and a pattern are ways of sawing a width and a
clear length that no other makes needless, so what is alike is counted, never told apart.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping

from ..record import NamedTuple
from .integers import IntegerProblem
from .patterns import Pattern, StripPart, TooMany, layouts, patterns, some_patterns

CAP = 4000  # patterns of one clear length, or layouts of one width
NO_LIMIT = float("inf")


class Made(NamedTuple):
    """Needs that are alike, made in one way."""

    needs: tuple[int, ...]
    way: int


class Ripped(NamedTuple):
    """A timber in strips: `counts` of them as wide as each of the widths or wider. With an `offcut` the width is not
    ripped to its end, and so long a rest stays."""

    kind: int
    widths: tuple[int, ...]
    counts: tuple[int, ...]
    offcut: int = 0


class Cross(NamedTuple):
    """A clear length of a strip cut across. With an `offcut` the strip is at least as wide as one to keep."""

    kind: int
    length: int
    pattern: Pattern
    offcut: int = 0


class CountVariable(NamedTuple):
    """A sum of others. The solver decides first on timbers of a kind that are taken and on strips as wide as a width or
    wider: deciding on one layout or pattern alone would rule out next to nothing. Spare are lengths of such strips in
    which no pattern as wide or wider is cut.
    """

    what: str
    kind: int
    of: int


Column = Made | Ripped | Cross | CountVariable
Row = tuple[Mapping[int, float], float, float]  # coefficients of columns, least, most


class Programme:
    """Columns and rows.

    `exact` when every layout and pattern is in it. Where there are too many, some are left out, so that what it finds
    can be sawn but may not be the best; or, with `loose`, widths are rounded down and lengths only held in sum, so that
    its optimum is a bound and cannot be sawn. With `longer` it has also what leaves one offcut longer than that.
    `kinds` are the only timbers there are.
    """

    def __init__(
        self,
        whole: IntegerProblem,
        loose: bool = False,
        longer: int | None = None,
        kinds: Collection[int] | None = None,
        cap: int | None = None,
    ) -> None:
        self.whole, self.loose, self.longer = whole, loose, longer
        self.cap = CAP if cap is None else cap
        self.exact = True
        self.columns: list[Column] = []
        self.rows: list[Row] = []
        self.most = self._wanted()
        self._needs()
        for kind in range(len(whole.kinds)) if kinds is None else sorted(kinds):
            self._kind(kind)
        self._cover()

    def _wanted(self) -> Counter[int]:
        """How often each part can be wanted."""
        most: Counter[int] = Counter()
        for need in self.whole.needs:
            ways = [Counter(way) for way in need if self.whole.can_be(way)]
            for part in {part for way in ways for part in way}:
                most[part] += max(way[part] for way in ways)
        return most

    def _add(self, column: Column) -> int:
        self.columns.append(column)
        return len(self.columns) - 1

    def _needs(self) -> None:
        alike: dict[tuple[tuple[int, ...], ...], list[int]] = defaultdict(list)
        for place, need in enumerate(self.whole.needs):
            alike[need].append(place)
        for need, places in alike.items():
            ways = [way for way, parts in enumerate(need) if self.whole.can_be(parts)]
            self.rows.append(({self._add(Made(tuple(places), way)): 1 for way in ways}, 0, len(places)))

    def _kind(self, kind: int) -> None:
        """The layouts and patterns of one kind of timber, and that no pattern is without a strip."""
        whole, timber = self.whole, self.whole.kinds[kind]
        pieces = [
            StripPart(part, across, whole.parts[part].length, most)
            for part, most in sorted(self.most.items())
            if (across := whole.across[kind][part]) is not None
        ]
        if not pieces:
            return
        widths, ripped = self._layouts(kind, pieces)
        taken = self._add(CountVariable("timbers", kind, 0))
        self.rows.append(({taken: 1}, 0, len(timber.pieces)))
        self.rows.append((dict.fromkeys(ripped, 1) | {taken: -1}, 0, 0))
        strips = [self._add(CountVariable("strips", kind, width)) for width in widths]
        for place, strip in enumerate(strips):
            self.rows.append(
                (
                    {column: counts[place] for column, counts in ripped.items() if counts[place]} | {strip: -1},
                    0,
                    NO_LIMIT,
                )
            )
        for length, times in Counter(last - first for first, last in timber.clear).items():
            use, each = self._patterns(kind, length, [part for part in pieces if part.length <= length])
            by_width: dict[int, dict[int, int]] = defaultdict(dict)
            for column, amount in use.items():
                by_width[self._place(widths, self.columns[column])][column] = amount
            before: dict[int, float] = {}
            for place in sorted(by_width):  # widest first: what is spare of wider strips serves as well
                spare = self._add(CountVariable("spare", kind, widths[place]))
                self.rows.append((by_width[place] | before | {spare: 1, strips[place]: -each * times}, 0, 0))
                before = {spare: -1, strips[place]: each * times}

    def _place(self, widths: list[int], cross: Column) -> int:
        """Which of the widths, widest first, the pattern takes."""
        assert isinstance(cross, Cross)
        across = cross.pattern.across
        if self.loose:
            return next(place for place, width in enumerate(widths) if width <= across)
        return max(place for place, width in enumerate(widths) if width >= across)

    def _layouts(self, kind: int, pieces: list[StripPart]) -> tuple[list[int], dict[int, tuple[int, ...]]]:
        """The widths of strips, and the layouts. Where those are too many, neighbouring widths are taken for one."""
        whole, timber = self.whole, self.whole.kinds[kind]
        keep = {whole.keep} if self.longer is not None and whole.keep <= timber.width else set[int]()
        every = sorted({part.across for part in pieces} | keep)
        longest = max(last - first for first, last in timber.clear)
        rooms = [(timber.width, 0)]
        if self.longer is not None and longest > self.longer and timber.width - whole.kerf > whole.keep:
            rooms.append((timber.width - whole.keep - whole.kerf, longest))
        group = 1
        while True:
            widths = every[::group][::-1] if self.loose else every[::-1][::group]
            under = [width - 1 for width in widths] if self.loose else [*widths[1:], 0]
            once = self.longer is not None
            useful = [sum(part.most for part in pieces if part.across > least) + once for least in under]
            try:
                possible = [
                    Ripped(kind, tuple(widths), counts, offcut)
                    for width, offcut in rooms
                    for counts in layouts(widths, useful, width, whole.kerf, self.cap)
                ]
            except TooMany:
                self.exact, group = False, group * 2
            else:
                return widths, {self._add(layout): layout.counts for layout in possible}

    def _patterns(self, kind: int, length: int, pieces: list[StripPart]) -> tuple[dict[int, int], int]:
        """How much each pattern takes of such a clear length, and how much there is of it: one of one, or length."""
        kerf = self.whole.kerf
        try:
            possible = patterns(pieces, length, kerf, self.cap)
        except TooMany:
            self.exact = False
            if self.loose:
                loose = {self._add(self._single(kind, length, part)): part.length + kerf for part in pieces}
                return loose, length + kerf
            possible = some_patterns(pieces, length, kerf, self.cap)
        cross = [Cross(kind, length, pattern) for pattern in possible]
        if self.longer is not None and length > self.longer:
            cross += self._offcuts(kind, length, pieces, self.longer)
        return {self._add(cross): 1 for cross in cross}, 1

    def _single(self, kind: int, length: int, part: StripPart) -> Cross:
        return Cross(kind, length, Pattern(((part.part, 1),), part.across, length - part.length - self.whole.kerf))

    def _offcuts(self, kind: int, length: int, pieces: list[StripPart], longer: int) -> list[Cross]:
        """Patterns that leave more than `longer`, in a strip wide enough to keep."""
        whole = self.whole
        least = max(longer + 1, whole.keep)
        if whole.keep > whole.kinds[kind].width or least > length:
            return []
        room = length - least - whole.kerf
        try:
            possible = patterns(pieces, room, whole.kerf, self.cap, full=False)
        except TooMany:
            self.exact = False
            possible = some_patterns(pieces, room, whole.kerf, self.cap)
        behind = least + whole.kerf
        every = [
            Pattern(pattern.counts, max(pattern.across, whole.keep), pattern.rest + behind) for pattern in possible
        ]
        return [Cross(kind, length, pattern, pattern.rest) for pattern in every]

    def _cover(self) -> None:
        """What is wanted of every part comes out of some pattern."""
        rows: dict[int, dict[int, int]] = {part: {} for part in self.most}
        for place, column in enumerate(self.columns):
            if isinstance(column, Made):
                for part, count in Counter(self.whole.needs[column.needs[0]][column.way]).items():
                    rows[part][place] = -count
            elif isinstance(column, Cross):
                for part, count in column.pattern.counts:
                    rows[part][place] = count
        self.rows += [(row, 0, NO_LIMIT) for row in rows.values()]
