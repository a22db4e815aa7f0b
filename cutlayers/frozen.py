"""Small values that never change: frozen dataclasses with slots, quick to declare.

Python writes and compiles six methods for every frozen dataclass; a command that loads two hundred
of them spent more time on that than on its job. Here `__init__` alone is compiled for each class,
when its first value is made, and all share the rest. To `dataclasses.replace`, `fields` and
`asdict`, to type checkers and to pickle a value is a dataclass like any other.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from types import MemberDescriptorType
from typing import Any, NoReturn, TypeVar, dataclass_transform, overload

Class = TypeVar("Class", bound=type)


@overload
def frozen(cls: Class) -> Class: ...


@overload
def frozen(*, kw_only: bool = False, slots: bool = True) -> Callable[[Class], Class]: ...


@dataclass_transform(frozen_default=True, field_specifiers=(dataclasses.field,))
def frozen(cls: Any = None, *, kw_only: bool = False, slots: bool = True) -> Any:
    """Make a class of annotated fields a frozen value.

    It does what `dataclass(frozen=True, slots=True)` does: values are equal, and have the same
    hash, where all fields that `compare` are. With `slots=False` it can keep cached properties.
    Raises SyntaxError for a field without a default after one with it. A value that is changed
    raises FrozenInstanceError.
    """

    def made(declared: type) -> type:
        declare = dataclasses.dataclass(
            init=False, repr=False, eq=False, kw_only=kw_only, slots=slots
        )
        cls: type = declare(declared)
        fields = dataclasses.fields(cls)
        _check_order(cls, fields)
        own = {
            "__init__": _init_when_used(cls, fields),
            "__signature__": _Signature(),
            **_comparing([field.name for field in fields if field.compare]),
            "_fields": tuple(field.name for field in fields),
            "_shown": tuple(field.name for field in fields if field.repr),
        }
        for name, method in {**_SHARED, **own}.items():
            if name not in vars(declared):
                setattr(cls, name, method)
        return cls

    return made if cls is None else made(cls)


def _check_order(cls: type, fields: tuple[dataclasses.Field[Any], ...]) -> None:
    optional = False
    for field in fields:
        if not field.init or field.kw_only:
            continue
        given = field.default is field.default_factory is dataclasses.MISSING
        if given and optional:
            raise SyntaxError(f"{cls.__qualname__}.{field.name} without a default follows one with")
        optional = optional or not given


def _init_when_used(cls: type, fields: tuple[dataclasses.Field[Any], ...]) -> Any:
    """Stands for `__init__` until the first value is made: of many classes none ever is."""

    def __init__(self: Any, *args: Any, **named: Any) -> None:  # noqa: N807
        init = _init(cls, fields)
        if vars(cls)["__init__"] is __init__:
            cls.__init__ = init  # type: ignore[misc]
        init(self, *args, **named)

    return __init__


class _Signature:
    """The parameters of a class, for help and editors."""

    def __get__(self, _: object, cls: type) -> Any:
        from inspect import signature

        of_init = signature(_init(cls, dataclasses.fields(cls)))
        return of_init.replace(parameters=list(of_init.parameters.values())[1:])


def _init(cls: type, fields: tuple[dataclasses.Field[Any], ...]) -> Any:
    """The one method that differs in more than its fields' names."""
    known: dict[str, Any] = {"put": object.__setattr__, "MISSING": dataclasses.MISSING}
    words = ["self"]
    named: list[str] = []
    body: list[str] = []
    for field in fields:
        name, made, default = field.name, f"make_{field.name}()", f"default_{field.name}"
        known |= {f"make_{name}": field.default_factory, default: field.default}
        has_factory = field.default_factory is not dataclasses.MISSING
        if field.init:
            optional = has_factory or field.default is not dataclasses.MISSING
            word = f"{name}={default}" if optional else name
            (named if field.kw_only else words).append(word)
        if not field.init:
            content = made if has_factory else default
        else:
            content = f"{made} if {name} is MISSING else {name}" if has_factory else name
        slot = getattr(cls, name, None)
        if isinstance(slot, MemberDescriptorType):  # its own setter is the quickest
            known[f"put_{name}"] = slot.__set__
            body.append(f"put_{name}(self, {content})")
        else:
            body.append(f"put(self, {name!r}, {content})")
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    parameters = ", ".join([*words, *(["*", *named] if named else [])])
    exec(f"def __init__({parameters}):\n  " + "\n  ".join(body or ["pass"]), known)
    known["__init__"].__qualname__ = f"{cls.__qualname__}.__init__"
    return known["__init__"]


def _comparing(names: list[str]) -> dict[str, Any]:
    """Equality and hash by these fields."""

    def one_by_one(one: Any) -> tuple[Any, ...]:
        return tuple(getattr(one, name) for name in names)

    # Of several names it gives a tuple, of one the content itself.
    compared = attrgetter(*names) if len(names) > 1 else one_by_one

    def __eq__(self: Any, other: object) -> Any:  # noqa: N807
        if other.__class__ is not self.__class__:
            return NotImplemented
        return compared(self) == compared(other)

    def __hash__(self: Any) -> int:  # noqa: N807
        return hash(compared(self))

    return {"__eq__": __eq__, "__hash__": __hash__}


def _repr(self: Any) -> str:
    shown = ", ".join(f"{name}={getattr(self, name)!r}" for name in self._shown)
    return f"{self.__class__.__qualname__}({shown})"


def _refuse(self: Any, name: str, *_: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"a {type(self).__name__} never changes: {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in self._fields]


def _set_state(self: Any, state: list[Any]) -> None:
    for name, content in zip(self._fields, state, strict=True):
        object.__setattr__(self, name, content)


_SHARED = {
    "__repr__": _repr,
    "__setattr__": _refuse,
    "__delattr__": _refuse,
    "__getstate__": _state,
    "__setstate__": _set_state,
}
