"""A spar as it lies before the maker: where it is square, eight-sided or round, and its sizes station by station."""

from collections.abc import Iterable
from functools import cached_property
from string import ascii_lowercase
from typing import NamedTuple

from ..boat.model import Boat, Fitting, Joint, Spar
from ..calculator import Column, Table
from ..errors import InputFault
from ..fields import Length, Text, Value
from ..lengths import Rule
from ..spar.outline import Outline
from ..spar.tables import PUBLISHED
from .ask import Answered, Job, spelled

Row = dict[str, Value]
SIDES = {"square": 4, "eight": 8}  # of a section with corners
ROUND = 1000  # sides of one without
_SAME = 1e-6  # mm
_BESIDE = 1e-3  # mm; shorter than any stretch


class Stretch(NamedTuple):
    """A part of the spar with a section of its own, its corners dying out over `run_out` beyond its ends."""

    start: float
    stop: float
    section: str
    run_out: float

    @property
    def sides(self) -> int:
        return SIDES.get(self.section, ROUND)


class Boundary(NamedTuple):
    """Where the spar goes over from `fewer` sides to `more`, or the other way, and over what length."""

    at: float
    fewer: int
    more: int
    run_out: float


class Size(NamedTuple):
    """How big the spar is one way at a station: across, each side of the centre line, off each face of the blank."""

    across: float
    half: float
    off: float
    by: Answered


class Plan:
    """What the order of work is made from. Everything is asked once, when it is first wanted."""

    def __init__(self, boat: Boat, spar: Spar, rule: Rule) -> None:
        self.job = Job(boat, spar, rule)
        self.spar, self.rule = spar, rule
        self.outline = spar.outline()
        self.depths = spar.depth_outline()
        self.oval = self.depths is not None

    @property
    def untapered(self) -> bool:
        return all(one.widest - one.narrowest < _SAME for one in (self.outline, self.depths) if one)

    @cached_property
    def sides(self) -> int:
        """The most sides that the spar is finished with anywhere."""
        return max(map(self.sides_at, self.ats))

    @property
    def _of_section(self) -> int:
        return SIDES.get(self.spar.section, ROUND)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The stretches that keep more of their corners than the rest, from the heel."""
        found = [Stretch(one.from_, one.to, one.section, one.run_out) for one in self.spar.regions]
        if self.spar.square_to:
            found.append(Stretch(0.0, self.spar.square_to, "square", self.spar.square_run_out))
        return tuple(sorted(one for one in found if one.sides < self._of_section))

    def sides_at(self, at: float) -> int:
        """The sides it is finished with at a station; where two meet, those of the one with more."""
        beside = (max(at - _BESIDE, 0.0), min(at + _BESIDE, self.spar.length))
        return max(map(self._inside, beside))

    def _inside(self, at: float) -> int:
        return min((one.sides for one in self.stretches if one.start <= at <= one.stop), default=self._of_section)

    @cached_property
    def boundaries(self) -> tuple[Boundary, ...]:
        """Where the sides change, from the heel. Two that meet share the run-out of the one nearer the heel."""
        run_outs = {one.start: one.run_out for one in self.stretches}
        run_outs |= {one.stop: one.run_out for one in self.stretches}
        found = []
        for at in sorted(run_outs):
            if 0 < at < self.spar.length:
                fewer, more = sorted((self._inside(at - _BESIDE), self._inside(at + _BESIDE)))
                found.append(Boundary(at, fewer, more, run_outs[at]))
        return tuple(one for one in found if one.fewer < one.more)

    @cached_property
    def widest_at(self) -> float:
        """Where the corners come off and the spar is largest."""
        return max(self.ats, key=lambda at: (self.sides_at(at) > 4, self.outline.width_at(at), -at))

    @cached_property
    def taper(self) -> Answered:
        return self.job.ask("taper", self.outline.widest_at)

    @cached_property
    def taper_of_depth(self) -> Answered | None:
        """The same for an oval's depth, whose sizes are typed."""
        if self.depths is None:
            return None
        return self.job.ask("taper", self.depths.widest_at, **outline_texts(self.depths))

    @cached_property
    def ats(self) -> tuple[float, ...]:
        """The stations of the table: every step of the rule, those of the profile, joints, ends of stretches."""
        found = [row["at"] for row in self.taper.rows("stations") if isinstance(row["at"], float)]
        if self.spar.law in PUBLISHED:  # the stations that the table adds stand at odd places, and bend nothing
            step = self.taper["station_step"]
            found = [at for at in found if abs(at / step - round(at / step)) < _SAME]
        more = [0.0, self.spar.length, *(one.at for one in self.spar.stations), *(one.at for one in self.spar.joints)]
        more += [end for one in self.stretches for end in (one.start, one.stop) if 0 < end < self.spar.length]
        return tuple(sorted({round(at, 6) for at in (*found, *more)}))

    @cached_property
    def lettered(self) -> tuple[tuple[str, Joint | Fitting], ...]:
        """Joints and fittings from the heel, each with the letter that stands for it in the drawing."""
        found: list[Joint | Fitting] = [*self.spar.joints, *self.spar.fittings]
        found.sort(key=lambda one: one.at)
        return tuple((ascii_lowercase[k] if k < 26 else "*", one) for k, one in enumerate(found))

    def place(self, at: float | None) -> str:
        """A station in words; the ends by their names."""
        if not at:
            return "the heel"
        return "the head" if at >= self.spar.length - _SAME else self.job.length(at)

    def there(self, at: float) -> str:
        """A station in words behind a name, as `cleat 2 ft 9 in` or `step at the heel`."""
        found = self.place(at)
        return f"at {found}" if found.startswith("the ") else found

    def size(self, at: float) -> Size:
        """The width at a station: out of the table of `taper` if it has that row, else asked for."""
        return _size(self._rows, at, self.taper) or _asked(self.job.ask("taper", at))

    def depth(self, at: float) -> Size:
        """An oval's depth at a station. InputFault for a spar that is none."""
        if self.depths is None or self.taper_of_depth is None:
            raise InputFault("only an oval has a depth as well")
        found = _size(self._rows_of_depth, at, self.taper_of_depth)
        return found or _asked(self.job.ask("taper", at, **outline_texts(self.depths)))

    def sizes(self, at: float) -> tuple[Size, ...]:
        """The width at a station, and of an oval the depth."""
        return (self.size(at), self.depth(at)) if self.oval else (self.size(at),)

    @cached_property
    def _rows(self) -> dict[float, Row]:
        return _by_station(self.taper)

    @cached_property
    def _rows_of_depth(self) -> dict[float, Row]:
        return _by_station(self.taper_of_depth) if self.taper_of_depth else {}

    def facets(self, at: float) -> Answered:
        return self.job.ask("facets", at)

    def cornered(self, sides: int) -> tuple[float, ...]:
        """The stations where corners come off in going to `sides`."""
        return tuple(at for at in self.ats if self.sides_at(at) >= sides)

    def notes(self, at: float) -> str:
        """What is at a station: joints, fittings, the end of a stretch."""
        found = [one.kind for _, one in self.lettered if abs(one.at - at) < 1e-3]
        for one in self.stretches:
            if abs(one.stop - at) < 1e-3 < self.spar.length - at:
                found.append(f"{one.section} ends")
            if abs(one.start - at) < 1e-3 < at:
                found.append(f"{one.section} begins")
        return ", ".join(dict.fromkeys(found))

    @cached_property
    def stations(self) -> Table:
        """The table that hangs beside the work: sizes, what comes off, and the lines."""
        columns = [
            Column("at", Length("Station")),
            Column("width", Length("Width")),
            Column("half", Length("Each side of centre")),
            Column("off_each_face", Length("Off each face")),
        ]
        if self.oval:
            columns += [
                Column("depth", Length("Depth")),
                Column("half_depth", Length("Each side of centre")),
                Column("off_depth", Length("Off each face")),
            ]
        columns += [Column(name, Length(label)) for name, label, sides in self._lines if self.sides >= sides]
        notes = any(map(self.notes, self.ats))
        columns += [Column("note", Text("There"))] if notes else []
        rows = []
        for at in self.ats:
            row: list[Value] = [at]
            for size in self.sizes(at):
                row += [size.across, size.half, size.off]
            for name, _, sides in self._lines:
                if self.sides >= sides:
                    row.append(self.facets(at)[name] if self.sides_at(at) >= sides else None)
            rows.append((*row, self.notes(at) or None) if notes else tuple(row))
        return Table("stations", tuple(columns), tuple(rows))

    @property
    def _lines(self) -> tuple[tuple[str, str, int], ...]:
        if self.oval:
            return (("mark_8", "Line for 8, width", 8), ("mark_8_depth", "Line for 8, depth", 8))
        return (("mark_8", "Line for 8", 8), ("mark_16", "Line for 16", 16))

    def of_stations(self, *names: str, ats: Iterable[float] | None = None) -> Table:
        """The station table with these columns only, and only the rows of `ats`."""
        whole = self.stations
        kept = [place for place, column in enumerate(whole.columns) if column.name in names]
        wanted = set(self.ats if ats is None else ats)
        rows = tuple(tuple(row[place] for place in kept) for row in whole.rows if row[0] in wanted)
        return Table("stations", tuple(whole.columns[place] for place in kept), rows)


def _by_station(taper: Answered) -> dict[float, Row]:
    return {round(row["at"], 6): row for row in taper.rows("stations") if isinstance(row["at"], float)}


def _size(rows: dict[float, Row], at: float, by: Answered) -> Size | None:
    row = rows.get(round(at, 6))
    return Size(row["width"], row["half"], row["off_each_face"], by) if row else None  # type: ignore[arg-type]  # floats


def _asked(one: Answered) -> Size:
    return Size(one["width_at"], one["half_at"], one["off_each_face"], one)


def outline_texts(outline: Outline) -> dict[str, str]:
    """An outline as it is typed for `taper`."""
    texts = {
        "butt": spelled(outline.stations[0][1]),
        "head": spelled(outline.stations[-1][1]),
        "law": "faired" if outline.law in PUBLISHED else outline.law,  # its stations are given, and it is faired
    }
    if inner := outline.stations[1:-1]:
        texts["stations"] = "; ".join(f"{spelled(at)} = {spelled(width)}" for at, width in inner)
    return texts


def inside(outline: Outline, wall: float) -> Outline:
    """The outline of the bore of a hollow spar. InputFault where the walls meet.

    >>> inside(Outline(((0, 60), (2000, 40))), 12).widest
    36
    """
    if outline.narrowest <= 2 * wall:
        raise InputFault("a wall of {} leaves no hollow where the spar is {}", "wall", (wall, outline.narrowest))
    return Outline(
        tuple((at, width - 2 * wall) for at, width in outline.stations),
        "faired" if outline.law in PUBLISHED else outline.law,
    )
