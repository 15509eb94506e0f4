"""How records are declared: `dataclass` of the standard library, but methods of frozen ones are made at first use.

The library writes and compiles the methods of every dataclass while its module is loaded. For the three hundred frozen
records of this house that takes as long as the plan of a small room, and most of the methods are never called. Here
the library still finds fields, defaults and slots, so that `fields`, `replace`, `asdict` and `match` work as ever; what
shows, keeps and pickles a record is shared, and what makes, compares and hashes it is compiled when it is first asked
for. Type checkers see the library's own `dataclass`.
"""

import dataclasses
import sys
from collections.abc import Callable, Iterable
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any, NoReturn

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(
        cls: type | None = None, /, *, frozen: bool = False, slots: bool = False, eq: bool = True, **more: bool
    ) -> Any:
        """Declare a record; any but a frozen one with slots is declared by the standard library alone."""
        if more or not (frozen and slots):
            return dataclasses.dataclass(cls, frozen=frozen, slots=slots, eq=eq, **more)
        return _Declared(eq) if cls is None else _Declared(eq)(cls)


class _Declared:
    """Gives a class the ways of a frozen record."""

    def __init__(self, eq: bool) -> None:
        self._compared = eq

    def __call__(self, plain: type) -> type:
        own = {name for name, value in vars(plain).items() if value is not None}  # what a class says itself, stands
        cls: type = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True)(plain)
        for name, method in _SHARED.items():
            if name not in own:
                setattr(cls, name, method)
        for name, written in _WRITTEN.items():
            if name not in own and (self._compared or name == "__init__"):
                setattr(cls, name, _Unmade(cls, name, written))
        return cls


class _Unmade:
    """Stands for a method of a record until someone asks for it."""

    def __init__(self, cls: type, name: str, written: Callable[[type], "_Source"]) -> None:
        self._of, self._name, self._written = cls, name, written

    def __get__(self, record: Any, _: type) -> Any:
        made = self._compiled()
        setattr(self._of, self._name, made)
        return made if record is None else made.__get__(record)

    def _compiled(self) -> Any:
        takes, does, known, annotations = self._written(self._of)
        source = f"def make({', '.join(known)}):\n def method({', '.join(takes)}):\n  {does}\n return method"
        local: dict[str, Callable[..., Any]] = {}
        exec(source, vars(sys.modules[self._of.__module__]), local)  # annotations are looked up in the record's module
        method = local["make"](**known)
        method.__name__, method.__qualname__ = self._name, f"{self._of.__qualname__}.{self._name}"
        method.__annotations__ = annotations
        return method


#: What a method takes, its body, names that it knows beside those of its module, and annotations.
_Source = tuple[list[str], str, dict[str, Any], dict[str, Any]]
_ANEW: Any = object()  #: the default of what is made anew for each record


def _init(cls: type) -> _Source:
    """Each value goes straight into its slot."""
    takes, does, known = ["self"], list[str](), {"_anew": _ANEW}
    for field in dataclasses.fields(cls):
        name, given = field.name, field.name
        known[f"_set_{name}"] = getattr(cls, name).__set__
        if field.default_factory is not dataclasses.MISSING:
            known[f"_make_{name}"] = field.default_factory
            given = f"_make_{name}() if {name} is _anew else {name}" if field.init else f"_make_{name}()"
            takes += [f"{name}=_anew"] if field.init else []
        elif field.default is not dataclasses.MISSING:
            known[f"_usual_{name}"] = field.default
            given = name if field.init else f"_usual_{name}"
            takes += [f"{name}=_usual_{name}"] if field.init else []
        elif field.init:
            takes.append(name)
        else:
            continue  # the record sets it when all else is there
        does.append(f"_set_{name}(self, {given})")
    if hasattr(cls, "__post_init__"):
        does.append("self.__post_init__()")
    annotations = {field.name: field.type for field in dataclasses.fields(cls) if field.init}
    return takes, "\n  ".join(does or ["pass"]), known, {**annotations, "return": None}


def _equal(cls: type) -> _Source:
    names = [field.name for field in dataclasses.fields(cls) if field.compare]
    same = f"{_values('self', names)} == {_values('other', names)}"
    return ["self", "other"], f"return {same} if other.__class__ is self.__class__ else NotImplemented", {}, {}


def _hash(cls: type) -> _Source:
    names = [field.name for field in dataclasses.fields(cls) if (field.compare if field.hash is None else field.hash)]
    return ["self"], f"return hash({_values('self', names)})", {}, {}


def _values(record: str, names: Iterable[str]) -> str:
    """A tuple of them, as text."""
    return f"({''.join(f'{record}.{name}, ' for name in names)})"


@recursive_repr()
def _shown(self: Any) -> str:
    shown = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in dataclasses.fields(self) if each.repr)
    return f"{self.__class__.__qualname__}({shown})"


def _kept(self: Any, name: str, value: Any) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _left(self: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, each.name) for each in dataclasses.fields(self)]


def _restored(self: Any, state: list[Any]) -> None:
    for each, value in zip(dataclasses.fields(self), state, strict=True):
        object.__setattr__(self, each.name, value)


_SHARED: dict[str, Callable[..., Any]] = {
    "__repr__": _shown,
    "__setattr__": _kept,
    "__delattr__": _left,
    "__getstate__": _state,
    "__setstate__": _restored,
}
_WRITTEN: dict[str, Callable[[type], _Source]] = {"__init__": _init, "__eq__": _equal, "__hash__": _hash}
