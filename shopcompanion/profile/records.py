"""What a boat's profile holds. Pure data, declared like a calculator's inputs; lengths are millimetres.

Reading, the JSON Schema and the reference page derive from these declarations. `LOOSE` names the fields whose faults
cost only themselves; a fault in any other field leaves the whole record out, so that no sum is built on half of it.
"""

from typing import ClassVar

from .. import catalog
from ..beam.lists import Loads, Pushes, Supports
from ..beam.model import Load, Push, Support
from ..errors import InputFault, nearest, printable
from ..fields import Choice, Count, Length, Text
from ..lengths import DEFAULT_RULES, LONGEST, Rule, Unit
from ..quantities import Mass, Moment, SailArea, Wind
from ..record import Annotated, Record
from ..spar.along import Joint, Region, solid_places
from ..spar.body import Body
from ..spar.fitting import Fitting
from ..spar.kinds import SPARS
from ..spar.outline import LAWS, Outline
from ..spar.section import SECTIONS
from ..spar.staves import NUMBERS
from ..spar.tables import PUBLISHED
from ..timber.species import Own
from .fields import Day, Divided, Sizes, TableRows, Texts, Words
from .left_out import LeftOut
from .names import folded
from .shop import Shop
from .timber_records import OwnSpecies, Piece, Sold, Timber

FORMAT = 1


class Station(Record):
    """How thick the spar is at a distance from the heel; `depth` is the other way of an oval."""

    LOOSE: ClassVar[tuple[str, ...]] = ()
    at: Annotated[float, Length("Distance from the heel", at_least=0, at_most=LONGEST)]
    width: Annotated[float, Length("Width", above=0, at_most=2000)]
    depth: Annotated[float | None, Length("Depth of an oval", above=0, at_most=2000)] = None


class Solid(Record):
    """A stretch that a hollow spar, or one of staves, stays solid over beside its ends, joints and fittings."""

    LOOSE: ClassVar[tuple[str, ...]] = ()
    from_: Annotated[float, Length("From", at_least=0, at_most=LONGEST)]
    to: Annotated[float, Length("To", above=0, at_most=LONGEST)]


class Measured(Record):
    """What was measured on the spar itself: two to four widths round it, or its girth."""

    LOOSE: ClassVar[tuple[str, ...]] = ("when",)
    at: Annotated[float, Length("Distance from the heel", at_least=0, at_most=LONGEST)]
    widths: Annotated[
        tuple[float, ...] | None, Sizes("Widths, two to four ways round", above=0, at_most=2000, least=2, most=4)
    ] = None
    girth: Annotated[float | None, Length("Girth", above=0, at_most=7000)] = None
    when: Annotated[str | None, Day("Day")] = None


class _Kept:
    """Slots for what is worked out of a record when first asked for, and kept with it."""

    __slots__ = ("_body", "_outline")
    _body: Body
    _outline: Outline


class Spar(_Kept, Record):
    """A spar as it is to be: its outline from heel to head, what goes on it, and how far the work is."""

    LOOSE: ClassVar[tuple[str, ...]] = (
        "count", "kind", "species", "wall", "solid", "square_to", "square_run_out", "regions", "bow", "joints",
        "fittings", "log", "done", "supports", "loads", "push", "sail_area", "sail_from", "sail_to",
    )  # fmt: skip
    name: Annotated[str, Text("Name of the spar")]
    count: Annotated[int, Count("How many alike", at_least=1, at_most=50)] = 1
    kind: Annotated[str, Choice("Kind of spar", options=SPARS)] = "other"
    species: Annotated[str | None, Text("Timber")] = None
    length: Annotated[float, Length("Length", above=0, at_most=LONGEST)]
    section: Annotated[str, Choice("Section", options=SECTIONS)] = "round"
    wall: Annotated[float | None, Length("Wall where it is hollow; thickness of staves", above=0, at_most=1000)] = None
    staves: Annotated[int, Count("Staves, if it is made of them", at_least=NUMBERS[0], at_most=NUMBERS[-1])] = 8
    solid: Annotated[tuple[Solid, ...], TableRows("Solid there as well: blocks or plugs", of=Solid)] = ()
    law: Annotated[str, Choice("Law of the taper", options=LAWS)] = "straight"
    stations: Annotated[tuple[Station, ...], TableRows("Stations, heel to head", of=Station)]
    square_to: Annotated[float | None, Length("Stays square from the heel to", at_least=0, at_most=LONGEST)] = None
    square_run_out: Annotated[float, Length("The square runs out over", at_least=0, at_most=LONGEST)] = 0.0
    regions: Annotated[tuple[Region, ...], TableRows("Stretches of another section", of=Region)] = ()
    blank: Annotated[float | None, Length("Side of the blank", above=0, at_most=2000)] = None
    bow: Annotated[float | None, Length("Bow of the blank", at_least=0, at_most=500)] = None
    joints: Annotated[tuple[Joint, ...], TableRows("Joints", of=Joint)] = ()
    fittings: Annotated[tuple[Fitting, ...], TableRows("Fittings", of=Fitting)] = ()
    log: Annotated[tuple[Measured, ...], TableRows("What was measured", of=Measured)] = ()
    done: Annotated[tuple[str, ...], Words("Steps that are done")] = ()
    supports: Annotated[tuple[Support, ...] | None, Supports("Held at")] = None
    loads: Annotated[tuple[Load, ...] | None, Loads("Loads across it")] = None
    push: Annotated[tuple[Push, ...] | None, Pushes("Pushed along it")] = None
    sail_area: Annotated[float | None, SailArea("Sail that it carries", above=0)] = None
    sail_from: Annotated[float | None, Length("Sail, from", at_least=0, at_most=LONGEST)] = None
    sail_to: Annotated[float | None, Length("Sail, to", above=0, at_most=LONGEST)] = None

    def outline(self) -> Outline:
        """Widths along the spar. InputFault when the stations make no spar."""
        try:
            return self._outline
        except AttributeError:
            outline = self._along([(station.at, station.width) for station in self.stations])
            object.__setattr__(self, "_outline", outline)
            return outline

    def depth_outline(self) -> Outline | None:
        """Depths along an oval spar, None for any other. InputFault when the stations make no spar."""
        if self.section != "oval":
            return None
        return self._along([(station.at, station.depth or 0.0) for station in self.stations])

    def _along(self, sizes: list[tuple[float, float]]) -> Outline:
        if self.law in PUBLISHED:
            if len(sizes) != 1:
                raise InputFault(f"{self.law} takes one station, where the spar is thickest")
            return Outline.published(self.law, self.length, *sizes[0])
        return Outline(tuple(sizes), self.law)

    @property
    def square(self) -> Region | None:
        """The square heel that `square_to` says."""
        return (
            Region(from_=0.0, to=self.square_to, section="square", run_out=self.square_run_out)
            if self.square_to
            else None
        )

    def every_region(self) -> tuple[Region, ...]:
        """The stretches of another section, the square heel among them."""
        return (*((self.square,) if self.square else ()), *self.regions)

    def body(self) -> Body:
        """The spar as it is to be, whole. InputFault, with the key at fault, when it contradicts itself."""
        try:
            return self._body
        except AttributeError:
            solid = solid_places(self.outline().width_at, self.length, self.joints, self.fittings)
            body = Body(
                self.outline(),
                self.depth_outline(),
                self.section,
                self.wall or 0.0,
                self.every_region(),
                self.joints,
                self.fittings,
                (*solid, *((place.from_, place.to) for place in self.solid)),
                self.staves,
            )
            object.__setattr__(self, "_body", body)
            return body

    def stick(self, planing: float) -> float:
        """Side of the stick as it is sawn and glued: its blank, with the bow still to come out of it."""
        return (self.thickest + 2 * planing if self.blank is None else self.blank) + (self.bow or 0.0)

    @property
    def thickest(self) -> float:
        """The largest width or depth: the least square that the spar comes out of."""
        return max(max(station.width, station.depth or 0.0) for station in self.stations)


class Preset(Record):
    """A calculator as it was set up, for one spar or for any; `inputs` are the user's own texts."""

    LOOSE: ClassVar[tuple[str, ...]] = ("inputs",)
    calculator: Annotated[str, Choice("Calculator", options=catalog.NAMES)]
    name: Annotated[str, Text("Name of the preset")]
    spar: Annotated[str | None, Text("Spar")] = None
    inputs: Annotated[tuple[tuple[str, str], ...], Texts("Inputs")] = ()


class Head(Record):
    """The `[boat]` table of a profile."""

    LOOSE: ClassVar[tuple[str, ...]] = (
        "name", "units", "rule", "sail_area", "wind", "righting_moment", "crew", "sits_out", "effort_height", "tally",
    )  # fmt: skip
    name: Annotated[str, Text("Name of the boat")]
    units: Annotated[str, Choice("Units of bare numbers", options=("in", "mm"))]
    rule: Annotated[Rule | None, Divided("Rule")] = None
    sail_area: Annotated[float | None, SailArea("All sails together", above=0)] = None
    wind: Annotated[float | None, Wind("Wind that it is sailed in, most", above=0, at_most=60)] = None
    righting_moment: Annotated[float | None, Moment("Righting moment, most", above=0)] = None
    crew: Annotated[float | None, Mass("Crew", above=0)] = None
    sits_out: Annotated[float | None, Length("Crew sits out from the middle by", above=0, at_most=LONGEST)] = None
    effort_height: Annotated[
        float | None, Length("Sail's centre over that of the hull's side", above=0, at_most=LONGEST)
    ] = None
    tally: Annotated[tuple[str, ...], Words("Answers that are notched")] = ()


LOADING = ("sail_area", "wind", "righting_moment", "crew", "sits_out", "effort_height")  # of `[boat]`, for a load
TABLES: dict[str, type] = {"boat": Head, "shop": Shop}
ROWS: dict[str, type] = {
    "species": OwnSpecies, "spar": Spar, "piece": Piece, "timber": Timber, "yard": Sold, "preset": Preset,
}  # fmt: skip


class Boat(Record):
    """A boat: everything of the profile that could be used. With no name, `name` is empty."""

    ASIDE: ClassVar[tuple[str, ...]] = ("left_out",)
    name: str = ""
    units: Unit = "in"
    rule: Rule = DEFAULT_RULES["in"]
    sail_area: float | None = None  # m², of all sails; a spar's load comes of this and the five that follow
    wind: float | None = None
    righting_moment: float | None = None
    crew: float | None = None
    sits_out: float | None = None
    effort_height: float | None = None
    tally: tuple[str, ...] = ()  # answers that are notched, each in words, the oldest first
    shop: Shop = Shop()
    spars: tuple[Spar, ...] = ()
    presets: tuple[Preset, ...] = ()
    species: tuple[OwnSpecies, ...] = ()
    pieces: tuple[Piece, ...] = ()
    timbers: tuple[Timber, ...] = ()
    yard: tuple[Sold, ...] = ()
    left_out: tuple[LeftOut, ...] = ()

    @property
    def own(self) -> Own:
        """The boat's own timbers, for the sums."""
        return Own(tuple(timber.species for timber in self.species))

    def spar(self, name: str) -> Spar:
        """The spar of that name, in any case of letters. InputFault with the nearest name when there is none."""
        wanted = folded(name)
        for spar in self.spars:
            if folded(spar.name) == wanted:
                return spar
        names = [spar.name for spar in self.spars]
        for lost in self.left_out:
            if lost.table == "spar" and not lost.key and folded(lost.row) == wanted:
                raise InputFault(f"the spar '{lost.row}' is left out until this is mended: {lost.reason}")
        known = f"; there are {', '.join(names)}" if names else ", for none is in the profile"
        raise InputFault(f"no spar is called '{printable(name)}'{nearest(name, names) or known}")
