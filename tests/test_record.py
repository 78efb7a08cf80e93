"""Records and named tuples, held against the standard library's frozen dataclasses and named tuples."""

import copy
import pickle
from dataclasses import dataclass, replace
from itertools import product
from typing import ClassVar
from typing import NamedTuple as StandardTuple

import pytest

from shopcompanion.record import MISSING, NamedTuple, Record, fields


class Plank(Record):
    LIMIT: ClassVar[int] = 3
    width: float
    length: float = 8.0


class Named(Plank):
    ASIDE = ("note",)
    name: str = ""
    length: float = 6.0
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Standard:
    width: float
    length: float = 8.0


GIVEN = ({"width": 1.0}, {"width": 1.0, "length": 8.0}, {"width": 1, "length": 2.0}, {"width": 2.0})


@pytest.mark.parametrize(("left", "right"), list(product(GIVEN, repeat=2)))
def test_equal_where_the_dataclass_is_and_then_of_one_hash(left: dict[str, float], right: dict[str, float]) -> None:
    ours, standard = (Plank(**left), Plank(**right)), (Standard(**left), Standard(**right))
    assert (ours[0] == ours[1]) == (standard[0] == standard[1])
    assert (hash(ours[0]) == hash(ours[1])) == (hash(standard[0]) == hash(standard[1]))
    changed, as_standard = ours[0]._replace(**right), replace(standard[0], **right)
    assert (changed.width, changed.length) == (as_standard.width, as_standard.length)
    assert repr(ours[0]) == repr(standard[0]).replace("Standard", "Plank")


def test_a_record_is_none_of_another_class() -> None:
    assert Plank(width=1.0, length=6.0) != Named(width=1.0)
    assert Plank(width=1.0) != Standard(width=1.0)


def test_fields_of_the_bases_come_first_and_keep_their_place() -> None:
    assert [(field.name, field.default) for field in fields(Named)] == [
        ("width", MISSING), ("length", 6.0), ("name", ""), ("note", ""),
    ]  # fmt: skip
    assert [field.default for field in fields(Plank)] == [MISSING, 8.0]
    assert Named(width=1.0, note="a") == Named(width=1.0, note="b") != Named(width=1.0, name="c")


def test_what_is_missing_or_unknown_is_named() -> None:
    with pytest.raises(TypeError, match="Plank needs width"):
        Plank(length=2.0)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="Plank has no field LIMIT"):
        Plank(width=1.0, LIMIT=3)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="Plank has no field girth"):
        Plank(width=1.0)._replace(girth=2.0)


def test_it_does_not_change_and_is_copied_and_pickled_whole() -> None:
    plank = Named(width=1.5, name="sheer")
    with pytest.raises(AttributeError, match="Named does not change: width"):
        plank.width = 2.0  # type: ignore[misc]
    with pytest.raises(AttributeError, match="Named does not change: width"):
        del plank.width
    for twin in (copy.copy(plank), copy.deepcopy(plank), pickle.loads(pickle.dumps(plank))):
        assert twin == plank
        assert twin.length == 6.0


class Batten(NamedTuple):
    """A strip of wood."""

    width: float
    length: float = 8.0
    note: str = ""

    @property
    def area(self) -> float:
        return self.width * self.length

    @classmethod
    def square(cls, width: float) -> "Batten":
        return cls(width, width)

    def __str__(self) -> str:
        return f"{self.width} x {self.length}"


class StandardBatten(StandardTuple):
    """A strip of wood."""

    width: float
    length: float = 8.0
    note: str = ""


@pytest.mark.parametrize("given", [(1.0,), (1.0, 2.0), (3, 4.0, "planed")])
def test_a_named_tuple_is_as_the_standard_one(given: tuple[float, ...]) -> None:
    ours, standard = Batten(*given), StandardBatten(*given)  # type: ignore[arg-type]
    assert ours == standard == tuple(standard)
    assert hash(ours) == hash(standard)
    assert repr(ours) == repr(standard).replace("StandardBatten", "Batten")
    assert ours._asdict() == standard._asdict()
    assert ours._replace(note="sawn") == standard._replace(note="sawn")
    for what in ("_fields", "_field_defaults", "__annotations__", "__doc__", "__module__", "__match_args__"):
        assert getattr(Batten, what) == getattr(StandardBatten, what)
    assert pickle.loads(pickle.dumps(ours)) == copy.copy(ours) == ours
    assert isinstance(pickle.loads(pickle.dumps(ours)), Batten)


def test_a_named_tuple_has_its_own_ways() -> None:
    assert (Batten(2.0).area, Batten.square(3.0), str(Batten(2.0))) == (16.0, Batten(3.0, 3.0), "2.0 x 8.0")
    assert isinstance(Batten(2.0), tuple)
    with pytest.raises(AttributeError):
        Batten(2.0).width = 3.0  # type: ignore[misc]
    with pytest.raises(TypeError, match="width"):
        Batten()  # type: ignore[call-arg]
