"""A spar as it lies before the maker: where it is square, eight-sided or round, and its sizes station by station."""

from collections.abc import Iterable
from functools import cached_property
from string import ascii_lowercase

from ..calculator import Column, Table
from ..errors import InputFault
from ..fields import Length, Text, Value
from ..lengths import Rule
from ..profile.records import Boat, Spar
from ..record import NamedTuple
from ..spar.along import Joint, Stretch
from ..spar.body import Body
from ..spar.fitting import Fitting
from ..spar.outline import Outline
from ..spar.section import ROUND, SIDES
from ..spar.tables import PUBLISHED
from .ask import Answered, SparJob, spelled

Row = dict[str, Value]
_SAME = 1e-6  # mm
_BESIDE = 1e-3  # mm; shorter than any stretch


class StationSize(NamedTuple):
    """How big the spar is one way at a station: across, each side of the centre line, off each face of the blank."""

    across: float
    half: float
    off: float
    by: Answered


class CardPlan:
    """What the order of work is made from. Everything is asked once, when it is first wanted."""

    def __init__(self, boat: Boat, spar: Spar, rule: Rule) -> None:
        self.job = SparJob(boat, spar, rule)
        self.spar, self.rule = spar, rule
        self.outline = spar.outline()
        self.depths = spar.depth_outline()
        self.oval = self.depths is not None

    @property
    def untapered(self) -> bool:
        return all(outline.widest - outline.narrowest < _SAME for outline in (self.outline, self.depths) if outline)

    @cached_property
    def body(self) -> Body:
        return self.spar.body()

    @cached_property
    def sides(self) -> int:
        """The most sides that the spar is finished with anywhere."""
        return max(stretch.sides[1] for stretch in self.body.stretches)

    @cached_property
    def kept(self) -> tuple[Stretch, ...]:
        """The stretches that keep more of their corners than the rest, from the heel."""
        return tuple(
            stretch for stretch in self.body.stretches if not stretch.runs_out and stretch.sides[0] < self.sides
        )

    @property
    def others(self) -> tuple[Stretch, ...]:
        """The stretches whose outside is another than that of the spar's section, from the heel."""
        own = SIDES.get(self.spar.section, ROUND)
        return tuple(stretch for stretch in self.body.stretches if not stretch.runs_out and stretch.sides[0] != own)

    @cached_property
    def run_outs(self) -> tuple[Stretch, ...]:
        """Where the number of sides changes, from the heel; at a shoulder it does so over no length."""
        stretches = []
        for before, stretch in zip((None, *self.body.stretches), self.body.stretches, strict=False):
            if before and before.headward != stretch.heelward:
                stretches.append(Stretch(stretch.start, stretch.start, before.headward, stretch.heelward))
            stretches.append(stretch)
        return tuple(stretch for stretch in stretches if stretch.sides[0] < stretch.sides[1])

    def full(self, sides: int) -> tuple[float, ...]:
        """The stations where the corners that go in making that many sides are cut all of the way."""
        return tuple(at for at in self.ats if self.body.corners_off(at, sides) == 1)

    @cached_property
    def widest_at(self) -> float:
        """Where the corners come off and the spar is largest."""
        return max(self.full(8) or self.ats, key=lambda at: (self.outline.width_at(at), -at))

    @cached_property
    def taper(self) -> Answered:
        return self.job.ask("taper", self.outline.widest_at, **self._blank(self.outline))

    def _blank(self, outline: Outline) -> dict[str, str]:
        """The blank one way, where an oval's is a rectangle: each way as the cutting plan has it."""
        planing = self.job.boat.shop.planing
        if not self.oval or self.spar.blank is not None or planing is None:
            return {}
        return {"blank": spelled(outline.widest + 2 * planing)}

    @property
    def of_staves(self) -> bool:
        return self.spar.section == "staves"

    def staves(self, at: float | None = None) -> Answered:
        """The ring at a station, or where the spar is widest."""
        return self.job.ask("staves", self.outline.widest_at if at is None else at)

    @property
    def blank(self) -> str:
        """The size of the blank in words, `a square of 3 in` or of an oval both ways; of staves, as they are ripped."""
        if self.of_staves:
            ring = self.staves()
            return f"{self.spar.staves} of {ring.brief('rip_width')} by {ring.brief('rip_thickness')}"
        sides = dict.fromkeys(taper.say("blank_side") for taper in (self.taper, self.taper_of_depth) if taper)
        if len(sides) == 1:
            return f"a square of {next(iter(sides))}"
        wide, deep = sides
        return f"{wide} across B and D, {deep} across A and C"

    @cached_property
    def taper_of_depth(self) -> Answered | None:
        """The same for an oval's depth, whose sizes are typed."""
        if self.depths is None:
            return None
        return self.job.ask("taper", self.depths.widest_at, **outline_texts(self.depths), **self._blank(self.depths))

    @cached_property
    def ats(self) -> tuple[float, ...]:
        """The stations of the table: every step of the rule, those of the profile, joints, both ends of run-outs."""
        ats = [row["at"] for row in self.taper.rows("stations") if isinstance(row["at"], float)]
        if self.spar.law in PUBLISHED:  # the stations that the table adds stand at odd places, and bend nothing
            step = self.taper["station_step"]
            ats = [at for at in ats if abs(at / step - round(at / step)) < _SAME]
        more = [
            0.0,
            self.spar.length,
            *(station.at for station in self.spar.stations),
            *(joint.at for joint in self.spar.joints),
        ]
        more += [end for stretch in self.run_outs for end in (stretch.start, stretch.end)]
        return tuple(sorted({round(at, 6) for at in (*ats, *more)}))

    @cached_property
    def lettered(self) -> tuple[tuple[str, Joint | Fitting], ...]:
        """Joints and fittings from the heel, each with the letter that stands for it in the drawing."""
        parts: list[Joint | Fitting] = [*self.spar.joints, *self.spar.fittings]
        parts.sort(key=self.middle)
        return tuple((ascii_lowercase[k] if k < 26 else "*", part) for k, part in enumerate(parts))

    def middle(self, part: Joint | Fitting) -> float:
        """Where a joint or the middle of a fitting lies: a fitting that would pass an end lies against that."""
        return part.middle(self.spar.length) if isinstance(part, Fitting) else part.at

    @cached_property
    def moved(self) -> tuple[Fitting, ...]:
        """The fittings that lie against an end, their middles elsewhere than the profile's station."""
        return tuple(fitting for fitting in self.spar.fittings if abs(self.middle(fitting) - fitting.at) > _BESIDE)

    def through(self, face: str) -> Outline:
        """The sizes through the spar from that face: of an oval the depths from A and C, else the widths."""
        return self.depths if self.depths and face in "AC" else self.outline

    def place(self, at: float | None) -> str:
        """A station in words; the ends by their names."""
        if not at:
            return "the heel"
        return "the head" if at >= self.spar.length - _SAME else self.job.length(at)

    def there(self, at: float) -> str:
        """A station in words behind a name, as `cleat 2 ft 9 in` or `step at the heel`."""
        place = self.place(at)
        return f"at {place}" if place.startswith("the ") else place

    def size(self, at: float) -> StationSize:
        """The width at a station: out of the table of `taper` if it has that row, else asked for."""
        return _size(self._rows, at, self.taper) or _asked(self.job.ask("taper", at, **self._blank(self.outline)))

    def depth(self, at: float) -> StationSize:
        """An oval's depth at a station. InputFault for a spar that is none."""
        if self.depths is None or self.taper_of_depth is None:
            raise InputFault("only an oval has a depth as well")
        size = _size(self._rows_of_depth, at, self.taper_of_depth)
        return size or _asked(self.job.ask("taper", at, **outline_texts(self.depths), **self._blank(self.depths)))

    def sizes(self, at: float) -> tuple[StationSize, ...]:
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
        """The stations where corners come off in making that many sides, from where each run-out begins or ends."""
        ends = {round(stretch.whole_at, 6) for stretch in self.run_outs if stretch.sides[0] < sides <= stretch.sides[1]}
        return tuple(at for at in self.ats if at in ends or self.body.corners_off(at, sides))

    def notes(self, at: float) -> str:
        """What is at a station: joints, fittings, the end of a stretch."""
        kinds = [
            part.kind for _, part in self.lettered if min(abs(part.at - at), abs(self.middle(part) - at)) < _BESIDE
        ]
        for stretch in self.kept:
            if abs(stretch.end - at) < _BESIDE < self.spar.length - at:
                kinds.append(f"{stretch.heelward} ends")
            if abs(stretch.start - at) < _BESIDE < at:
                kinds.append(f"{stretch.heelward} begins")
        for stretch in self.run_outs:
            if stretch.start < stretch.end and abs(stretch.full_at - at) < _BESIDE:
                kinds.append(f"run-out {'begins' if stretch.full_at == stretch.start else 'ends'}")
        return ", ".join(dict.fromkeys(kinds))

    @cached_property
    def stations(self) -> Table:
        """The table that hangs beside the work: sizes, what comes off, and the lines."""
        if self.of_staves:
            return self._of_rings
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
        lined = {sides: set(self.cornered(sides)) for _, _, sides in self._lines}
        for at in self.ats:
            row: list[Value] = [at]
            for size in self.sizes(at):
                row += [size.across, size.half, size.off]
            for name, _, sides in self._lines:
                if self.sides >= sides:
                    row.append(self.facets(at)[name] if at in lined[sides] else None)
            rows.append((*row, self.notes(at) or None) if notes else tuple(row))
        return Table("stations", tuple(columns), tuple(rows))

    @property
    def _of_rings(self) -> Table:
        """The same of a spar of staves, which has no blank to take anything off."""
        columns = [
            Column("at", Length("Station")),
            Column("width", Length("Width")),
            Column("stave", Length("Stave")),
            Column("off_plain", Length("Off the plain edge")),
            Column("line", Length(f"Line for {2 * self.spar.staves}")),
        ]
        widest = self.staves()["widest_stave"]
        notes = any(map(self.notes, self.ats))
        columns += [Column("note", Text("There"))] if notes else []
        rows = []
        for at in self.ats:
            ring = self.staves(at)
            off = max(0.0, widest - ring["stave_width"])
            row = (at, self.size(at).across, ring["stave_width"], off, ring["line_next"])
            rows.append((*row, self.notes(at) or None) if notes else row)
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


def _size(rows: dict[float, Row], at: float, by: Answered) -> StationSize | None:
    row = rows.get(round(at, 6))
    return StationSize(row["width"], row["half"], row["off_each_face"], by) if row else None  # type: ignore[arg-type]  # floats


def _asked(taper: Answered) -> StationSize:
    return StationSize(taper["width_at"], taper["half_at"], taper["off_each_face"], taper)


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
