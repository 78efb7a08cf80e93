"""Records: classes that do not change, whose fields are their annotations; and named tuples.

They do what a frozen dataclass with fields by keyword does, but no code is generated for them: making a dataclass takes
half a millisecond, and a lookup makes dozens of these classes anew.
"""

from collections import namedtuple
from functools import cache
from types import FunctionType
from typing import TYPE_CHECKING, Any, ClassVar, Final, Self, dataclass_transform

if TYPE_CHECKING:
    from typing import Annotated as Annotated  # noqa: PLC0414  # for others to import, as the next
    from typing import NamedTuple as NamedTuple  # noqa: PLC0414
else:

    class Annotated:
        """typing's, as far as a record asks: that takes over ten times as long to make, and there are a thousand."""

        __slots__ = ("__metadata__", "__origin__")

        def __class_getitem__(cls, given: tuple[Any, ...]) -> Any:
            made = object.__new__(cls)
            made.__origin__, made.__metadata__ = given[0], given[1:]
            return made

    @cache
    def _standard(count: int) -> type:
        """The standard named tuple of so many fields, whose own code every other one of that many is made from."""
        return namedtuple("standard", [f"field{place}" for place in range(count)])

    class _Named(tuple):
        """What every named tuple does, by its fields."""

        __slots__ = ()
        _fields: ClassVar[tuple[str, ...]] = ()

        def __repr__(self) -> str:
            values = ", ".join(f"{name}={value!r}" for name, value in zip(self._fields, self, strict=True))
            return f"{type(self).__name__}({values})"

        def __getnewargs__(self) -> tuple[Any, ...]:
            return tuple(self)

        def _asdict(self) -> dict[str, Any]:
            return dict(zip(self._fields, self, strict=True))

        def _replace(self, /, **changes: Any) -> Self:
            made = tuple.__new__(type(self), map(changes.pop, self._fields, self))
            if changes:
                raise TypeError(f"{type(self).__qualname__} has no field {', '.join(changes)}")
            return made

    class _MakesNamedTuples(type):
        def __new__(cls, name: str, bases: tuple[type, ...], space: dict[str, Any]) -> type:
            if not bases:  # NamedTuple itself
                return type.__new__(cls, name, bases, space)
            # from Python 3.14 on annotations are worked out by the class alone
            kinds = space.get("__annotations__") or type(name, (), dict(space)).__annotations__
            names, standard = tuple(kinds), _standard(len(kinds))
            plain = standard.__new__
            code = plain.__code__.replace(co_varnames=("_cls", *names), co_qualname=f"{name}.__new__")
            defaults = {key: space[key] for key in names if key in space}
            getters = {key: standard.__dict__[place] for key, place in zip(names, standard._fields, strict=True)}
            new = FunctionType(code, plain.__globals__, "__new__", tuple(defaults.values()))
            own = {"__slots__": (), "_fields": names, "_field_defaults": defaults, "__match_args__": names}
            return type(name, (_Named,), {**space, **getters, **own, "__new__": new})

    class NamedTuple(metaclass=_MakesNamedTuples):
        """typing's, made in a quarter of the time and two fifths of the memory of the standard library's, as none
        compiles its own code; the annotations are checked by mypy alone. A start makes some sixty of them.
        """


MISSING: Final = object()  # the default of a field that must be given


class Declared(NamedTuple):
    """A field of a record as it is written in its class."""

    name: str
    type: Any
    default: Any


def _of_the_class(kind: Any) -> bool:
    return getattr(kind, "__origin__", None) is ClassVar


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Record:
    """The base of every record. Fields are given by name; equal records are of one class with equal fields.

    `ASIDE` names the fields that make no difference to that. TypeError for a field that there is not, or that is
    missing; AttributeError for a change.
    """

    ASIDE: ClassVar[tuple[str, ...]] = ()
    _fields: ClassVar[dict[str, Declared]] = {}
    _required: ClassVar[frozenset[str]] = frozenset()

    def __init_subclass__(cls) -> None:
        own = {
            name: Declared(name, kind, cls.__dict__.get(name, MISSING))
            for name, kind in cls.__annotations__.items()
            if not _of_the_class(kind)
        }
        cls._fields = {**cls._fields, **own}
        cls._required = frozenset(name for name, field in cls._fields.items() if field.default is MISSING)

    def __init__(self, **values: Any) -> None:
        fields = self._fields
        for name, value in values.items():
            if name not in fields:
                raise TypeError(f"{type(self).__qualname__} has no field {name}")
            object.__setattr__(self, name, value)
        if not self._required <= values.keys():
            missing = ", ".join(name for name in fields if name in self._required and name not in values)
            raise TypeError(f"{type(self).__qualname__} needs {missing}")

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__qualname__} does not change: {name}")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__qualname__} does not change: {name}")

    def _compared(self) -> tuple[Any, ...]:
        return tuple(getattr(self, name) for name in self._fields if name not in self.ASIDE)

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self._compared() == other._compared()

    def __hash__(self) -> int:
        return hash(self._compared())

    def __repr__(self) -> str:
        values = ", ".join(f"{name}={getattr(self, name)!r}" for name in self._fields)
        return f"{type(self).__qualname__}({values})"

    def _replace(self, **changes: Any) -> Self:
        """The same record with other values for some fields."""
        return type(self)(**{**{name: getattr(self, name) for name in self._fields}, **changes})


def fields(record: type[Record]) -> tuple[Declared, ...]:
    """The fields of a class of records, in order, those of its bases first."""
    return tuple(record._fields.values())
