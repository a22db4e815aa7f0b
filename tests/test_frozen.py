"""Frozen values do what the standard library's frozen dataclasses do."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
from collections.abc import Callable
from dataclasses import field
from functools import cached_property
from typing import Any

import pytest

from cutlayers.frozen import frozen


@frozen
class Point:
    """Two fields, one of them with a default."""

    x: float
    y: float = 0.0


@frozen
class Place(Point):
    """Inherits, fills a list anew each time, and leaves a note out of comparing."""

    names: list[str] = field(default_factory=list)
    note: str = field(default="", compare=False, repr=False)
    kept: dict[str, int] = field(default_factory=dict, init=False, repr=False, compare=False)


@frozen(kw_only=True)
class Named:
    """By name alone; checks and rounds what it is given."""

    size: float
    label: str = "none"

    def __post_init__(self) -> None:
        if self.size < 0:
            raise ValueError(self.size)
        object.__setattr__(self, "size", round(self.size, 1))


@frozen
class Empty:
    """Nothing at all."""


@frozen(slots=False)
class Worked:
    """Keeps what it works out."""

    size: int

    @cached_property
    def twice(self) -> list[int]:
        """Twice the size."""
        return [2 * self.size]


@frozen
class Own:
    """Methods of its own stay."""

    name: str

    def __repr__(self) -> str:
        return f"<{self.name}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Own) and other.name.lower() == self.name.lower()

    def __hash__(self) -> int:
        return hash(self.name.lower())


def standard(cls: type) -> Any:
    """The same fields as the standard library's dataclass."""
    fields = [
        (
            each.name,
            each.type,
            field(
                default=each.default,
                default_factory=each.default_factory,
                init=each.init,
                repr=each.repr,
                compare=each.compare,
            )
            if each.default_factory is dataclasses.MISSING or each.default is dataclasses.MISSING
            else field(),
        )
        for each in dataclasses.fields(cls)
    ]
    return dataclasses.make_dataclass(cls.__name__, fields, frozen=True)


CALLS: list[tuple[type, tuple[Any, ...], dict[str, Any]]] = [
    (Point, (1.0,), {}),
    (Point, (1.0, 2.0), {}),
    (Point, (), {"y": 3.0, "x": 1.0}),
    (Place, (1.0, 2.0, ["a"]), {"note": "n"}),
    (Place, (1.0,), {}),
    (Empty, (), {}),
    (Worked, (3,), {}),
]


@pytest.mark.parametrize(("cls", "given", "named"), CALLS)
def test_values_are_made_shown_and_told_apart_as_dataclasses_are(
    cls: type, given: tuple[Any, ...], named: dict[str, Any]
) -> None:
    """Source: Python's library reference, `dataclasses`; its own make_dataclass is the judge."""
    theirs = standard(cls)
    ours, other = cls(*given, **named), theirs(*given, **named)

    assert dataclasses.asdict(ours) == dataclasses.asdict(other)
    assert repr(ours) == repr(other)
    assert ours == cls(*given, **named)
    assert ours != other
    assert dataclasses.is_dataclass(cls)
    assert cls.__match_args__ == theirs.__match_args__  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Point(),  # type: ignore[call-arg]
        lambda: Point(1.0, 2.0, 3.0),  # type: ignore[call-arg]
        lambda: Point(1.0, z=3.0),  # type: ignore[call-arg]
        lambda: Named(1.0),  # type: ignore[call-arg]
        lambda: Place(1.0, kept={}),  # type: ignore[call-arg]
    ],
)
def test_what_no_field_takes_is_refused(wrong: Callable[[], object]) -> None:
    """As for any function."""
    with pytest.raises(TypeError):
        wrong()


def test_nothing_changes_a_value() -> None:
    """Neither a field nor another name can be set or deleted."""
    point = Point(1.0)

    with pytest.raises(dataclasses.FrozenInstanceError):
        point.x = 2.0  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError):
        del point.x
    with pytest.raises(dataclasses.FrozenInstanceError):
        point.z = 2.0  # type: ignore[attr-defined]
    assert point == Point(1.0)
    assert not hasattr(point, "__dict__")


def test_equality_and_hash_go_by_what_is_compared() -> None:
    """A note and what is kept make no difference; another class does."""
    assert Place(1.0, 2.0, note="a") == Place(1.0, 2.0, note="b")
    assert Place(1.0) != Point(1.0)
    assert hash(Point(1.0)) == hash(Point(1.0, 0.0))
    assert hash(Empty()) == hash(Empty())
    with pytest.raises(TypeError):
        hash(Place(1.0))
    assert float("nan") != float("nan")
    nan = float("nan")
    assert Point(nan) == Point(nan)


def test_each_value_has_a_list_of_its_own() -> None:
    """The factory is asked every time, for fields of the call and for others."""
    one, two = Place(1.0), Place(1.0)
    one.names.append("a")
    one.kept["a"] = 1

    assert (two.names, two.kept) == ([], {})
    assert Place(1.0, names=[]).names == []


def test_what_is_done_after_is_done() -> None:
    """Rounded, and refused where it is wrong; also when a value is replaced."""
    assert Named(size=1.26).size == 1.3
    assert dataclasses.replace(Named(size=1.26), label="b") == Named(size=1.3, label="b")
    with pytest.raises(ValueError, match="-1"):
        dataclasses.replace(Named(size=1.0), size=-1.0)


@pytest.mark.parametrize("one", [Point(1.0), Place(1.0, names=["a"]), Named(size=2.0), Worked(2)])
def test_copies_and_pickles_are_equal(one: object) -> None:
    """Kits hand values to other processes."""
    for other in (copy.copy(one), copy.deepcopy(one), pickle.loads(pickle.dumps(one))):
        assert other == one
        assert repr(other) == repr(one)


def test_a_value_without_slots_keeps_what_it_works_out() -> None:
    """Once, and it counts for nothing when values are compared."""
    one = Worked(2)

    assert one.twice is one.twice
    assert one == Worked(2)


def test_methods_of_its_own_stay() -> None:
    """Where a class says how it is shown or told apart."""
    assert (repr(Own("a")), Own("a") == Own("A"), hash(Own("a")) == hash(Own("A"))) == (
        "<a>",
        True,
        True,
    )


def test_a_field_with_a_default_comes_after_those_without() -> None:
    """As parameters of any function do."""
    with pytest.raises(SyntaxError, match="default"):

        @frozen
        class Wrong:
            first: int = 1
            second: int  # type: ignore[misc]


def test_help_and_editors_are_told_the_parameters_before_any_value_is_made() -> None:
    @frozen
    class Sheet:
        width: float
        name: str = "card"

    assert list(inspect.signature(Sheet).parameters) == ["width", "name"]
    assert inspect.signature(Sheet).parameters["name"].default == "card"
