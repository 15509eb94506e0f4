"""Records behave as the standard library's frozen dataclasses do, whose methods they make only when they are needed."""

import copy
import dataclasses
import importlib
import inspect
import pickle
import pkgutil
from collections.abc import Hashable
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, is_dataclass, replace
from typing import Any, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

import planner
from planner import records


class Slotted:
    __slots__ = ()

    def __post_init__(self) -> None:
        if getattr(self, "width", 0) < 0:
            raise ValueError("a width is more than nothing")


def tee(declare: Any) -> Any:
    """The same record, declared either way."""

    @declare(frozen=True, slots=True)
    class Tee(Slotted):
        """A tee."""

        name: str
        width: float
        notes: tuple[str, ...] = ()
        holes: dict[str, int] = field(default_factory=dict, compare=False)
        colour: str = field(default="white", hash=False)
        hidden: int = field(default=3, repr=False)
        counted: int = field(init=False, default=7)

        @property
        def half(self) -> float:
            return self.width / 2

    return Tee


Ours, Theirs = tee(records.dataclass), tee(dataclass)


@records.dataclass(frozen=True, slots=True)
class Main:
    """A main tee."""

    length: float
    at: tuple[float, float] = (0.0, 0.0)


@records.dataclass(frozen=True, slots=True)
class Slotless(Main):
    """A main tee with more to it."""

    slots: int = 0


@records.dataclass(frozen=True, slots=True, eq=False)
class Unlike:
    length: float


@records.dataclass(frozen=True, slots=True)
class Own:
    """What a class says itself stands."""

    length: float

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Own)

    def __repr__(self) -> str:
        return "own"


@records.dataclass(frozen=True, slots=True)
class Nothing:
    pass


texts, numbers = st.text(max_size=5), st.floats(0, 1e6)
given_tees = st.tuples(texts, numbers, st.lists(texts, max_size=2).map(tuple), st.just({}), st.sampled_from("ab"))


@given(given_tees, given_tees)
def test_a_record_compares_hashes_and_shows_itself_as_the_librarys_does(one: Any, other: Any) -> None:
    assert (Ours(*one) == Ours(*other)) == (Theirs(*one) == Theirs(*other))
    assert (Ours(*one) != Ours(*other)) == (Theirs(*one) != Theirs(*other))
    assert hash(Ours(*one)) == hash(Theirs(*one))
    assert repr(Ours(*one)) == repr(Theirs(*one))
    assert asdict(Ours(*one)) == asdict(Theirs(*one))


def test_a_record_is_no_other_kind_of_record() -> None:
    assert Ours("A", 1.0) != Theirs("A", 1.0)
    assert Main(1.0) != Slotless(1.0)


def test_a_record_is_made_as_the_librarys_is() -> None:
    ours, theirs = inspect.signature(Ours).parameters, inspect.signature(Theirs).parameters
    assert list(ours) == list(theirs)
    assert get_type_hints(Ours.__init__) == get_type_hints(Theirs.__init__)
    assert Ours.__init__.__qualname__ == "tee.<locals>.Tee.__init__"
    assert Ours.__match_args__ == Theirs.__match_args__
    assert [f.name for f in fields(Ours)] == [f.name for f in fields(Theirs)]
    assert Ours.__slots__ == Theirs.__slots__ and not hasattr(Ours("A", 1.0), "__dict__")
    assert is_dataclass(Ours)
    with pytest.raises(TypeError, match="missing 1 required positional argument: 'width'"):
        Ours("A")
    with pytest.raises(TypeError, match="unexpected keyword argument 'counted'"):
        Ours("A", 1.0, counted=3)
    with pytest.raises(ValueError, match="more than nothing"):
        Ours("A", -1.0)


def test_each_record_has_a_default_of_its_own() -> None:
    one, other = Ours("A", 1.0), Ours("B", 1.0)
    one.holes["left"] = 1
    assert other.holes == {}
    assert one.counted == 7 and one.hidden == 3


def test_a_record_does_not_change() -> None:
    one = Ours("A", 1.0)
    for name in ("width", "half", "other"):
        with pytest.raises(FrozenInstanceError, match=f"cannot assign to field '{name}'"):
            setattr(one, name, 2.0)
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'width'"):
        del one.width
    assert one.width == 1.0
    assert replace(one, width=2.0).width == 2.0


def test_a_record_goes_to_another_process_and_back() -> None:
    main = Slotless(3600.0, (1.0, 2.0), 6)
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(main, protocol)) == main
    assert copy.deepcopy(main) == main and copy.copy(main) == main


def test_a_record_may_be_more_of_another() -> None:
    main = Slotless(3600.0, slots=6)
    assert (main.length, main.at, main.slots) == (3600.0, (0.0, 0.0), 6)
    assert isinstance(main, Main) and len({main, Slotless(3600.0, slots=6), Main(3600.0)}) == 2
    match main:
        case Slotless(length, _, slots):
            assert (length, slots) == (3600.0, 6)


def test_what_a_class_says_itself_stands() -> None:
    assert Own(1.0) == Own(2.0) and repr(Own(1.0)) == "own"
    assert hash(Own(1.0)) == hash((1.0,))  # as in the library: a frozen one keeps a hash beside an equality of its own
    assert Unlike(1.0) != Unlike(1.0) and len({Unlike(1.0), Unlike(1.0)}) == 2
    assert isinstance(Unlike(1.0), Hashable)
    assert Nothing() == Nothing() and hash(Nothing()) == hash(()) and repr(Nothing()) == "Nothing()"


@given(st.builds(Main))
def test_records_are_built_from_their_annotations(main: Main) -> None:
    assert isinstance(main.length, float)


def test_records_of_other_kinds_are_the_librarys_own() -> None:
    @records.dataclass(slots=True)
    class Bench:
        height: int = 3

    @records.dataclass
    class Plain:
        height: int = 3

    bench, plain = Bench(), Plain()
    bench.height = plain.height = 4
    assert bench == Bench(4) and plain == Plain(4)


def every_record() -> list[type]:
    found = dict[str, type]()
    for module in pkgutil.walk_packages(planner.__path__, "planner."):
        if module.name != "planner.__main__":
            for name, thing in vars(importlib.import_module(module.name)).items():
                if inspect.isclass(thing) and is_dataclass(thing) and thing.__module__.startswith("planner"):
                    found[f"{thing.__module__}.{name}"] = thing
    return list(found.values())


def test_methods_of_every_record_of_the_house_compile_and_take_its_fields() -> None:
    """The library would say at once that a field without a default follows one with it; here it is said now."""
    every = every_record()
    assert len(every) > 250
    for cls in every:
        assert list(inspect.signature(cls.__init__).parameters)[1:] == [
            f.name for f in dataclasses.fields(cls) if f.init
        ]
        assert cls.__eq__ is not None and (cls.__hash__ is None or callable(cls.__hash__))
